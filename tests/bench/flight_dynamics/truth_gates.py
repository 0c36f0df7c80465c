"""The true state at each gate: medians of the 2 s before the wheels come down through it, and each margin."""

import numpy as np
from flight_dynamics.field import ELEVATION_FT, GLIDESLOPE_FT, LOCALISER_FT
from flight_dynamics.setting import RATE_HZ
from flight_dynamics.traces import Trace

_DOT_DEG = 0.35
SPEED = (-5.0, 15.0)
SINK_FPM = 1000.0
BANK_DEG = 30.0


def localiser_dots(trace: Trace) -> np.ndarray:
    """Deviation from the localiser, dots, positive right of course."""
    dot = np.degrees(np.arctan(350.0 / LOCALISER_FT)) / 2.0
    return np.degrees(np.arctan2(trace["y_ft"], LOCALISER_FT - trace["x_ft"])) / dot


def glideslope_dots(trace: Trace) -> np.ndarray:
    """Deviation from a three-degree glideslope, dots, positive above."""
    height = trace["altitude_ft"] - ELEVATION_FT
    ahead = np.maximum(GLIDESLOPE_FT - trace["x_ft"], 1.0)
    return (np.degrees(np.arctan2(height, ahead)) - 3.0) / _DOT_DEG


def gate_truth(trace: Trace, *, vref_kt: float, target_kt: float) -> dict[str, dict[str, float]]:
    """Margin of each criterion at each gate, positive where it is met; a gate the flight began below is absent."""
    height = trace["altitude_ft"] - ELEVATION_FT
    touched = np.flatnonzero(trace["mid_ft"] <= 0.0)
    end = int(touched[0]) if len(touched) else int(np.argmin(height))
    found = {}
    for gate in (1000.0, 500.0):
        above = height[:end] > gate
        falls = np.flatnonzero(above[:-1] & ~above[1:])
        if len(falls) and falls[-1] > 2.5 * RATE_HZ:
            look = slice(int(falls[-1]) - 2 * RATE_HZ, int(falls[-1]) + 1)
            found[f"gate_{gate:.0f}"] = _margins(trace, look, vref_kt=vref_kt, target_kt=target_kt)
    return found


def _margins(trace: Trace, look: slice, *, vref_kt: float, target_kt: float) -> dict[str, float]:
    speed = float(np.median(trace["airspeed_kt"][look]))
    sink = -60.0 * float(np.median(trace["climb_fps"][look]))
    return {
        "speed": min(speed - target_kt - SPEED[0], SPEED[1] - (speed - target_kt), speed - vref_kt),
        "sink": SINK_FPM - sink,
        "localiser": 1.0 - abs(float(np.median(localiser_dots(trace)[look]))),
        "glideslope": 1.0 - abs(float(np.median(glideslope_dots(trace)[look]))),
        "bank": BANK_DEG - float(np.abs(trace["roll_deg"][look]).max()),
        "speed_over_target_kt": speed - target_kt,
        "sink_fpm": sink,
    }

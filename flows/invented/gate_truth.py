"""A flown lane goes in; what is true of it at the approach gates comes out, told from the simulation itself."""

import numpy as np
from numpy.typing import NDArray

from flows.invented.airfields import Runway
from flows.invented.lane import Lane
from flows.invented.sensors import GLIDE_ANTENNA_M
from flows.invented.units import FPM, FT, KT

Floats = NDArray[np.float64]

GATES_FT = (1000, 500)
"""Heights above the threshold."""
BEFORE_S = 2.0
"""A gate is what was flown for so long before it."""


def gate_truth(lane: Lane, runway: Runway, *, read_share: float) -> dict[str, float]:
    """Airspeed as it is read, sink, bank and deviations at each gate the lane came down through; the rest is absent.

    Medians of the 2 s before the gate, of bank the largest. `read_share`: airspeed read over true airspeed.
    """
    height = lane.column("h") / FT + runway.slope_pct / 100.0 * lane.column("x") / FT
    end = int(np.searchsorted(lane.t, np.fmin(lane.contact_s, lane.go_s)))
    found: dict[str, float] = {}
    for gate in GATES_FT:
        above = height[:end] > gate
        falls = np.flatnonzero(above[:-1] & ~above[1:])
        if len(falls) and lane.t[falls[-1]] - BEFORE_S > lane.t[0]:
            at = lane.t[falls[-1]]
            seen = (lane.t > at - BEFORE_S) & (lane.t <= at)
            found |= {f"gate_{gate}_{name}": value for name, value in _seen(lane, runway, height, seen).items()}
            found[f"gate_{gate}_airspeed_kt"] *= read_share
    return found


def _seen(lane: Lane, runway: Runway, height: Floats, seen: NDArray[np.bool_]) -> dict[str, float]:
    x, y = lane.column("x")[seen] / FT, lane.column("y")[seen] / FT
    origin = runway.threshold_crossing_height_ft / np.tan(np.radians(runway.glidepath_deg))
    angle = np.degrees(np.arctan2(height[seen] + GLIDE_ANTENNA_M / FT, origin - x))
    course = np.arctan(y / (runway.localiser_antenna_ft - x)) / np.arctan(350.0 / runway.localiser_antenna_ft)
    return {
        "airspeed_kt": float(np.median(lane.column("airspeed")[seen]) / KT),
        "sink_fpm": float(-np.median(lane.column("w")[seen]) / FPM),
        "bank_deg": float(np.degrees(np.abs(lane.column("phi")[seen]).max())),
        "localiser_dots": float(2.0 * np.median(course)),
        "glideslope_dots": float((np.median(angle) - runway.glidepath_deg) / 0.35),
    }

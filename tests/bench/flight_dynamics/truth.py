"""What is true of one landing, from its noise-free trace: instants, contacts, place, speed, by the measures' own words.

Written without the measuring modules, so that a mistake there does not meet its own copy here. Values that did not
happen are NaN. Height is that of the midpoint of the main wheels less its value at first contact.
"""

from dataclasses import dataclass

import numpy as np
from flight_dynamics.setting import RATE_HZ
from flight_dynamics.traces import Trace
from flight_dynamics.truth_contacts import Contact, contact, rate_at, touches, zero
from flight_dynamics.truth_flare import flare_truth
from flight_dynamics.truth_gates import gate_truth
from numpy.typing import NDArray

Floats = NDArray[np.float64]

LONG_BOUNCE_S = 0.6
_STAYS_S = 0.1


@dataclass(frozen=True)
class Truth:
    """`values` by measure name (NaN: did not happen), `outcome`, and every contact."""

    values: dict[str, float]
    outcome: str
    contacts: tuple[Contact, ...]
    gate_margins: dict[str, dict[str, float]]


def truth_of(trace: Trace, *, vref_kt: float, target_kt: float) -> Truth:
    """Everything the rig can tell of one flight."""
    begun, left_s = touches(trace)
    gates = gate_truth(trace, vref_kt=vref_kt, target_kt=target_kt)
    if not begun:
        lowest = {"lowest_height_ft": float(trace["mid_ft"].min())}
        return Truth(lowest | _threshold(trace, trace["mid_ft"]), "go_around", (), gates)
    contacts = tuple(contact(trace, start, before) for before, start in zip([None, *begun], begun, strict=False))
    first = begun[0]
    values = {
        "contact_t_s": first,
        **_firmness(trace, contacts),
        **_attitude(trace, first),
        **_places(trace, first),
        **_rollout(trace, first),
        **flare_truth(trace, first),
    }
    outcome = _outcome(trace, first, left_s)
    count = [c.airtime_before_s for c in contacts[1:]]
    values["bounces"] = float(len(count))
    values["long_bounces"] = float(sum(airtime >= LONG_BOUNCE_S for airtime in count))
    values["longest_bounce_s"] = max(count, default=0.0)
    return Truth(values, outcome, contacts, gates)


def at(trace: Trace, name: str, t: float) -> float:
    """Value of a column at an instant, by linear interpolation."""
    return float(np.interp(t, trace.t, trace[name]))


def down_through(x: Floats, level: float, before: int) -> float:
    """Last instant, s, at which `x` comes down through a level before a sample; NaN where it does not."""
    above = x[:before] > level
    falls = np.flatnonzero(above[:-1] & ~above[1:])
    if not len(falls):
        return float("nan")
    i = int(falls[-1])
    return (i + (x[i] - level) / (x[i] - x[i + 1])) / RATE_HZ


def _firmness(trace: Trace, contacts: tuple[Contact, ...]) -> dict[str, float]:
    first = contacts[0].t_s
    left, right = trace["left_ft"], trace["right_ft"]
    i = int(np.floor(first * RATE_HZ)) + 1
    wheel = left if left[i] <= right[i] else right
    return {
        "vertical_speed_at_contact_fpm": contacts[0].vertical_speed_fpm,
        "earth_vertical_speed_at_contact_fpm": 60.0 * rate_at(trace["altitude_ft"], first),
        "touching_wheel_vertical_speed_fpm": 60.0 * rate_at(wheel, first),
        "peak_g": contacts[0].peak_g,
        "peak_g_firmest": max(c.peak_g for c in contacts),
    }


def _attitude(trace: Trace, first: float) -> dict[str, float]:
    return {
        "pitch_at_contact_deg": at(trace, "pitch_deg", first),
        "roll_at_contact_deg": at(trace, "roll_deg", first),
        "crab_at_contact_deg": at(trace, "heading_deg", first) - at(trace, "track_deg", first),
        "contact_airspeed_kt": at(trace, "airspeed_kt", first),
    }


def _places(trace: Trace, first: float) -> dict[str, float]:
    h = trace["mid_ft"] - at(trace, "mid_ft", first)
    sample = int(first * RATE_HZ) + 1
    fifty, ten = down_through(h, 50.0, sample), down_through(h, 10.0, sample)
    where = at(trace, "x_ft", first)
    return {
        "touchdown_distance_ft": where,
        "touchdown_lateral_ft": at(trace, "y_ft", first),
        "distance_from_50ft_ft": where - at(trace, "x_ft", fifty) if np.isfinite(fifty) else float("nan"),
        "float_time_s": first - ten,
        "float_distance_ft": where - at(trace, "x_ft", ten) if np.isfinite(ten) else float("nan"),
        **_threshold(trace, h),
    }


def _threshold(trace: Trace, h: Floats) -> dict[str, float]:
    """The state where the main wheels pass the threshold; NaN where they do not."""
    over = np.flatnonzero((trace["x_ft"][:-1] < 0.0) & (trace["x_ft"][1:] >= 0.0))
    i = int(over[0]) if len(over) else 0
    x = trace["x_ft"]
    crossing = (i - x[i] / (x[i + 1] - x[i])) / RATE_HZ if len(over) else float("nan")
    return {
        "threshold_height_ft": float(np.interp(crossing, trace.t, h)),
        "threshold_airspeed_kt": at(trace, "airspeed_kt", crossing),
        "threshold_sink_fpm": -60.0 * at(trace, "climb_fps", crossing),
        "threshold_lateral_ft": at(trace, "y_ft", crossing),
    }


def _rollout(trace: Trace, first: float) -> dict[str, float]:
    """Nose wheel contact that stays; a brush of less than a tenth of a second is none (our own choice)."""
    on = np.concatenate(([False], trace["nose_ft"] <= 0.0, [False]))
    begins, ends = np.flatnonzero(np.diff(on.astype(int)) == 1), np.flatnonzero(np.diff(on.astype(int)) == -1)
    stays = begins[(ends - begins >= _STAYS_S * RATE_HZ) & (begins > 0)]
    nose_s = zero(trace["nose_ft"], int(stays[0]) - 1) if len(stays) else float("nan")
    return {"nose_lag_s": nose_s - first}


def _outcome(trace: Trace, first: float, left_s: float | None) -> str:
    """By what the wheels did; a log that ends fast in the rollout is unfinished."""
    if left_s is not None and trace["mid_ft"][-1] > 50.0:
        return "touch_and_go" if left_s - first >= 3.0 else "rejected"
    final, landing = float(trace["ground_kt"][-1]), at(trace, "ground_kt", first)
    return "full_stop" if final < min(60.0, 0.7 * landing) else "unfinished"

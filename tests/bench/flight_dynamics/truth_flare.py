"""The true flare and thrust closing of one landing, measured on its noise-free trace.

The pilot's own start of the rotation says which rotation is meant; where it stands 0.3 deg above the line before it is
then measured, because the aircraft answers later than the hand moves.
"""

import numpy as np
from flight_dynamics.setting import RATE_HZ
from flight_dynamics.traces import Trace
from numpy.typing import NDArray

Floats = NDArray[np.float64]

STANDS_DEG = 0.3
_LINE_S = 5.0
_CLEAR_DEG = 0.7
"""A rise of this much above the line is a rotation; what never rises so far is a landing without a flare."""
_END_RATE = 0.2
_CALM_S = 0.25
_NAN = float("nan")
_FLARE = (
    "flare_height_ft",
    "flare_time_s",
    "flare_start_t_s",
    "pitch_at_flare_deg",
    "pitch_change_deg",
    "rotation_end_t_s",
)
_THRUST = (
    "thrust_close_height_ft", "thrust_close_lag_s", "thrust_close_time_s", "idle_before_contact_s", "close_start_t_s",
    "pitch_after_close_deg",
)  # fmt: skip


def flare_truth(trace: Trace, contact_s: float) -> dict[str, float]:
    """Flare and thrust values by measure name; NaN where they did not happen."""
    flare = _flare(trace, contact_s)
    return flare | _thrust(trace, contact_s, flare)


def _flare(trace: Trace, contact_s: float) -> dict[str, float]:
    begun = trace.events["flare"]
    nothing = dict.fromkeys(_FLARE, _NAN)
    if not np.isfinite(begun) or begun >= contact_s:
        return nothing
    t, pitch = trace.t, trace["pitch_deg"]
    before = (t >= begun - _LINE_S) & (t <= begun)
    slope, level = np.polyfit(t[before] - begun, pitch[before], 1)
    line = level + slope * (t - begun)
    above = pitch - line
    inside = (t > begun) & (t <= contact_s)
    clear = np.flatnonzero(inside & (above >= _CLEAR_DEG))
    if not len(clear):
        return nothing
    under = np.flatnonzero((t >= begun - _LINE_S) & (np.arange(len(t)) < clear[0]) & (above < STANDS_DEG))
    if not len(under):
        return nothing
    i = int(under[-1])
    start = float(t[i] + (STANDS_DEG - above[i]) / (above[i + 1] - above[i]) / RATE_HZ)
    end = _rotation_end(trace, start, contact_s)
    h = trace["mid_ft"] - np.interp(contact_s, t, trace["mid_ft"])
    at_start = float(np.interp(start, t, line))
    return {
        "flare_height_ft": float(np.interp(start, t, h)),
        "flare_time_s": contact_s - start,
        "flare_start_t_s": start,
        "pitch_at_flare_deg": at_start,
        "pitch_change_deg": float(np.interp(end, t, pitch)) - at_start,
        "rotation_end_t_s": end,
    }


def _rotation_end(trace: Trace, start: float, contact_s: float) -> float:
    """Where the rate of the calmed pitch has fallen below a fifth of its peak; contact where it has not before."""
    rate = np.gradient(_calm(trace["pitch_deg"]), 1.0 / RATE_HZ)
    first, last = int(start * RATE_HZ), int(contact_s * RATE_HZ)
    if last - first < 4:
        return contact_s
    stretch = rate[first:last]
    slowing = np.flatnonzero(stretch < _END_RATE * np.maximum.accumulate(stretch))
    return (first + int(slowing[0])) / RATE_HZ if len(slowing) else contact_s


def _calm(x: Floats) -> Floats:
    """Running Gaussian mean; the definition speaks of a sustained rotation, not of every shake of a gust."""
    reach = int(3 * _CALM_S * RATE_HZ)
    weight = np.exp(-0.5 * (np.arange(-reach, reach + 1) / RATE_HZ / _CALM_S) ** 2)
    padded = np.pad(x, reach, mode="edge")
    return np.convolve(padded, weight / weight.sum(), mode="valid")


def _thrust(trace: Trace, contact_s: float, flare: dict[str, float]) -> dict[str, float]:
    """The final movement of the lever to idle; NaN where it had hardly anything to close."""
    start, idle = trace.events["close"], trace.events["idle"]
    ended = float(trace.t[-1])
    if not np.isfinite(start) or idle > ended or float(np.interp(start, trace.t, trace["lever_pct"])) < 8.0:
        return dict.fromkeys(_THRUST, _NAN)
    h = trace["mid_ft"] - np.interp(contact_s, trace.t, trace["mid_ft"])
    since = float(np.fmax(flare["rotation_end_t_s"], idle))
    settled = np.isfinite(flare["rotation_end_t_s"]) and since < contact_s - 0.3
    pitch = trace["pitch_deg"]
    return {
        "thrust_close_height_ft": float(np.interp(start, trace.t, h)),
        "thrust_close_lag_s": start - flare["flare_start_t_s"],
        "thrust_close_time_s": idle - start,
        "idle_before_contact_s": contact_s - idle,
        "close_start_t_s": start,
        "pitch_after_close_deg": float(np.interp(contact_s, trace.t, pitch) - np.interp(since, trace.t, pitch))
        if settled
        else _NAN,
    }

"""Flown lanes go in; the true values of the measures come out, told from the simulation itself."""

from dataclasses import dataclass

import numpy as np
import polars as pl
from numpy.typing import NDArray

from flows.invented.lane import Lane
from flows.invented.units import FPM, FT, KT

Floats = NDArray[np.float64]
Values = dict[str, float | int | None]

RISE_DEG = 0.3
"""Rise above the line before it at which a rotation counts as begun."""
LINE_S = 6.0
"""How much of the approach the line of pitch is drawn through."""
ROTATION_END = 0.2
"""A rotation has ended where its rate has fallen to this share of its peak."""


@dataclass(frozen=True)
class Truth:
    """What the scenario knows: `landings` has one row an approach, `pilots` one row a pilot."""

    landings: pl.DataFrame
    pilots: pl.DataFrame


def lane_truth(lane: Lane) -> Values:
    """True values of one lane, named as the measures are; null where the event did not happen."""
    t, x, h = lane.t, lane.column("x"), lane.column("h")
    values: Values = {"contact_t_s": None, "lowest_height_ft": float(h.min() / FT), **_threshold(lane, t, x, h)}
    if not np.isfinite(lane.contact_s):
        return values
    at = lane.contact_s
    values["contact_t_s"] = at
    values["lowest_height_ft"] = 0.0
    values["vertical_speed_at_contact_fpm"] = -lane.sink_at_contact_ms / FPM
    values["touchdown_distance_ft"] = float(np.interp(at, t, x) / FT)
    values["pitch_at_contact_deg"] = float(np.degrees(np.interp(at, t, lane.column("theta"))))
    values["roll_at_contact_deg"] = float(np.degrees(np.interp(at, t, lane.column("phi"))))
    values["contact_ground_speed_kt"] = float(np.interp(at, t, lane.column("u")) / KT)
    values["touchdown_lateral_ft"] = float(np.interp(at, t, lane.column("y")) / FT)
    near = np.abs(t - at) <= 1.0
    values["peak_g"] = float(lane.column("nz_slow")[near].max())
    values["bounces"] = _bounces(lane)
    values.update(_below(t, x, h, at))
    values.update(_flare(lane, at))
    return values


def _threshold(lane: Lane, t: Floats, x: Floats, h: Floats) -> Values:
    """Height and speeds as the main wheels cross the landing threshold on the way down."""
    names = ("threshold_height_ft", "threshold_sink_fpm", "threshold_lateral_ft", "threshold_true_airspeed_kt")
    end = lane.contact_s if np.isfinite(lane.contact_s) else lane.go_s
    at = float(np.interp(0.0, x, t, left=np.nan, right=np.nan))
    if not at <= end:
        return dict.fromkeys(names)
    return {
        "threshold_height_ft": float(np.interp(at, t, h) / FT),
        "threshold_sink_fpm": float(-np.interp(at, t, lane.column("w")) / FPM),
        "threshold_lateral_ft": float(np.interp(at, t, lane.column("y")) / FT),
        "threshold_true_airspeed_kt": float(np.interp(at, t, lane.column("airspeed")) / KT),
    }


def _below(t: Floats, x: Floats, h: Floats, at: float) -> Values:
    """Ground and time from 50 ft and from 10 ft to contact."""
    end = int(np.searchsorted(t, at))
    since = {}
    for height in (50.0, 10.0):
        last = int(np.flatnonzero(h[:end] >= height * FT)[-1])
        upper, lower = h[last], h[last + 1]
        since[height] = t[last] + (t[last + 1] - t[last]) * (upper - height * FT) / (upper - lower)
    contact_x = np.interp(at, t, x)
    return {
        "distance_from_50ft_ft": float((contact_x - np.interp(since[50.0], t, x)) / FT),
        "float_time_s": float(at - since[10.0]),
        "float_distance_ft": float((contact_x - np.interp(since[10.0], t, x)) / FT),
    }


def _flare(lane: Lane, at: float) -> Values:
    """Start, size and thrust of the flare: the pilot's own start is known, the attitude decides where it stands."""
    values: Values = {}
    if np.isfinite(lane.close_s):
        values["thrust_close_height_ft"] = float(np.interp(lane.close_s, lane.t, lane.column("h")) / FT)
        idle = float(lane.t[np.argmax((lane.t > lane.close_s) & (lane.column("lever") <= 1e-6))])
        values["thrust_close_time_s"] = idle - lane.close_s
        values["idle_before_contact_s"] = at - idle
    if not lane.flare_s < at:
        return values
    pitch = np.degrees(lane.column("theta"))
    before = (lane.t > lane.flare_s - LINE_S) & (lane.t <= lane.flare_s)
    slope, level = np.polyfit(lane.t[before] - lane.flare_s, pitch[before], 1)
    window = np.flatnonzero((lane.t > lane.flare_s) & (lane.t <= at))
    rise = pitch[window] - (level + slope * (lane.t[window] - lane.flare_s))
    risen = np.flatnonzero(rise >= RISE_DEG)
    if not len(risen):
        return values
    start = window[risen[0]]
    begun = float(lane.t[start])
    values["flare_height_ft"] = float(lane.column("h")[start] / FT)
    values["flare_time_s"] = at - begun
    values["pitch_change_deg"], values["pitch_rate_dps"] = _rotation(lane.t, pitch, start, window[-1])
    values["thrust_close_lag_s"] = lane.close_s - begun if np.isfinite(lane.close_s) else None
    return values


def _rotation(t: Floats, pitch: Floats, start: int, last: int) -> tuple[float, float]:
    """Size and mean rate of the first rotation from `start`: to where its smoothed rate has fallen off."""
    times = np.arange(t[start] - 0.5, t[last] + 1e-9, 0.02)
    smooth = np.convolve(np.interp(times, t, pitch), np.ones(21) / 21.0, mode="same")
    rate = np.gradient(smooth, 0.02)
    rate[times < t[start]] = 0.0
    peak = np.maximum.accumulate(rate)
    over = np.flatnonzero((rate < ROTATION_END * peak) & (peak > 0.4) & (times > t[start] + 0.3))
    end = float(times[over[0]]) if len(over) else float(t[last])
    change = float(np.interp(end, t, pitch) - pitch[start] + RISE_DEG)
    return change, change / max(end - float(t[start]), 0.1)


def _bounces(lane: Lane) -> int:
    """Times the main wheels were off the ground for at least 0.2 s after first contact, before going again."""
    end = lane.go_s if np.isfinite(lane.go_s) else np.inf
    after = (lane.t > lane.contact_s) & (lane.t < end)
    on, t = lane.column("wheels")[after], lane.t[after]
    edges = np.flatnonzero(np.diff(on) != 0.0)
    left = on[edges] == 1.0
    until = np.append(t[edges[1:]], np.nan)  # the last time off the ground ends with the log
    return int(np.sum(left & (until - t[edges] >= 0.2)))

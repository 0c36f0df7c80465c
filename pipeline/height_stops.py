"""When a radio height stops coming down: the wheels are on the ground, whatever the antenna reads then.

Goes in: height above the ground and pitch of one low stretch. Comes out: the moment with its uncertainty, or None.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline.ground_height import GroundHeight
from pipeline.recording import Samples

Floats = NDArray[np.float64]

_NEARLY_DOWN_FT, _STOPPED_FT, _STAYS_FT = 6.0, 1.5, 3.0
"""A radio height below 6 ft has stopped coming down where it falls by less than 1.5 ft in 2 s and 3 ft in 6 s."""
_STOPPED_SLOW_FT, _QUICK_S, _LONGEST_ARM_FT = 0.8, 0.3, 30.0
"""The same where it is read so seldom that noise averages less than a float goes on; the longest antenna arm ahead."""
_DOWN_FT, _FLOATED_SHARE = 1.0, 0.35
"""Down for good within a foot of the lowest; a float that ended later makes the moment uncertain by a third of it."""
_GAP, _SHORTEST_GAP_S = 4.0, 1.5
"""Samples further apart than so many intervals show nothing of what came between."""


def height_stops(
    height: GroundHeight, pitch: Samples | None, start_s: float, end_s: float
) -> tuple[float, float] | None:
    """When a radio height stops coming down, by the course of its last feet; s and uncertainty.

    Not when it reads what it reads in the rollout: the antenna goes on down with the nose.
    """
    if not height.wheels or height.interval_s > 1.05:
        return None
    inside = (height.t >= start_s) & (height.t <= end_s)
    t, h = height.t[inside], height.above_ground[inside]
    low = np.flatnonzero(h <= _NEARLY_DOWN_FT)
    quick = height.interval_s < _QUICK_S
    stopped = _STOPPED_FT if quick else _STOPPED_SLOW_FT
    stays = (
        i for i in low if _falls(t, h, i, 2.0) < stopped and _falls(t, h, i, 6.0) < _with_nose(pitch, t[i], stopped)
    )
    i = next(stays, None)
    if i is None:
        return None
    before = float(t[i - 1]) if i > 0 else float(t[i])
    if t[i] - before > max(_GAP * height.interval_s, _SHORTEST_GAP_S):
        return None
    ground = float(np.median(h[i : int(np.searchsorted(t, t[i] + 1.5, "right"))]))
    course = np.flatnonzero((np.arange(len(t)) < i) & (h < 8.0) & (t >= t[i] - 2.5))
    if len(course) < 2:
        return 0.5 * (before + float(t[i])), float(np.hypot((t[i] - before) / np.sqrt(12.0), 0.2))
    slope, level = np.polyfit(t[course] - t[i], h[course], 1)
    zero = float(np.clip(t[i] - (level - ground) / min(slope, -0.3), before, t[i] + 1.0))
    u = float(np.hypot(height.interval_s / np.sqrt(12.0), np.clip(0.8 / max(-slope, 0.3), 0.08, 1.0)))
    return zero, float(np.hypot(u, _FLOATED_SHARE * _later_fall_s(t[i:], h[i:])))


def _later_fall_s(t: Floats, h: Floats) -> float:
    """Time until a height has come down for good, s: it may have floated a little above ground, or the nose fell."""
    soon = t <= t[0] + 6.0
    down = h[soon] <= h[soon].min() + _DOWN_FT
    return float(t[soon][down][0] - t[0])


def _with_nose(pitch: Samples | None, t: float, steady_ft: float) -> float:
    """How far radio height may fall in the 6 s after a contact, ft: its antenna goes down with the nose."""
    if pitch is None:
        return _STAYS_FT
    then, later = np.interp([t, t + 6.0], pitch.t, pitch.value)
    return float(steady_ft + _LONGEST_ARM_FT * np.radians(max(then - later, 0.0)))


def _falls(t: Floats, h: Floats, i: np.intp, within_s: float) -> float:
    """How far a height is above the lowest of the next `within_s`, ft."""
    return float(h[i] - h[i : np.searchsorted(t, t[i] + within_s, "right")].min())

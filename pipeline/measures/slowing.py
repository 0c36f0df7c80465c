"""What was done to slow down after contact, and when: spoilers, reverse thrust, brakes.

Goes in: a window. Comes out: the answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.window import ROLL, Window, between
from pipeline.stack import gather

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_SPOILER, _REVERSE, _BRAKE, _LEVER = "spoiler_pct", "reverse_pct", "brake_pct", "thrust_lever_pct"
_FIRST_S = -2.0
"""A spoiler or brake that moves up to this long before contact belongs to the landing."""
_LATEST_S = 40.0
_TAU = ROLL[between(ROLL, -5.0, _LATEST_S)]
_IN_FLIGHT = between(_TAU, -5.0, -2.0)
_REACHED_PCT = 10.0
_STEP = ROLL[1] - ROLL[0]
_SLOW_S = 2.1


def slowing(w: Window) -> dict[str, Answer]:
    """Time from first contact to spoilers, reverse thrust and brakes, each at 10 % beyond its place in flight.

    Null `no_channel` without the channel, `too_slow` below one sample in 2 s, `not_reached` where it was not used
    within 40 s. Reverse shows in levers too where they go behind the idle stop; where they never do, and no reverse
    channel is recorded, the log cannot tell: `no_channel`.
    """
    levers = w.lacks(_REVERSE)
    level = np.full(w.n, _REACHED_PCT)
    reversed_by_lever = _reached(w, _LEVER, -_course(w, _LEVER), level)
    by_channel = _reached(w, _REVERSE, _course(w, _REVERSE), level)
    reverse = np.where(levers, reversed_by_lever, by_channel)
    interval = np.where(levers, w.interval_s(_LEVER), w.interval_s(_REVERSE))
    unseen = levers & ~np.isfinite(reversed_by_lever)
    return {
        "spoiler_lag_s": _lag(w, _SPOILER),
        "reverse_lag_s": _settled(w, reverse, interval, w.lacking(unseen, _REVERSE, _LEVER)),
        "brake_lag_s": _lag(w, _BRAKE),
    }


def _lag(w: Window, channel: str) -> Answer:
    x = _course(w, channel)
    when = _reached(w, channel, x, rows.median(x[:, _IN_FLIGHT]) + _REACHED_PCT)
    return _settled(w, when, w.interval_s(channel), w.without(channel))


def _course(w: Window, channel: str) -> Floats:
    """Channel from 5 s before to 40 s after contact, (n, j)."""
    return gather(w.stack, channel, w.log, w.anchor_s[:, None] + _TAU)


def _settled(w: Window, when: Floats, interval: Floats, unseen: tuple[tuple[Bools, str], ...]) -> Answer:
    """The crossing of a movement seen by straight lines between samples."""
    u = np.sqrt(w.contact_u_s**2 + (0.3 * np.minimum(interval, 9.0)) ** 2 + (0.3 * _STEP) ** 2)
    slow = np.isfinite(interval) & (interval > _SLOW_S)
    missing = (*unseen, *w.no_contact, (slow, "too_slow"), (~np.isfinite(when), "not_reached"))
    return answer(when, u, missing=missing)


def _reached(w: Window, channel: str, course: Floats, level: Floats) -> Floats:
    """First time from 2 s before contact at which the channel's course (n, j) rises through `level`, (n,) s."""
    found = rows.first_up_crossing(course, _TAU, level, _FIRST_S)
    return found + _within_interval(course, found, w.interval_s(channel))


def _within_interval(x: Floats, found: Floats, interval: Floats) -> Floats:
    """What to add to a crossing of the straight line from one sample to the next, (n,) s.

    A movement quicker than the samples is over by the next one; nothing says where between them it began, and the
    middle is the best guess. A slow one follows the line.
    """
    wide = np.where(interval > _STEP, np.minimum(interval, _SLOW_S), 0.0)
    step = (rows.at(x, _TAU, found + 0.5 * _STEP) - rows.at(x, _TAU, found - 0.5 * _STEP)) / _STEP
    rise = np.maximum(np.nan_to_num(step * wide), 1e-9)
    return np.where(rise > 2.0 * _REACHED_PCT, (0.5 - _REACHED_PCT / rise) * wide, 0.0)

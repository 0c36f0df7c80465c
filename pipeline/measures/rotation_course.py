"""A rotation once its onset is given: the line before it, the instant the nose stands above it, its end and size.

Goes in: pitch over the last seconds and several onsets a landing. Comes out: the course of the rotation from each.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline.measures.window import FINE, between, smooth

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

SPAN = between(FINE, -20.0, 0.0)
TAU = FINE[SPAN]
"""Times to contact of the pitch given, (s,) s."""
_STEP = 1.0 / 16.0
STANDS_DEG = 0.3
"""The flare starts when the attitude stands this much above the line before it."""
CLEAR_DEG = 0.7
"""A rise of this much above the line is no wander any more: before it the last crossing of 0.3 deg counts."""
_LINE_S = 5.0
_LOOK = np.arange(int(9.0 / _STEP))
"""A rotation is followed this far from its onset."""
_STANDS_SMOOTH_S, _RATE_SMOOTH_S, _END_SMOOTH_S = 0.2, 0.75, 0.2
_END_RATE, _LEAST_PEAK_DPS, _LEAST_S = 0.2, 0.35, 0.25
"""A rotation ends where its rate has fallen below this share of its peak so far, once the peak is one."""
_EARLY_RATE, _LATE_RATE = 0.35, 0.1
"""How far the end moves between these shares tells how well it is known."""


@dataclass(frozen=True)
class Course:
    """Per landing and onset (n, c), NaN where the nose does not rise that much before contact.

    `stands_s` and `end_s` s to contact; `line_deg` the line's value when the nose stands above it; `rise_deg` from
    there to the end, `rise_u_deg` what an end that is not sharp adds to its uncertainty.
    """

    stands_s: Floats
    end_s: Floats
    line_deg: Floats
    rise_deg: Floats
    rise_u_deg: Floats


def course(pitch: Floats, onsets_s: Floats) -> Course:
    """Follow each rotation from its onset; `pitch` (n, s) deg on the grid of 20 s before contact, `onsets_s` (n, c)."""
    begin = np.rint((onsets_s - TAU[0]) / _STEP).astype(np.int64)
    places = np.minimum(begin[:, :, None] + _LOOK, len(TAU) - 1)
    beyond = begin[:, :, None] + _LOOK > len(TAU) - 1
    line = _line(pitch, begin, places)
    above = np.where(beyond, np.nan, _pick(smooth(pitch, _STANDS_SMOOTH_S, _STEP), places) - line)
    first, part = _first_stand(above)
    rises = first > 0
    stands = np.where(rises, TAU[0] + (begin + first - 1.0 + part) * _STEP, np.nan)
    ends = np.minimum(begin + _ends(pitch, places, beyond, first), len(TAU) - 1)
    base = np.take_along_axis(line, first[:, :, None], axis=2)[:, :, 0]
    calm = smooth(pitch, _END_SMOOTH_S, _STEP)
    early, end, late = (np.take_along_axis(calm, place, axis=1) for place in ends)
    found = (TAU[ends[1]], base, end - base, 0.7 * np.abs(late - early))
    return Course(stands, *(np.where(rises, x, np.nan) for x in found))


def _pick(x: Floats, places: Ints) -> Floats:
    return x[np.arange(len(x))[:, None, None], places]


def _line(pitch: Floats, begin: Ints, places: Ints) -> Floats:
    """The line through the seconds before each onset, drawn on to the times that follow it, (n, c, look)."""
    held = np.nan_to_num(pitch)
    ones = np.zeros((len(pitch), 1))
    total = np.concatenate([ones, np.cumsum(held, axis=1)], axis=1)
    moment = np.concatenate([ones, np.cumsum(held * TAU, axis=1)], axis=1)
    low = np.maximum(begin - int(_LINE_S / _STEP), 0)
    number = begin - low + 1.0
    middle = 0.5 * (TAU[begin] + TAU[low])
    summed, leaning = (np.take_along_axis(x, begin + 1, 1) - np.take_along_axis(x, low, 1) for x in (total, moment))
    slope = (leaning - middle * summed) / (_STEP**2 * number * (number**2 - 1.0) / 12.0)
    return (summed / number)[:, :, None] + slope[:, :, None] * (TAU[places] - middle[:, :, None])


def _first_stand(above: Floats) -> tuple[Ints, Floats]:
    """Place (n, c) at which pitch comes to stand above the line, 0 for none, and the part of the step before it.

    The last time it does before it is clear of the line, the first time where it never gets clear; at once where it
    stands there from the onset on.
    """
    clear, over = above >= CLEAR_DEG, above >= STANDS_DEG
    clear[:, :, 0] = over[:, :, 0] = False
    reach = np.where(clear.any(axis=2), np.argmax(clear, axis=2), np.argmax(over, axis=2))
    below = ~over & (reach[:, :, None] > np.arange(above.shape[2]))
    first = np.where(below.any(axis=2), above.shape[2] - np.argmax(below[:, :, ::-1], axis=2), 0)
    late = np.take_along_axis(above, np.minimum(first, above.shape[2] - 1)[:, :, None], axis=2)[:, :, 0]
    early = np.take_along_axis(above, np.maximum(first - 1, 0)[:, :, None], axis=2)[:, :, 0]
    rise = np.where(late > early, late - early, 1.0)
    return first, np.nan_to_num(np.clip((STANDS_DEG - early) / rise, 0.0, 1.0), nan=1.0)


def _ends(pitch: Floats, places: Ints, beyond: NDArray[np.bool_], first: Ints) -> Ints:
    """Places (3, n, c) from the onset at which the rate has fallen off, a little, as defined, nearly wholly.

    The last place where it never does.
    """
    rate = np.gradient(smooth(pitch, _RATE_SMOOTH_S, _STEP), _STEP, axis=1)
    seen = np.where(beyond | (first[:, :, None] > _LOOK), 0.0, _pick(rate, places))
    top = np.maximum.accumulate(seen, axis=2)
    may = (top > _LEAST_PEAK_DPS) & ~beyond & (first[:, :, None] + int(_LEAST_S / _STEP) < _LOOK)
    slow = [(seen < share * top) & may for share in (_EARLY_RATE, _END_RATE, _LATE_RATE)]
    return np.array([np.where(x.any(axis=2), np.argmax(x, axis=2), len(_LOOK) - 1) for x in slow])

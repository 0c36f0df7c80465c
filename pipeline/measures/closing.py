"""The final movement of thrust to idle: when it begins and when idle is reached.

Goes in: the course of thrust of each landing. Comes out: both instants, with their uncertainty.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.thrust_source import ThrustSource, thrust_source
from pipeline.measures.window import FINE, Window, between, smooth

Floats = NDArray[np.float64]

_NEAR = between(FINE, -14.0, 8.0)
_STEP = 1.0 / 16.0
_DWELL_S, _REVERSE_PCT, _IDLE_MOST_PCT = 0.75, -1.5, 8.0
"""The idle place is the lowest where thrust rests this long; below the second it is in reverse, above the third not
at idle (calibration and resolution: our own choice)."""
_AT_IDLE_PCT, _FOLLOWER_AT_IDLE_PCT = 3.0, 8.0
"""Within this of the idle place thrust is nearly there; a follower comes to rest slowly."""
_LEAST_FALL_PCT = 2.0
_BACK_S = np.arange(0.0, 10.5 + 1e-9, _STEP)
_MOVE = np.arange(4, 8 * 16 + 1, 2)
"""Durations of a movement that are tried, in steps of the grid."""
_BEFORE = int(1.25 / _STEP)
"""So many steps before the movement are fitted with it."""
_SLOWER_BEFORE = 0.35
"""Thrust that already fell faster than this share of the movement's rate belonged to it."""


@dataclass(frozen=True)
class Closing:
    """Final movement to idle, (n,) s to contact; NaN where thrust did not come to idle near contact.

    `start_s`, `start_u_s` when it begins; `idle_s`, `idle_u_s` when idle is reached; `source` what it is told by.
    """

    start_s: Floats
    start_u_s: Floats
    idle_s: Floats
    idle_u_s: Floats
    source: ThrustSource


def closing(w: Window) -> Closing:
    """Find the final movement to idle, before contact or in the rollout.

    Thrust last comes near its idle place at some instant; the movement begins at the corner from which a straight
    course fits best, and reaches idle where that straight course does.
    """
    source = thrust_source(w)
    place = _idle_place(source)
    margin = np.where(source.lever, _AT_IDLE_PCT, _FOLLOWER_AT_IDLE_PCT)
    near = rows.last_down_crossing(source.course, FINE, np.nan_to_num(place + margin, nan=-1e9))
    duration, fall = _corner(source.course, near)
    left = duration * margin / np.maximum(fall, _LEAST_FALL_PCT)
    sampled = np.sqrt((0.28 * np.minimum(source.interval_s, 2.0)) ** 2 + (0.02 * duration) ** 2 + 0.05**2)
    return Closing(
        near - duration - source.begins_late_s,
        np.hypot(sampled, source.begins_late_u_s),
        near + left - source.rests_late_s,
        np.sqrt(sampled**2 + (0.15 * left) ** 2 + source.rests_late_u_s**2),
        source,
    )


def _idle_place(source: ThrustSource) -> Floats:
    """Where thrust rests at idle, (n,) %; NaN where it never does near contact."""
    near = source.course[:, _NEAR]
    steps = int(_DWELL_S / _STEP)
    held = np.where(np.isfinite(near), near, np.inf)
    resting = held
    for shift in (1, 2, 4, steps - 8):  # the largest over each stretch of `steps` by doubling
        resting = np.maximum(resting[:, shift:], resting[:, :-shift])
    place = np.where(resting >= _REVERSE_PCT, resting, np.inf).min(axis=1)
    return np.where(place < _IDLE_MOST_PCT, place, np.nan)


def _corner(course: Floats, near: Floats) -> tuple[Floats, Floats]:
    """Duration (n,) s of the straight movement that ends at `near`, by least squares over all, and its fall (n,) %.

    Before the corner thrust may have moved slowly or the other way: a first stage, or steps that hold a speed.
    """
    back = _before(course, near)
    known = np.isfinite(back)
    level = np.where(known, back - back[:, :1], 0.0)
    bases, solutions = _corners()
    shape = len(level), len(_MOVE), 3
    across, fitted = (level @ bases).reshape(shape), (level @ solutions).reshape(shape)
    ends = _MOVE + _BEFORE
    squares = np.cumsum(level**2, axis=1)[:, ends]
    misfit = np.maximum(squares - (across * fitted).sum(axis=2), 0.0) / (ends + 1.0)
    fall = fitted[:, :, 1] * _MOVE * _STEP
    begins = (fitted[:, :, 2] < _SLOWER_BEFORE * fitted[:, :, 1]) & (fall > _LEAST_FALL_PCT)
    misfit = np.where((np.cumsum(~known, axis=1)[:, ends] == 0) & begins, misfit, np.inf)
    best = np.argmin(misfit, axis=1)
    every = np.arange(len(course))
    found = np.isfinite(misfit[every, best]) & np.isfinite(near)
    fine = (_MOVE[best] + _vertex(misfit, best) * (_MOVE[1] - _MOVE[0])) * _STEP
    return np.where(found, fine, np.nan), np.where(found, fall[every, best], np.nan)


@cache
def _corners() -> tuple[Floats, Floats]:
    """Basis of each movement side by side (k, 3 moves): one, the ramp, what was before; and what solves for them."""
    bases = np.zeros((len(_BACK_S), len(_MOVE), 3))
    solutions = np.zeros_like(bases)
    for i, steps in enumerate(_MOVE):
        x, corner = _BACK_S[: steps + _BEFORE + 1], steps * _STEP
        basis = np.stack([np.ones(len(x)), np.minimum(x, corner), np.maximum(x - corner, 0.0)], axis=1)
        bases[: len(x), i] = basis
        solutions[: len(x), i] = np.linalg.pinv(basis).T
    return bases.reshape(len(_BACK_S), -1), solutions.reshape(len(_BACK_S), -1)


def _before(course: Floats, near: Floats) -> Floats:
    """Thrust at the times before `near`, latest first, (n, k); NaN beyond the grid."""
    calm = smooth(course, 2.0 * _STEP, _STEP)
    position = (np.nan_to_num(near)[:, None] - _BACK_S - FINE[0]) / _STEP
    place = np.clip(position.astype(np.int64), 0, course.shape[1] - 2)
    part = position - place
    early = np.take_along_axis(calm, place, axis=1)
    late = np.take_along_axis(calm, place + 1, axis=1)
    return np.where(position >= 0.0, early * (1.0 - part) + late * part, np.nan)


def _vertex(misfit: Floats, best: NDArray[np.intp]) -> Floats:
    """Where between its neighbours the smallest misfit lies, (n,) in steps, by a parabola."""
    every = np.arange(len(misfit))
    low, high = np.maximum(best - 1, 0), np.minimum(best + 1, misfit.shape[1] - 1)
    before, at, after = misfit[every, low], misfit[every, best], misfit[every, high]
    with np.errstate(invalid="ignore", divide="ignore"):
        moved = 0.5 * (before - after) / (before - 2.0 * at + after)
    return np.where(np.isfinite(moved), np.clip(moved, -0.5, 0.5), 0.0)

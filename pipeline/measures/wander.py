"""How much a channel wanders about its slow course on the approach, by what it changes over a few seconds.

Goes in: a channel on the approach. Comes out: the standard deviation of its wander, landing by landing.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.window import COARSE, between

Floats = NDArray[np.float64]

_APPROACH = between(COARSE, -60.0, -12.0)
_LEAST = 24
"""Fewer differences than this (6 s of them) tell nothing."""


def wander(course: Floats, *, lag_s: float, memory_s: float, usual: float) -> Floats:
    """Standard deviation (n,) of an exponentially correlated wander; `usual` where the log is too short to tell.

    `course` (n, k) on the coarse grid. Changes over `lag_s` have the variance 2 s^2 (1 - exp(-lag / memory)) about
    their mean, whatever straight line the wander rides on.

    >>> steps = np.where(np.arange(len(COARSE)) % 8 < 4, 0.0, 1.0)[None]
    >>> round(float(wander(steps, lag_s=1.0, memory_s=1.0, usual=0.3)[0]), 3)
    0.892
    """
    shift = round(lag_s / (COARSE[1] - COARSE[0]))
    seen = course[:, _APPROACH]
    change = seen[:, shift:] - seen[:, :-shift]
    spread = rows.deviation(change) / np.sqrt(2.0 * (1.0 - np.exp(-lag_s / memory_s)))
    return np.where((rows.count(change) >= _LEAST) & np.isfinite(spread), spread, usual)

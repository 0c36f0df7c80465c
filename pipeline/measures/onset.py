"""When a channel leaves the line it followed: evidence for every instant at once, by one fixed model.

Goes in: a channel over the last 20 s before contact and how much it wanders. Comes out: log odds of every onset.

Model: until the onset a straight line, a wander about it (exponentially correlated, its size known for each landing)
and a little independent noise; from the onset on also the integral of a rate whose own mean, spread and memory are
given. All of it is Gaussian, so that each onset is one covariance and its evidence one product with a fixed matrix,
shared by all landings that wander alike. The odds are against the same model without any onset.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

STEP_S = 0.25
GRID_S = np.arange(-20.0, 1e-9, STEP_S)
"""Times to contact at which a channel is looked at, (k,) s."""
ONSETS_S = np.arange(-15.0, -0.7, STEP_S)
"""Onsets that are weighed, (c,) s to contact."""
_FINER_S = STEP_S / 2.0
_EASE_S = 0.4
"""A movement takes this long to come up to its rate."""
_SIZES = tuple(float(x) for x in 0.1 * 1.5 ** np.arange(11))
"""Wanders, channel's unit, for which matrices are made; a landing takes the nearest by ratio."""


@dataclass(frozen=True)
class Departure:
    """How a channel behaves about its line and after it leaves it, in the channel's unit and seconds.

    `memory_s` of the wander; `noise` independent at each time; `level`, `slope`: spread of the line; `delay_s` from
    the onset until the rate begins; `first_rate` for `first_s`, `later_rate` after it: means, with `rate_spread` about
    them that keeps for `rate_memory_s`.
    """

    memory_s: float
    noise: float
    level: float
    slope: float
    delay_s: float
    first_rate: float
    first_s: float
    later_rate: float
    rate_spread: float
    rate_memory_s: float


def log_odds(seen: Floats, wander: Floats, model: Departure) -> Floats:
    """Log odds (n, c) of each onset against none; `seen` (n, k) without gaps, `wander` (n,) its standard deviation."""
    sizes = np.log(_SIZES)
    nearest = np.argmin(np.abs(np.log(np.clip(wander, _SIZES[0], _SIZES[-1]))[:, None] - sizes), axis=1)
    centred = seen - seen.mean(axis=1)[:, None]
    odds = np.empty((len(seen), len(ONSETS_S)))
    for size in np.unique(nearest):
        rows = nearest == size
        evidence = _evidence(centred[rows], _SIZES[size], model)
        odds[rows] = evidence[:, :-1] - evidence[:, -1:]
    return odds


def _evidence(centred: Floats, size: float, model: Departure) -> Floats:
    """Log likelihood (n, c + 1) apart from a constant; the last is of no onset."""
    whiten, mean, size_of = _tables(size, model)
    left = (centred @ whiten).reshape(len(centred), *mean.shape) - mean
    squares = np.einsum("nck,nck->nc", left, left, optimize=True)
    return -0.5 * squares - size_of


@cache
def _tables(size: float, model: Departure) -> tuple[Floats, Floats, Floats]:
    """Whitening (k, (c + 1) k), whitened means (c + 1, k) and half log determinants (c + 1,)."""
    apart = np.abs(GRID_S[:, None] - GRID_S)
    line = model.level**2 + model.slope**2 * np.outer(GRID_S, GRID_S)
    still = line + size**2 * np.exp(-apart / model.memory_s) + model.noise**2 * np.eye(len(GRID_S))
    fine = np.arange(GRID_S[0], 1e-9, _FINER_S)
    kept = model.rate_spread**2 * np.exp(-np.abs(fine[:, None] - fine) / model.rate_memory_s)
    whiten, means, sizes = [], [], []
    for onset in (*ONSETS_S, np.inf):
        moving = np.clip((fine - onset - model.delay_s) / _EASE_S, 0.0, 1.0)
        summed = np.where(fine <= GRID_S[:, None] + 1e-9, moving * _FINER_S, 0.0)
        rate = np.where(fine - onset < model.first_s, model.first_rate, model.later_rate)
        root = np.linalg.cholesky(still + summed @ kept @ summed.T)
        inverse = np.linalg.inv(root)
        whiten.append(inverse.T)
        means.append(inverse @ (summed @ rate))
        sizes.append(np.log(np.diag(root)).sum())
    return np.hstack(whiten), np.array(means), np.array(sizes)

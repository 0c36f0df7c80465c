"""Shares of landings beyond a limit behind their errors of measurement: margins or chances in, shares by draw out.

Every function takes weights (b, n) of landings: the first draw is of all of them, the others are for an interval.
"""

from dataclasses import dataclass

import numpy as np
import polars as pl
from numpy.typing import NDArray
from scipy.stats import beta

Floats = NDArray[np.float64]
Single = NDArray[np.float32]

LEVELS = (0.05, 0.95)
"""Ends of an interval of 90 %."""
_GRID, _ROUNDS, _MORE_ROUNDS, _RESAMPLES = 61, 60, 20, 200
_REACH_U = 3.0
_LEAST_U, _LEAST, _LEAST_LOG = 1e-3, 1e-30, -60.0


@dataclass(frozen=True)
class Share:
    """A share with its interval of 90 %."""

    share: float
    low: float
    high: float


def resampled(session: pl.Series, *, seed: int) -> Floats:
    """Weights (b, n) of landings: all ones first, then sessions drawn again with repetition."""
    index = session.rank("dense").to_numpy().astype(np.int64) - 1
    count = int(index.max()) + 1
    draw = np.random.default_rng(seed).multinomial(count, np.full(count, 1.0 / count), size=_RESAMPLES)
    return np.concatenate([np.ones((1, len(index))), draw[:, index].astype(float)])


def common(u: Floats, installation: pl.Series, *, draws: int, seed: int) -> Floats:
    """Mean error (draws,) that the landings may have in common, by draw; none in the first.

    Each installation errs by its own multiple of the uncertainties `u` (n,).
    """
    index = installation.fill_null("").rank("dense").to_numpy().astype(np.int64) - 1
    part = np.bincount(index, weights=u) / len(u)
    drawn = np.random.default_rng([seed, 1]).standard_normal((draws, len(part))) @ part
    drawn[0] = 0.0
    return drawn


def settled(each: Floats, n: int) -> Share:
    """The first share, and the interval of the others, never narrower than that of a count that tells as much.

    Sessions drawn again vary too little where few landings have the fault. The count is of as many landings, at most
    `n`, as would vary as the shares do (Jeffreys' interval).
    """
    low, high = np.quantile(each[1:], LEVELS)
    share = float(each[0])
    middle = (share * n + 0.5) / (n + 1.0)
    worth = float(np.clip(middle * (1.0 - middle) / max(float(each[1:].var()), 1e-12), 1.0, n))
    least, most = (float(beta.ppf(level, share * worth + 0.5, (1.0 - share) * worth + 0.5)) for level in LEVELS)
    return Share(share, float(min(low, least, share)), float(max(high, most, share)))


def beyond(margin: Floats, u: Floats, weights: Floats, *, limit: Floats) -> Floats:
    """Share of true margins above `limit` (b,), by the likeliest distribution behind the measured ones.

    `margin`, `u` (n,): measured margin and the uncertainty it does not share with others; `weights` (b, n). The
    distribution lies on a grid and is found by expectation and maximisation from an even start, ended early, which
    keeps it smooth (Laird, Nonparametric Maximum Likelihood Estimation of a Mixing Distribution, 1978; from memory).
    Those of the later weights start between that of the first and an even one.
    """
    u = np.maximum(u, _LEAST_U)
    edges = _edges((margin - _REACH_U * u).min(), (margin + _REACH_U * u).max())
    middle = 0.5 * (edges[1:] + edges[:-1])
    log = -0.5 * ((margin[:, None] - middle) / u[:, None]) ** 2
    likelihood = np.exp(np.maximum(log - log.max(axis=1, keepdims=True), _LEAST_LOG)).astype(np.float32)
    even = np.full((1, len(middle)), 1.0 / len(middle), dtype=np.float32)
    first = _likeliest(likelihood, weights[:1], even, rounds=_ROUNDS)
    mass = np.concatenate([first, _likeliest(likelihood, weights[1:], 0.5 * (first + even), rounds=_MORE_ROUNDS)])
    above = np.clip((edges[1:] - limit[:, None]) / (edges[1:] - edges[:-1]), 0.0, 1.0)
    return np.clip((mass * above).sum(axis=1), 0.0, 1.0)


def _likeliest(likelihood: Single, weights: Floats, start: Single, *, rounds: int) -> Single:
    """Masses (b, g) after so many rounds; `likelihood` (n, g) of each landing, `weights` (b, n), `start` (1, g)."""
    share = (weights / np.maximum(weights.sum(axis=1, keepdims=True), _LEAST)).astype(np.float32)
    mass = np.repeat(start, len(weights), axis=0)
    for _ in range(rounds):
        mass = mass * ((share / np.maximum(mass @ likelihood.T, _LEAST)) @ likelihood)
    return mass


def mixed(probability: Floats, weights: Floats) -> Floats:
    """Share of landings with a fault, (b,), of which each landing only says how much speaks for it.

    `probability` (n,) is what a landing says by itself, fault and none taken as equally common before; `weights`
    (b, n). The likeliest share: adding the probabilities up would count every doubt as a part of a fault.
    """
    ratio = np.clip(probability, 1e-9, 1.0 - 1e-9) / np.clip(1.0 - probability, 1e-9, 1.0)
    share = np.full(len(weights), 0.5)
    total = weights.sum(axis=1)
    for _ in range(_ROUNDS):
        odds = share[:, None] * ratio
        share = (weights * odds / (odds + 1.0 - share[:, None])).sum(axis=1) / total
    return share


def _edges(low: float, high: float) -> Floats:
    """Edges of the grid from `low` to `high`, one of them at zero where it lies between."""
    edges = np.linspace(low, high, _GRID)
    if low < 0.0 < high:
        edges = edges - edges[np.argmin(np.abs(edges))]
    return edges

"""How often a fault is there, whatever the recorder: margins with their uncertainty in, shares with intervals out.

A poor recorder blurs the measures, so that counting what is beyond doubt makes its pilot look clean, and adding up
probabilities makes everybody look alike. The distribution of the true margins is estimated instead: the one under which
the measured ones are most likely, each behind its own uncertainty.
"""

from dataclasses import dataclass

import numpy as np
import polars as pl
from numpy.typing import NDArray
from scipy.stats import beta

from pipeline.faults.rule import Beyond
from pipeline.faults.rules import FAULTS

Floats = NDArray[np.float64]

SCHEMA: dict[str, type[pl.DataType]] = {
    "fault": pl.String,
    "n": pl.Int64,
    "sessions": pl.Int64,
    "seen": pl.Int64,
    "share": pl.Float64,
    "share_low": pl.Float64,
    "share_high": pl.Float64,
    "untold": pl.Int64,
}
"""`n` landings could be judged, `seen` of them beyond doubt, `untold` could not; the interval is of 90 %."""
LEAST_LANDINGS, LEAST_SESSIONS = 20, 8
"""Fewer tell no share: our own choice."""

_GRID, _ROUNDS, _RESAMPLES = 61, 60, 200
_LEVELS = (0.05, 0.95)
_REACH_U = 3.0
_LEAST_U = 1e-3


@dataclass(frozen=True)
class Share:
    """A share with its interval of 90 %."""

    share: float
    low: float
    high: float


def prevalence(faults: pl.DataFrame, *, seed: int = 0) -> pl.DataFrame:
    """Share of landings with each fault.

    Parameters
    ----------
    faults : columns of the fault frame and `session`: landings of one session share what is not the pilot's.
    seed : of the sessions drawn again for the interval.

    Returns
    -------
    Columns of SCHEMA, one row a fault with enough landings and sessions, in the order of the rules.
    """
    parts = []
    for name in FAULTS:
        rows = faults.filter(pl.col("fault") == name)
        told = rows.filter(pl.col("probability").is_not_null())
        sessions = told["session"].n_unique()
        if told.height < LEAST_LANDINGS or sessions < LEAST_SESSIONS:
            continue
        found = _share(told, name, seed)
        seen = int((told["verdict"] == "seen").sum())
        parts.append((name, told.height, sessions, seen, found.share, found.low, found.high, rows.height - told.height))
    return pl.DataFrame(parts, schema=SCHEMA, orient="row")


def _share(told: pl.DataFrame, name: str, seed: int) -> Share:
    """The share of one fault; by its margins where it is a matter of one limit, else by what speaks for and against."""
    weights = resampled(told["session"], seed=seed)
    rule = FAULTS[name]
    first = rule.conditions[0]
    if len(rule.conditions) > 1 or not isinstance(first, Beyond) or told["value_u"].null_count():
        return _settled(mixed(told["probability"].to_numpy(), weights), told.height)
    side = 1.0 if first.side == "above" else -1.0
    margin = side * (told["value"] - told["limit_value"]).to_numpy()
    return _settled(beyond(margin, told["value_u"].to_numpy(), weights), told.height)


def _settled(each: Floats, n: int) -> Share:
    """The first share, and the interval of the others, never narrower than that of a count among `n` (Jeffreys)."""
    low, high = np.quantile(each[1:], _LEVELS)
    count = each[0] * n
    least, most = (float(beta.ppf(level, count + 0.5, n - count + 0.5)) for level in _LEVELS)
    return Share(float(each[0]), float(min(low, least, each[0])), float(max(high, most, each[0])))


def resampled(session: pl.Series, *, seed: int) -> Floats:
    """Weights (b, n) of landings: all ones first, then sessions drawn again with repetition."""
    index = session.rank("dense").to_numpy().astype(np.int64) - 1
    count = int(index.max()) + 1
    draw = np.random.default_rng(seed).multinomial(count, np.full(count, 1.0 / count), size=_RESAMPLES)
    return np.concatenate([np.ones((1, len(index))), draw[:, index].astype(float)])


def beyond(margin: Floats, u: Floats, weights: Floats) -> Floats:
    """Share of true margins above zero, (b,), by the likeliest distribution behind the measured ones.

    `margin`, `u` (n,): measured margin and its standard uncertainty; `weights` (b, n). The distribution lies on a grid
    and is found by expectation and maximisation from an even start, ended early, which keeps it smooth (Laird,
    Nonparametric Maximum Likelihood Estimation of a Mixing Distribution, 1978; from memory).
    """
    u = np.maximum(u, _LEAST_U)
    low, high = (margin - _REACH_U * u).min(), (margin + _REACH_U * u).max()
    edges = _edges(low, high)
    middle = 0.5 * (edges[1:] + edges[:-1])
    likelihood = np.exp(-0.5 * ((margin[:, None] - middle) / u[:, None]) ** 2) / u[:, None]
    likelihood = np.maximum(likelihood, 1e-300)
    mass = np.full((len(weights), len(middle)), 1.0 / len(middle))
    total = weights.sum(axis=1, keepdims=True)
    for _ in range(_ROUNDS):
        mass = mass * ((weights / (mass @ likelihood.T)) @ likelihood) / total
    return np.asarray(mass[:, middle > 0.0].sum(axis=1))


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

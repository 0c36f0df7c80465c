"""What the time of year does to a measure, for all pilots alike: residuals and their days in, the yearly swing out.

A yearly and a half-yearly wave, the same for everybody. Every pilot has a level of his own, and every block of about 25
of his landings wanders from it, so that a pilot who changes is not taken for a season. How much blocks wander and how
large the waves are is weighed by marginal likelihood over a grid, no season among the choices: what the landings do not
support comes out as nothing (best linear unbiased prediction, Robinson 1991, Statistical Science 6:15-32).
"""

from dataclasses import dataclass

import numpy as np

from pipeline.recording import Floats
from pipeline.statistics.standing import Ints, session_correlation

YEAR_DAYS = 365.2425
LONE_YEARS, COHORT_YEARS, COHORT_PILOTS = 1.25, 1.0, 8
"""A season is looked for in more than a year of landings, in one where so many pilots share it: one pilot's first year
cannot tell a season from a change of his own."""

AMPLITUDES = (0.0, 0.05, 0.1, 0.2, 0.4)
WANDERING = (0.0, 0.1, 0.2, 0.35, 0.6, 1.0)
"""Grids of the waves' and of the blocks' standard deviation, in spreads of a landing. Our own choice."""

WAVES = ("yearly wave, sine", "yearly wave, cosine", "half-yearly wave, sine", "half-yearly wave, cosine")
_SMALLER = np.array([1.0, 1.0, 0.5, 0.5])
_CLIP = 3.0


@dataclass(frozen=True)
class Season:
    """The waves' coefficients (4,) in the measure's unit, their covariance (4, 4); zero where nothing is told."""

    coefficient: Floats
    covariance: Floats

    @property
    def found(self) -> bool:
        """Whether there is anything to take out."""
        return bool(np.any(self.coefficient))

    def effect(self, days: Floats) -> tuple[Floats, Floats]:
        """Effect on each of n landings and its uncertainty, (n,) each; NaN days have none."""
        x = np.nan_to_num(waves(days))
        return x @ self.coefficient, np.sqrt(np.einsum("ni,ij,nj->n", x, self.covariance, x))


NO_SEASON = Season(np.zeros(4), np.zeros((4, 4)))


def waves(days: Floats) -> Floats:
    """Columns (n, 4) of the waves at days (n,) since 1970-01-01."""
    turn = 2.0 * np.pi * days / YEAR_DAYS
    return np.column_stack([np.sin(turn), np.cos(turn), np.sin(2.0 * turn), np.cos(2.0 * turn)])


@dataclass(frozen=True)
class _Visits:
    """One row a session: mean, waves, weight, number of its block; `owner` is the pilot of each block."""

    mean: Floats
    x: Floats
    weight: Floats
    block: Ints
    owner: Ints


def season(residual: Floats, days: Floats, *, pilot: Ints, block: Ints, session: Ints) -> Season:
    """Find the yearly swing in residuals of all pilots.

    Parameters
    ----------
    residual : (n,) values with the other conditions taken out.
    days : (n,) days since 1970-01-01 of each contact, NaN where not known; those take no part.
    pilot, block, session : (n,) numbers 0, 1, ...; a session and a block belong to one pilot.
    """
    dated = np.flatnonzero(~np.isnan(days))
    if not dated.size:
        return NO_SEASON
    years = float(np.ptp(days[dated])) / YEAR_DAYS
    needed = COHORT_YEARS if np.unique(pilot[dated]).size >= COHORT_PILOTS else LONE_YEARS
    mine = (residual - _means(residual, pilot))[dated]
    spread = 1.4826 * float(np.median(np.abs(mine)))
    if years < needed or spread <= 0.0:
        return NO_SEASON
    scaled = np.clip(mine / spread, -_CLIP, _CLIP)
    visits = _visits(scaled, days[dated], pilot[dated], block[dated], session[dated])
    mean, covariance = _averaged(visits)
    return Season(spread * mean, spread**2 * covariance)


def _means(values: Floats, group: Ints) -> Floats:
    count = np.maximum(np.bincount(group), 1)
    return (np.bincount(group, values) / count)[group]


def _visits(scaled: Floats, days: Floats, pilot: Ints, block: Ints, session: Ints) -> _Visits:
    """Sessions, cut where a block ends, with the weight of their landings in independent ones."""
    correlation = session_correlation(scaled, np.unique(session, return_inverse=True)[1].astype(np.int64))
    blocks = np.unique(block, return_inverse=True)[1].astype(np.int64)
    _, first, code = np.unique(np.stack([blocks, session]), axis=1, return_index=True, return_inverse=True)
    code = code.ravel()
    n = np.bincount(code).astype(float)
    owner = np.zeros(int(blocks.max()) + 1, dtype=np.int64)
    owner[blocks] = np.unique(pilot, return_inverse=True)[1]
    weight = n / (1.0 + (n - 1.0) * correlation)
    return _Visits(np.bincount(code, scaled) / n, waves(np.bincount(code, days) / n), weight, blocks[first], owner)


def _averaged(visits: _Visits) -> tuple[Floats, Floats]:
    """Mean and covariance of the coefficients over both grids, each point weighed by its restricted likelihood."""
    points = [
        _posterior(*_moments(visits, wander), amplitude=amplitude) for wander in WANDERING for amplitude in AMPLITUDES
    ]
    chance = np.exp(np.array([p[2] for p in points]) - max(p[2] for p in points))
    chance /= chance.sum()
    each = np.array([p[0] for p in points])
    mean = chance @ each
    apart = each - mean
    return mean, np.einsum("k,kij->ij", chance, [p[1] for p in points]) + (chance[:, None] * apart).T @ apart


def _moments(visits: _Visits, wander: float) -> tuple[Floats, Floats, float, float]:
    """X'V^-1 X, X'V^-1 y and y'V^-1 y with the pilots' levels profiled out, and the log determinants of both."""
    joined = np.column_stack([visits.x, visits.mean])
    full = joined.T @ (visits.weight[:, None] * joined)
    sums = np.column_stack([np.bincount(visits.block, visits.weight * column) for column in joined.T])
    weights = np.bincount(visits.block, visits.weight)
    shrink = 1.0 + wander**2 * weights
    full -= sums.T @ ((wander**2 / shrink)[:, None] * sums)
    known = np.bincount(visits.owner, weights / shrink)
    level = np.column_stack([np.bincount(visits.owner, column / shrink) for column in sums.T])
    full -= level.T @ (level / known[:, None])
    determinants = float(np.log(shrink).sum() + np.log(known).sum())
    return full[:4, :4], full[:4, 4], float(full[4, 4]), determinants


def _posterior(
    square: Floats, cross: Floats, total: float, determinants: float, *, amplitude: float
) -> tuple[Floats, Floats, float]:
    """Coefficients, their covariance and the log likelihood at one point of the grids."""
    if amplitude == 0.0:
        return np.zeros(4), np.zeros((4, 4)), -0.5 * (total + determinants)
    prior = (amplitude * _SMALLER) ** 2
    precision = square + np.diag(1.0 / prior)
    covariance = np.asarray(np.linalg.inv(precision), dtype=np.float64)
    mean = covariance @ cross
    size = float(np.linalg.slogdet(precision)[1] + np.log(prior).sum())
    return mean, covariance, -0.5 * (total - float(cross @ mean) + determinants + size)

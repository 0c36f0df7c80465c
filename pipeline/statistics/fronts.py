"""What all pilots of a day share: residuals, days and pilots in, each landing's share of that day's weather out.

The weather that no log tells lasts a few days and meets everybody. What the others' landings of a day and its
neighbours say of it is taken out of a pilot's own; his landings are not asked, so that his change stays his. What all
share for longer than a season's quarter is left in: that is a change of everybody, not weather.
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np

from pipeline.recording import Floats
from pipeline.statistics.standing import Ints

COHORT_PILOTS = 8
SLOW_LAGS = (15, 29)
"""Days apart between which two landings share no front any more, only what is slow."""

SLOW_WINDOW_DAYS = 91
SIGNIFICANT = 3.0
"""Standard errors a front must stand out by: our own choice."""

_CLIP = 3.0
_TOGETHER = 256


@dataclass(frozen=True)
class Fronts:
    """`effect` and `effect_u` (n,) in the measure's unit; `spread` of a front and what it keeps `overnight`.

    All zero where the pilots share nothing beyond chance.
    """

    effect: Floats
    effect_u: Floats
    spread: float
    overnight: float


def fronts(residual: Floats, day: Ints, *, pilot: Ints, block: Ints) -> Fronts:
    """Estimate what the pilots of each day share.

    Parameters
    ----------
    residual : (n,) values with all other conditions taken out.
    day : (n,) day numbers, from 0; -1 where not known.
    pilot, block : (n,) numbers 0, 1, ...; a block is a stretch of one pilot's landings.
    """
    none = Fronts(np.zeros(residual.size), np.zeros(residual.size), 0.0, 0.0)
    dated = np.flatnonzero(day >= 0)
    if np.unique(pilot[dated]).size < COHORT_PILOTS:
        return none
    mine = residual - (np.bincount(block, residual) / np.maximum(np.bincount(block), 1))[block]
    spread = 1.4826 * float(np.median(np.abs(mine[dated])))
    if spread <= 0.0:
        return none
    scaled = np.clip(mine[dated] / spread, -_CLIP, _CLIP)
    visits = _visits(scaled, day[dated], pilot[dated])
    variance, overnight = _shared(*visits)
    if variance <= 0.0:
        return none
    effect, effect_u = np.zeros(residual.size), np.zeros(residual.size)
    effect[dated], effect_u[dated] = _others(visits, day[dated], pilot[dated], variance, overnight)
    return Fronts(spread * effect, spread * effect_u, spread * sqrt(variance), overnight)


def _visits(scaled: Floats, day: Ints, pilot: Ints) -> tuple[Ints, Ints, Floats]:
    """Day, pilot and mean of each pilot's landings of a day."""
    key = day * (int(pilot.max()) + 1) + pilot
    _, first, code = np.unique(key, return_index=True, return_inverse=True)
    return day[first], pilot[first], np.bincount(code, scaled) / np.bincount(code)


def _shared(day: Ints, pilot: Ints, mean: Floats) -> tuple[float, float]:
    """Variance of what two pilots of one day share, less what they share weeks apart, and how much the next day keeps.

    Zero where it does not stand out from the chance agreement of so many pairs.
    """
    here, pairs = _products(day, pilot, mean, lag=0)
    next_day, _ = _products(day, pilot, mean, lag=1)
    slow = float(np.mean([_products(day, pilot, mean, lag=lag)[0] for lag in range(*SLOW_LAGS)]))
    variance = here - slow
    if pairs < 1 or variance < SIGNIFICANT * float(np.var(mean)) / sqrt(pairs):
        return 0.0, 0.0
    return variance, min(max((next_day - slow) / variance, 0.0), 0.9)


def _products(day: Ints, pilot: Ints, mean: Floats, *, lag: int) -> tuple[float, float]:
    """Mean product of the means of two different pilots `lag` days apart, and the number of pairs."""
    days = int(day.max()) + 1
    sums, counts = np.bincount(day, mean, minlength=days), np.bincount(day, minlength=days).astype(float)
    product, pairs = float(sums[lag:] @ sums[: days - lag]), float(counts[lag:] @ counts[: days - lag])
    key, later = day * (int(pilot.max()) + 1) + pilot, (day + lag) * (int(pilot.max()) + 1) + pilot
    at = np.searchsorted(key, later)
    same = np.flatnonzero((at < key.size) & (key[np.minimum(at, key.size - 1)] == later))
    own, own_pairs = float(mean[same] @ mean[at[same]]), float(same.size)
    if lag == 0:
        product, pairs = product / 2.0 - own / 2.0, (pairs - own_pairs) / 2.0
    else:
        product, pairs = product - own, pairs - own_pairs
    return product / max(pairs, 1.0), pairs


def _others(
    visits: tuple[Ints, Ints, Floats], day: Ints, pilot: Ints, variance: float, overnight: float
) -> tuple[Floats, Floats]:
    """Front of each landing's day as the other pilots tell it, without what is slow, and its uncertainty, (n,) each."""
    at, who, mean = visits
    days = int(at.max()) + 1
    noise = max(float(np.var(mean)) - variance, 0.25 * float(np.var(mean)))
    weights = np.bincount(at, minlength=days) / noise
    totals = np.bincount(at, mean, minlength=days) / noise
    effect, effect_u = np.zeros(day.size), np.zeros(day.size)
    for start in range(0, int(pilot.max()) + 1, _TOGETHER):
        some = (who >= start) & (who < start + _TOGETHER)
        weight, total = (np.repeat(x[:, None], _TOGETHER, axis=1) for x in (weights, totals))
        weight[at[some], who[some] - start] -= 1.0 / noise
        total[at[some], who[some] - start] -= mean[some] / noise
        front, left = _smoothed(weight, total, variance, overnight)
        front -= _slow(front)
        mine = (pilot >= start) & (pilot < start + _TOGETHER)
        effect[mine] = front[day[mine], pilot[mine] - start]
        effect_u[mine] = np.sqrt(left[day[mine], pilot[mine] - start])
    return effect, effect_u


def _smoothed(weight: Floats, total: Floats, variance: float, overnight: float) -> tuple[Floats, Floats]:
    """Mean and variance of an AR(1) front on every day (rows), for every pilot's view (columns).

    The two-filter form of the Kalman smoother (Fraser and Potter 1969, IEEE Trans. Automatic Control 14:387-390; from
    memory): what earlier days say, what later days say, and the day itself, added as information.
    """
    ahead = _passed(weight, total, variance, overnight)
    behind = tuple(x[::-1] for x in _passed(weight[::-1], total[::-1], variance, overnight))
    information = ahead[0] + behind[0] + weight - 1.0 / variance
    return (ahead[1] + behind[1] + total) / information, 1.0 / information


def _passed(weight: Floats, total: Floats, variance: float, overnight: float) -> tuple[Floats, Floats]:
    """Information and information-weighted mean of each day's front from the days before it, its prior included."""
    information, told = np.empty_like(weight), np.empty_like(total)
    information[0], told[0] = 1.0 / variance, 0.0
    fresh = variance * (1.0 - overnight**2)
    for t in range(1, len(weight)):
        known = information[t - 1] + weight[t - 1]
        mean = overnight * (told[t - 1] + total[t - 1]) / known
        information[t] = 1.0 / (overnight**2 / known + fresh)
        told[t] = mean * information[t]
    return information, told


def _slow(front: Floats) -> Floats:
    """Mean over a window of about a season's quarter round each day, shorter at both ends."""
    half = SLOW_WINDOW_DAYS // 2
    sums = np.vstack([np.zeros((1, front.shape[1])), np.cumsum(front, axis=0)])
    day = np.arange(len(front))
    first, last = np.maximum(day - half, 0), np.minimum(day + half + 1, len(front))
    return (sums[last] - sums[first]) / (last - first)[:, None]

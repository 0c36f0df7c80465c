"""The drift chart of one pilot: values in flying order in, standing, chart and signals out.

Published parts: the tabular CUSUM (Page 1954, Biometrika 41:100-115) on scores against the pilot's own growing
baseline. The limit falls as the baseline grows; it was found by simulation (tests/bench/false_alarms.py), because
a limit for known mean and spread breaks its promise when both are estimated.
"""

from dataclasses import dataclass, field
from math import log

import numpy as np
from numpy.typing import NDArray

from pipeline.recording import Floats
from pipeline.statistics.standing import Ints, Sessions, freed_of_session, lay_out, normal_scores, session_correlation

SLACK = 0.375
"""Half the shift, in own spreads, the chart is tuned to find: the middle of slow (0.5) and plain (1.0) drift."""

LEARN_LANDINGS = 60
LEARN_WORTH = 30.0
REFIT_EVERY = 30
CLOSE_AFTER = 30
"""Landings back inside after which a flag closes."""

Limits = tuple[tuple[float, float], ...]

LIMITS: Limits = (
    (15.0, 40.0),
    (30.0, 17.2),
    (60.0, 9.55),
    (120.0, 8.45),
    (240.0, 7.63),
    (480.0, 7.35),
    (960.0, 7.3),
    (4000.0, 7.3),
)
"""Worth of the baseline in independent landings, and the decision limit: for one false alarm in 2,000 landings of one
chart. Found by `python tests/bench/false_alarms.py calibrate` (mean of its rounds, rounded); the last is the limit for
known mean and spread, `run_length.cusum_limit(2000, k=SLACK)`."""


def limit(worth: float, limits: Limits = LIMITS) -> float:
    """Decision limit for a baseline worth so many independent landings; linear in the logarithm between the table's."""
    worth = min(max(worth, limits[0][0]), limits[-1][0])
    right = next(i for i in range(1, len(limits)) if worth <= limits[i][0])
    (x0, h0), (x1, h1) = limits[right - 1], limits[right]
    return h0 + (h1 - h0) * log(worth / x0) / log(x1 / x0)


@dataclass
class Signal:
    """One flag: indices into the landings; `baseline` is how many first landings it was held against.

    `last` is the newest landing on which the chart stood above the limit.
    """

    at: int
    change: int
    baseline: int
    last: int
    open: bool = True


@dataclass
class OwnChart:
    """What the chart shows, each (n,) in flying order; the first four are NaN while learning.

    `standing` is N(0, 1) in control; `against` is what the baseline it is held against is worth in independent
    landings; `flagged` says a flag was open; `worth` is each landing's worth in independent
    landings; `baseline` counts the landings the newest standing is held against, 0 while learning.
    """

    standing: Floats
    cusum: Floats
    limit: Floats
    against: Floats
    flagged: NDArray[np.bool_]
    worth: Floats
    baseline: int
    signals: list[Signal] = field(default_factory=list)


@dataclass
class _Baseline:
    """The first `size` landings as the reference: scores of all landings against them and their running sums."""

    freed: list[float]
    reach: list[float]
    size: int
    worth: float
    product: float
    square: float

    def grow(self, to: int) -> None:
        for i in range(self.size, to):
            self.worth += self.reach[i] ** 2
            self.product += self.reach[i] * self.freed[i]
            self.square += self.freed[i] ** 2
        self.size = to

    @property
    def mean(self) -> float:
        return self.product / self.worth

    @property
    def sd(self) -> float:
        return max((self.square - self.product * self.mean) / (self.size - 1), 1e-6) ** 0.5


def _fit(values: Floats, sessions: Sessions, noise: Floats, size: int, pool: Floats | None) -> _Baseline:
    """Score all landings against the first `size`: by rank among them, or in `pool` after own centre and spread."""
    weight = noise[:size] ** -2.0
    centre = float(weight @ values[:size] / weight.sum())
    scaled = (values - centre) / noise
    if pool is None:
        scores = normal_scores(scaled, np.sort(scaled[:size]), members=size)
    else:
        spread = max(float(np.std(scaled[:size], ddof=1)), 1e-12)
        scores = normal_scores(scaled / spread, pool)
    correlation = session_correlation(scores[:size], sessions.code[:size])
    freed, reach = freed_of_session(scores, sessions, correlation=correlation)
    reach = reach / noise
    baseline = _Baseline(freed.tolist(), reach.tolist(), 0, 0.0, 0.0, 0.0)
    baseline.grow(size)
    return baseline


def _learn(values: Floats, sessions: Sessions, noise: Floats, pool: Floats | None) -> _Baseline | None:
    """First baseline of at least 60 landings worth at least 30 independent ones; None where there are too few."""
    for size in range(LEARN_LANDINGS, values.size + 1, 10):
        baseline = _fit(values, sessions, noise, size, pool)
        if baseline.worth >= LEARN_WORTH:
            return baseline
    return None


def own_chart(
    values: Floats, code: Ints, *, noise: Floats | None = None, pool: Floats | None = None, limits: Limits = LIMITS
) -> OwnChart:
    """Run the chart over one pilot's landings.

    The baseline is all landings before the chart last stood at zero, so it grows with the pilot but does not take in
    a drift. After a flag it stands still until 30 landings in a row ended below the limit (the chart is held at the
    limit meanwhile, so that coming back shows); then the flag closes and all landings so far are the baseline.

    Parameters
    ----------
    values : (n,) residuals in flying order, larger toward what is watched for, no NaN.
    code : (n,) session numbers.
    noise : (n,) total spread of each value relative to the typical landing's (1 where measuring adds no more than
        usual); None for all 1.
    pool : (m,) sorted standardised residuals of the cohort that give the shape; None to rank among the pilot's own.
    limits : table of decision limits; the default promises one false alarm in 1,000 landings over two charts.
    """
    noise = np.ones(values.size) if noise is None else noise
    sessions = lay_out(code)
    chart = _blank(values.size)
    base = _learn(values, sessions, noise, pool)
    while base is not None:
        chart.worth, chart.baseline = np.square(base.reach), base.size
        grown = _watch(base, chart, limits)
        base = None if grown is None else _fit(values, sessions, noise, grown, pool)
    return chart


def _blank(n: int) -> OwnChart:
    standing, cusum, limits, against = (np.full(n, np.nan) for _ in range(4))
    return OwnChart(standing, cusum, limits, against, np.zeros(n, dtype=bool), np.ones(n), 0)


def _watch(base: _Baseline, chart: OwnChart, limits: Limits) -> int | None:
    """Fill `chart` from the first landing after the baseline until it has grown enough to be fitted again.

    Returns
    -------
    The size to fit at, or None at the last landing.
    """
    refit_at, c, inside, signal = base.size + REFIT_EVERY, 0.0, 0, None
    mean, sd, h = base.mean, base.sd, limit(base.worth, limits)
    for t in range(base.size, len(base.freed)):
        reach = base.reach[t]
        standing = (base.freed[t] - reach * mean) / sd
        c = max(0.0, c + reach * (standing - SLACK * reach))
        chart.standing[t], chart.cusum[t], chart.limit[t], chart.against[t] = standing, c, h, base.worth
        if signal is None and c > h:
            signal = Signal(at=t, change=base.size, baseline=base.size, last=t)
            chart.signals.append(signal)
        if signal is not None:
            c, inside = _follow(signal, c, h, inside, t)
            chart.flagged[t] = True
            signal = signal if signal.open else None
        if signal is None and c == 0.0:
            base.grow(t + 1)
            chart.baseline = base.size
            if base.size >= refit_at:
                return base.size
            mean, sd, h = base.mean, base.sd, limit(base.worth, limits)
    return None


def _follow(signal: Signal, c: float, h: float, inside: int, t: int) -> tuple[float, int]:
    """One landing of an open flag: hold the chart at the limit, count landings back inside, close after enough."""
    inside = inside + 1 if c < h else 0
    signal.last = t if inside == 0 else signal.last
    if inside < CLOSE_AFTER:
        return min(c, h), inside
    signal.open = False
    return 0.0, 0

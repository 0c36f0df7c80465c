"""How often the drift watch flags pilots who did not change, and how soon it finds those who did, by simulation.

    python tests/bench/false_alarms.py            achieved rates and detection shares (a few minutes on one core)
    python tests/bench/false_alarms.py calibrate  refines the table of limits (three rounds of two minutes)

Streams are normal with equal correlation within sessions, heavy-tailed, or skewed; every seed is printed.
"""

import math
import sys
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from pipeline.statistics.drift import POOL_PILOTS
from pipeline.statistics.own_chart import LIMITS, SLACK, Limits, own_chart

CHARTS = 2
PROMISE = 1.0 / 1000.0
"""False alarms a landing over all charts."""

SIZES = ("1", "3", "6", "12", "mixed")
CORRELATIONS = (0.0, 0.15, 0.3)
CAREERS = {"pilots": 1000, "landings": 1000}
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Pattern:
    """How one pilot flies: landings a session ("mixed": 1 to 12), correlation within it, shape of the residuals."""

    size: str = "mixed"
    correlation: float = 0.15
    shape: str = "normal"


WORST = (Pattern("1", 0.0), Pattern("3", 0.15), Pattern("3", 0.3), Pattern("6", 0.15))
"""Patterns that alarm most often: the limits keep the promise for them, and alarm less for all others."""


def invent(rng: np.random.Generator, landings: int, pattern: Pattern) -> tuple[Floats, NDArray[np.int64]]:
    """One pilot who does not change: residuals with mean 0 and spread 1, and their session numbers."""
    sizes = rng.integers(1, 13, landings) if pattern.size == "mixed" else np.full(landings, int(pattern.size))
    code = np.repeat(np.arange(landings), sizes)[:landings]
    shared = rng.standard_normal(landings)[code]
    z = math.sqrt(pattern.correlation) * shared + math.sqrt(1.0 - pattern.correlation) * rng.standard_normal(landings)
    if pattern.shape == "skewed":
        z = (np.exp(0.5 * z) - math.exp(0.125)) / math.sqrt((math.exp(0.25) - 1.0) * math.exp(0.25))
    if pattern.shape == "heavy":
        z = np.sinh(0.7 * z) / math.sqrt(0.5 * (math.exp(2 * 0.49) - 1.0))
    return z, code


def rate(pattern: Pattern, *, seed: int, pilots: int, landings: int, limits: Limits = LIMITS) -> tuple[float, float]:
    """False alarms in 1,000 landings over both charts, all landings counted, and its standard error over pilots."""
    rng = np.random.default_rng(seed)
    counts = [len(own_chart(*invent(rng, landings, pattern), limits=limits).signals) for _ in range(pilots)]
    scale = 1000.0 * CHARTS / landings
    return scale * float(np.mean(counts)), scale * float(np.std(counts)) / math.sqrt(pilots)


def cohort_rate(pilots: int, pattern: Pattern, *, seed: int, cohorts: int, landings: int) -> tuple[float, float]:
    """As `rate` for cohorts, which share the shape of their standardised residuals where they are large enough."""
    rng = np.random.default_rng(seed)
    counts = []
    for _ in range(cohorts):
        streams = [invent(rng, landings, pattern) for _ in range(pilots)]
        parts = [(z - z.mean()) / z.std(ddof=1) for z, _ in streams]
        pool = np.sort(np.concatenate(parts)) if pilots >= POOL_PILOTS else None
        counts += [len(own_chart(z, code, pool=pool).signals) for z, code in streams]
    scale = 1000.0 * CHARTS / landings
    return scale * float(np.mean(counts)), scale * float(np.std(counts)) / math.sqrt(len(counts))


def found(pattern: Pattern, *, shift: float, within: int, after: int, seed: int, pilots: int) -> float:
    """Share of pilots flagged within so many landings of a lasting shift (own spreads) after so many landings."""
    rng = np.random.default_rng(seed)
    hits = trials = 0
    for _ in range(pilots):
        z, code = invent(rng, after + within, pattern)
        z[after:] += shift
        signals = own_chart(z, code).signals
        if any(signal.at < after and signal.open for signal in signals):
            continue  # a flag was already open: nothing to find
        trials += 1
        hits += any(signal.at >= after for signal in signals)
    return hits / trials


def _tally(limits: Limits, *, seed: int, pilots: int, landings: int) -> tuple[Floats, Floats]:
    """Alarms and landings watched by worth of the baseline, (nodes,) each, over the patterns that alarm most."""
    rng = np.random.default_rng(seed)
    edges = np.sqrt([a[0] * b[0] for a, b in pairwise(limits)])
    alarms, exposure = np.zeros(len(limits)), np.zeros(len(limits))
    for i in range(pilots):
        chart = own_chart(*invent(rng, landings, WORST[i % len(WORST)]), limits=limits)
        watched = chart.against[~np.isnan(chart.limit) & ~chart.flagged]
        exposure += np.bincount(np.searchsorted(edges, watched), minlength=len(limits))
        at = [signal.at for signal in chart.signals]
        alarms += np.bincount(np.searchsorted(edges, chart.against[at]), minlength=len(limits))
    return alarms, exposure


def calibrate(*, rounds: int, pilots: int, landings: int) -> Limits:
    """Move each limit until every stage of a career has the promised rate; prints each round."""
    limits = LIMITS
    for seed in range(1000, 1000 + rounds):
        alarms, exposure = _tally(limits, seed=seed, pilots=pilots, landings=landings)
        expected = exposure * PROMISE / CHARTS
        step = np.log((alarms + 3.0) / (expected + 3.0)) / (2.0 * SLACK)  # the rate falls as exp(-2 k h)
        step[exposure < 1000] = 0.0
        print(f"seed {seed}: per 1,000", np.round(1000 * CHARTS * alarms / np.maximum(exposure, 1.0), 2))  # noqa: T201
        limits = tuple((w, round(h + float(s), 2)) for (w, h), s in zip(limits, step, strict=True))
        print(limits, flush=True)  # noqa: T201
    return limits


def show() -> None:
    """Print achieved rates by session pattern, shape and cohort, and detection shares, each with its seed."""
    print("False alarms in 1,000 landings over both charts, careers of 1,000 landings, seed 1")  # noqa: T201
    for size in SIZES:
        for correlation in CORRELATIONS if size != "1" else (0.0,):
            _tell(f"sessions {size}, correlation {correlation}", rate(Pattern(size, correlation), seed=1, **CAREERS))
    for shape in ("skewed", "heavy"):
        _tell(f"mixed sessions, {shape}", rate(Pattern(shape=shape), seed=2, **CAREERS))
    for pilots, cohorts in ((1, 600), (3, 200), (12, 50), (100, 6)):
        _tell(f"cohort of {pilots}", cohort_rate(pilots, Pattern(), seed=3, cohorts=cohorts, landings=1000))
    for landings in (120, 250, 400):
        _tell(f"careers of {landings}", rate(Pattern(), seed=4, pilots=4000, landings=landings))
    print("Share found after 200 landings of own history, seed 5")  # noqa: T201
    for shift, within in ((1.0, 50), (0.5, 100), (0.5, 200)):
        shares = [found(Pattern(size), shift=shift, within=within, after=200, seed=5, pilots=600) for size in SIZES]
        print(f"  {shift} SD within {within}:", dict(zip(SIZES, np.round(shares, 2).tolist(), strict=True)), flush=True)  # noqa: T201


def _tell(what: str, achieved: tuple[float, float]) -> None:
    print(f"  {what}: {achieved[0]:.2f} +- {achieved[1]:.2f}", flush=True)  # noqa: T201


if __name__ == "__main__":
    if sys.argv[1:] == ["calibrate"]:
        calibrate(rounds=3, pilots=4500, landings=1500)
    else:
        show()

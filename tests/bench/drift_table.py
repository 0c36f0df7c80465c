"""The drift watch and the reviews against their goals, on invented cohorts: every row with its goal, seed and figure.

    python tests/bench/drift_table.py          the whole table (about six minutes on one core)
    python tests/bench/drift_table.py speed    one weekly update over 1,000,000 landings of 2,000 pilots

The promise for one pilot by session pattern is in false_alarms.py; here whole cohorts go through the whole watch.
"""

import resource
import sys
import time
from collections.abc import Callable, Iterable
from dataclasses import replace

import numpy as np
import polars as pl
from drift_world import Floats, World, cohort

from pipeline.statistics.charts import cusum
from pipeline.statistics.consistency import consistency
from pipeline.statistics.drift import watch
from pipeline.statistics.run_length import cusum_limit
from pipeline.statistics.spread import freedom, true_spreads
from pipeline.statistics.standing import freed_of_session, lay_out, normal_scores, session_correlation

HARSH = World(season=0.3, front=0.3, wind=0.5, miskeyed=0.1)
"""A season of 0.3, fronts of 0.3, wind of 0.5 spreads, and a mis-keyed tenth of sessions."""


def tell(what: str, goal: str, figure: str) -> None:
    """Print one row of the table."""
    print(f"{what:<88} goal {goal:<22} {figure}", flush=True)  # noqa: T201


def false_alarms(world: World, *, seeds: Iterable[int]) -> tuple[float, float, float]:
    """Flags in 1,000 landings over both charts: mean, its standard error over cohorts, and the worst tenth of pilots."""
    rates = []
    by_cohort = []
    for seed in seeds:
        flags = watch(cohort(world, seed=seed)).flags
        raised = dict(flags.group_by("pilot").len().iter_rows())
        each = [1000.0 * raised.get(f"P{i:03d}", 0) / world.landings for i in range(world.pilots)]
        rates += each
        by_cohort.append(np.mean(each))
    worst = np.sort(rates)[-max(len(rates) // 10, 1) :]
    return float(np.mean(rates)), float(np.std(by_cohort) / np.sqrt(len(by_cohort))), float(np.mean(worst))


def found(world: World, *, seeds: Iterable[int]) -> float:
    """Share of shifted pilots and charts flagged after the shift, of those without an open flag before it."""
    hits = trials = 0
    for seed in seeds:
        flags = watch(cohort(world, seed=seed)).flags
        late = pl.col("flagged_sequence") > world.landings - world.shifted
        before = flags.filter(~late, "open").select("pilot", "chart").rows()
        after = set(flags.filter(late).select("pilot", "chart").rows()) - set(before)
        hits, trials = hits + len(after), trials + 2 * world.pilots - len(before)
    return hits / trials


def run_length(
    draw: Callable[[np.random.Generator, int], Floats], *, seed: int, streams: int, session: int = 1
) -> float:
    """Mean run length of the watch's chart with a known shape and limits for 500, in landings."""
    rng = np.random.default_rng(seed)
    pool = np.sort(draw(rng, 6000))
    limit, total, n = cusum_limit(500.0, k=0.375), 0, 6000
    for _ in range(streams):
        code = np.arange(n) // session
        z = normal_scores(draw(rng, n), pool)
        y, reach = freed_of_session(z, lay_out(code), correlation=session_correlation(z, code) if session > 1 else 0.0)
        chart = cusum(reach * y - 0.375 * reach**2, target=0.0, slack=0.0)
        over = np.flatnonzero(chart > limit)
        total += int(over[0]) + 1 if over.size else n
    return total / streams


def chained(rng: np.random.Generator, n: int) -> Floats:
    """Normal values that keep 0.2 of the one before within sessions of six."""
    z = rng.standard_normal(n)
    for i in range(1, n):
        if i % 6:
            z[i] = 0.2 * z[i - 1] + np.sqrt(0.96) * z[i]
    return z


SHAPES: dict[str, tuple[Callable[[np.random.Generator, int], Floats], int]] = {
    "normal": (lambda rng, n: rng.standard_normal(n), 1),
    "skew 1": (lambda rng, n: rng.gamma(4.0, size=n), 1),
    "t5": (lambda rng, n: rng.standard_t(5, n), 1),
    "AR(1) 0.2 in sessions of 6": (chained, 6),
    "rounded to half a spread": (lambda rng, n: np.round(2.0 * rng.standard_normal(n)) / 2.0, 1),
}


def run_lengths() -> None:
    """Nominal 500 in control for every shape."""
    lengths = []
    for name, (draw, session) in SHAPES.items():
        lengths.append(run_length(draw, seed=21, streams=400, session=session))
        tell(f"run length, nominal 500, {name} (seed 21)", "400-625", f"{lengths[-1]:.0f} +- 5 %")
    tell("run length, nominal 500, pooled", "460-540", f"{np.mean(lengths):.0f}")


def promises() -> None:
    """False alarms of whole cohorts, without and with what a year brings."""
    for pilots, cohorts in ((1, 150), (3, 60), (12, 20), (100, 3)):
        for name, world, goal in (("unchanged", World(), "0.7-1.3, worst 3.6"), ("harsh", HARSH, "at most 1.5")):
            mean, error, worst = false_alarms(replace(world, pilots=pilots), seeds=range(100, 100 + cohorts))
            row = f"{mean:.2f} +- {error:.2f}, worst tenth of pilots {worst:.1f}"
            tell(f"false alarms in 1,000, {pilots} pilots, {name} (seeds 100-{99 + cohorts})", goal, row)
    for name, world in (
        ("12 pilots, a landing a session, harsh", replace(HARSH, size="1")),
        ("12 pilots, 500 a year, harsh", replace(HARSH, yearly=500.0, landings=1000)),
        ("12 pilots, a tenth of sessions another pilot's", World(swapped=0.1)),
    ):
        mean, error, worst = false_alarms(world, seeds=range(100, 112))
        tell(
            f"false alarms in 1,000, {name} (seeds 100-111)",
            "at most 1.5",
            f"{mean:.2f} +- {error:.2f}, worst {worst:.1f}",
        )


def powers() -> None:
    """Shifts found by cohorts of 12 and by lone pilots, without and with what a year brings."""
    for shift, within, goal in ((1.0, 50, "95 %"), (0.5, 100, "66 %"), (0.5, 200, "88 %")):
        for pilots, cohorts in ((1, 120), (12, 12)):
            for name, world in (("unchanged", World()), ("harsh", HARSH)):
                shifted = replace(world, pilots=pilots, landings=400 + within, shift=shift, shifted=within)
                share = found(shifted, seeds=range(300, 300 + cohorts))
                row = f"{shift} spreads within {within}, {pilots} pilots, {name} else (seeds 300-{299 + cohorts})"
                tell(row, goal if name == "unchanged" else "80 % (masked)", f"{share:.0%}")


def flags_are_real() -> None:
    """Chance of being real against what was: four of twenty pilots shift by 0.8 spreads 60 landings before the end."""
    told, true = [], []
    for seed in range(20):
        flags = watch(_four_shift(seed)).flags
        told += flags["chance_real"].to_list()
        true += ((flags["pilot"] < "P004") & (flags["flagged_sequence"] > 340)).to_list()
    chance, real = np.array(told), np.array(true)
    tell("flags real: told, was (seeds 0-19)", "alike", f"{chance.mean():.2f}, {real.mean():.2f} of {chance.size}")
    sure = chance >= 0.8
    tell("flags told real with 0.8 and more: false", "at most 12 %", f"{1.0 - real[sure].mean():.0%} of {sure.sum()}")


def _four_shift(seed: int) -> pl.DataFrame:
    world = World(pilots=20, landings=400)
    steady, shifted = cohort(world, seed=seed), cohort(replace(world, shift=0.8, shifted=60), seed=seed)
    return pl.concat([steady.filter(pl.col("pilot") >= "P004"), shifted.filter(pl.col("pilot") < "P004")])


def spreads() -> None:
    """Coverage and bias of spreads behind a poor recorder: 1,500 pilots, noise of 0.8 of a middle spread."""
    rng = np.random.default_rng(41)
    for n in (10, 40, 300):
        inside, off = [], []
        for _ in range(15):
            true = np.exp(rng.normal(0.0, 0.3, 100))
            x = true[:, None] * rng.standard_normal((100, n)) + 0.8 * rng.standard_normal((100, n))
            scaled = ((x - x.mean(axis=1, keepdims=True)) / x.std(axis=1, keepdims=True)).ravel()
            worth = freedom(np.full(100, float(n)), standardised=scaled)
            told = true_spreads(x.var(axis=1, ddof=1), worth, np.full(100, 0.64))
            inside.append(np.mean((told.low < true) & (true < told.high)))
            off.append(np.mean(np.log(told.spread / true)))
        tell(f"spread of {n} landings: 90 % intervals cover (seed 41)", "88-92 %", f"{np.mean(inside):.1%}")
        tell(f"spread of {n} landings: bias from the recorder", "under 4 %", f"{np.mean(off):+.1%}")


def reviews() -> None:
    """Pilots told at any review of 43 weeks that something changed, when nothing did."""
    for name, world in (("unchanged", World()), ("harsh", HARSH)):
        flown = replace(world, landings=300, yearly=360.0)
        ever = sum(_ever_told(cohort(flown, seed=seed)) for seed in range(20))
        tell(
            f"told a change ever over 43 weekly looks, {name} (seeds 0-19)",
            "at most 10 %",
            f"{ever / (20 * flown.pilots):.1%}",
        )


def _ever_told(landings: pl.DataFrame) -> int:
    """Pilots with a word other than "cannot tell yet" at any weekly look; only reviews can change what is said."""
    told: set[str] = set()
    for n in range(100, 301, 50):
        seen = landings.filter(pl.int_range(pl.len()).over("pilot") < n)
        told |= set(consistency(seen).review.filter(pl.col("said") != "cannot tell yet")["pilot"])
    return len(told)


def speed() -> None:
    """Time and memory of the statistics of one week over 1,000,000 landings."""
    landings = cohort(World(pilots=2000, landings=500), seed=1)
    began = time.monotonic()
    for name, step in (("watch", watch), ("consistency", consistency)):
        at = time.monotonic()
        step(landings)  # type: ignore[operator]
        tell(f"{name}, 1,000,000 landings of 2,000 pilots", "", f"{time.monotonic() - at:.0f} s")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6
    tell("drift and consistency together", "minutes, under 4 GB", f"{time.monotonic() - began:.0f} s, {peak:.1f} GB")


if __name__ == "__main__":
    if sys.argv[1:] == ["speed"]:
        speed()
    else:
        for part in (run_lengths, promises, powers, flags_are_real, spreads, reviews):
            part()

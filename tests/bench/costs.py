"""Styles, differences that go with faults, tails, expectations and trials, against known truth, by simulation.

    python tests/bench/costs.py            prints what was reached beside what was set out to reach (some ten minutes)
    python tests/bench/costs.py quick      a fifth of the simulations

Every row names its seeds. Nothing here is tuned to a seed: the first so many are taken.
"""

import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import polars as pl
from numpy.typing import NDArray
from scipy.stats import gamma
from sklearn.metrics import adjusted_rand_score
from sklearn.preprocessing import PowerTransformer

sys.path.insert(0, str(Path(__file__).parent))
from cost_world import LONGER_FT, TRUTH, invent

from pipeline.statistics.chosen import to_work_on
from pipeline.statistics.costs import fault_costs
from pipeline.statistics.expected import predicted
from pipeline.statistics.mixture import assign, fit
from pipeline.statistics.tail import tail_risk
from pipeline.statistics.trial import judge
from pipeline.statistics.trial_plan import Series

Floats = NDArray[np.float64]
Row = tuple[str, str, str]
SHARES = [0.35, 0.25, 0.2, 0.12, 0.08]


def evened(x: Floats) -> Floats:
    """Points made as normal as a power can and pulled in, as styles are."""
    return np.clip(PowerTransformer().fit_transform(x), -3.5, 3.5)


def groups_of_one(shape: str, n: int, seed: int) -> int:
    """Groups of 5 % or more found in points (n, 5) that are one group."""
    rng = np.random.default_rng(seed)
    x = rng.standard_t(5, (n, 5)) if shape == "heavy" else rng.standard_normal((n, 5))
    points = evened(np.exp(0.5 * x) if shape == "skewed" else x)
    count = np.bincount(assign(points, fit(points, seed=0))[0].argmax(axis=1))
    return int(np.sum(count >= 0.05 * n))


def agreement_of_five(apart: float, n: int, seed: int) -> float:
    """Adjusted Rand index of five groups, `apart` spreads from each other, of unequal shares."""
    rng = np.random.default_rng(seed)
    label = rng.choice(5, n, p=SHARES)
    points = evened(apart / np.sqrt(2.0) * np.eye(6)[label] + rng.standard_normal((n, 6)))
    return float(adjusted_rand_score(label, assign(points, fit(points, seed=0))[0].argmax(axis=1)))


def styles(seeds: int) -> Iterator[Row]:
    """One style called one, and five told apart."""
    called = {
        (shape, n): [groups_of_one(shape, n, s) == 1 for s in range(seeds)]
        for shape in ("normal", "skewed", "heavy")
        for n in (300, 2000)
    }
    each = ", ".join(f"{shape} {n}: {np.mean(one):.0%}" for (shape, n), one in called.items())
    yield f"one style called one ({each}), {seeds} seeds each", "97 %", f"{np.mean(list(called.values())):.1%}"
    for apart, n, goal in ((5.0, 2000, "0.92"), (6.0, 300, "0.85")):
        found = [agreement_of_five(apart, n, s) for s in range(seeds)]
        text = f"{np.mean(found):.3f} (least {min(found):.2f})"
        yield f"five styles {apart:g} SD apart, {n} landings: adjusted Rand index, {seeds} seeds", goal, text


def costs(seeds: int) -> Iterator[Row]:
    """Differences and their intervals, adjusted for all other faults, under confounding."""
    hits: list[bool] = []
    false: list[bool] = []
    bias: dict[tuple[str, str], list[float]] = {}
    plain: dict[tuple[str, str], list[float]] = {}
    for seed in range(seeds):
        world = invent(seed)
        for row in fault_costs(world.landings, world.faults).iter_rows(named=True):
            if row["outcome"] not in TRUTH:
                continue
            truth = TRUTH[row["outcome"]][row["fault"]]
            inside = row["alone_low"] <= truth <= row["alone_high"]
            hits.append(inside)
            false += [not inside] if truth == 0.0 else []
            key = (row["fault"], "fpm" if row["outcome"].endswith("fpm") else "ft")
            bias.setdefault(key, []).append(row["alone"] - truth)
            plain.setdefault(key, []).append(_plain(world.landings, world.there[row["fault"]], row["outcome"]) - truth)
    yield f"differences: 90 % intervals that cover, {seeds} seeds", "87-93 %", f"{np.mean(hits):.1%} of {len(hits)}"
    yield "zero differences told as some", "at most 13 %", f"{np.mean(false):.1%} of {len(false)}"
    for (fault, unit), away in bias.items():
        found = f"{np.mean(away):+.1f} {unit} (with/without compared plainly {np.mean(plain[fault, unit]):+.1f})"
        yield f"error of the difference, {fault}", "", found


def _plain(landings: pl.DataFrame, there: Floats, outcome: str) -> float:
    y = landings[outcome].to_numpy() * (-1.0 if outcome.endswith("fpm") else 1.0)
    return float(y[there > 0.5].mean() - y[there < 0.5].mean())


def chosen(seeds: int) -> Iterator[Row]:
    """Burden of the chosen faults against the truth, on the sessions that did not choose."""
    told, true, inside = [], [], []
    for seed in range(seeds):
        world = invent(100 + seed)
        for row in to_work_on(world.landings, world.faults).iter_rows(named=True):
            by = TRUTH.get(row["outcome"], LONGER_FT)[row["fault"]]
            own = world.pilot == int(row["pilot"][1:])
            truth = by * float(world.there[row["fault"]][own].mean())
            told.append(row["burden"] / max(by, 1.0))
            true.append(truth / max(by, 1.0))
            inside.append(row["burden_low"] <= truth <= row["burden_high"])
    bias = np.mean(told) / np.mean(true) - 1.0
    yield f"two faults chosen: bias of share times difference, {seeds} seeds", "under 10 %", f"{bias:+.1%}"
    yield "the same: 90 % intervals that cover", "", f"{np.mean(inside):.1%} of {len(inside)}"


def tails(seeds: int) -> Iterator[Row]:
    """Probability of a value above a limit that few pilots ever passed; residuals of skew 1, sessions of three."""
    pooled, counted, inside, under = [], [], [], []
    for seed in range(seeds):
        frame, truth, limit = _skewed_cohort(seed, pilots=100)
        own = tail_risk(frame, limit=limit).rows.drop_nulls("pilot")
        p, low, high, upper, count = (
            own[c].to_numpy() for c in ("probability", "probability_low", "probability_high", "upper", "counted")
        )
        pooled.append(np.log10(p / truth))
        counted.append(np.log10(count / truth))
        inside.append((low <= truth) & (truth <= high))
        under.append(truth <= upper)
    error, other = (float(np.sqrt(np.mean(np.square(e)))) for e in (pooled, counted))
    yield (
        f"tail: error of log10, {seeds} seeds of 100 pilots",
        "at most 0.35",
        f"{error:.2f} (counted only {other:.2f})",
    )
    yield "tail: 90 % intervals that cover", "84-95 %", f"{np.mean(inside):.1%}"
    yield "tail: truth under the upper bound shown", "", f"{np.mean(under):.1%}"


def _skewed_cohort(seed: int, *, pilots: int) -> tuple[pl.DataFrame, Floats, float]:
    rng = np.random.default_rng(seed)
    limit = 4.0
    each = rng.integers(40, 301, pilots)
    level, spread = rng.normal(0.0, 0.6, pilots), np.exp(rng.normal(0.0, 0.2, pilots))
    pilot = np.repeat(np.arange(pilots), each)
    value = level[pilot] + spread[pilot] * (rng.gamma(4.0, 1.0, pilot.size) - 4.0) / 2.0
    names = pl.Series("pilot", [f"P{p:03d}" for p in pilot])
    session = pl.Series("session", [f"{p}-{i // 3}" for i, p in enumerate(pilot)])
    return (
        pl.DataFrame([names, session, pl.Series("value", value)]),
        gamma.sf(4.0 + 2.0 * (limit - level) / spread, 4.0),
        limit,
    )


def expectations(seeds: int) -> Iterator[Row]:
    """Intervals of an outcome by state: skewed, wider in gusts, sessions that agree, and pilots of one session only."""
    inside, third, new = [], [], []
    for seed in range(seeds):
        rng = np.random.default_rng(seed)
        pilot = np.concatenate([np.repeat(np.arange(50), 60), np.repeat(np.arange(50, 60), 3)])
        session, n = np.arange(pilot.size) // 3, pilot.size
        x = np.column_stack([rng.normal(50.0, 8.0, n), rng.normal(5.0, 5.0, n), np.abs(rng.normal(6.0, 4.0, n))])
        residual = 200.0 * np.exp(0.05 * (x[:, 2] - 6.0)) * (rng.gamma(4.0, 1.0, n) - 4.0) / 2.0
        shared = 60.0 * rng.standard_normal(session[-1] + 1)[session]
        y = x @ [15.0, 20.0, 0.0] + rng.normal(0.0, 100.0, 60)[pilot] + residual + shared
        low, _, high, _ = predicted(x, y, pilot=pilot, session=session)
        inside.append((low <= y) & (y <= high))
        third.append(np.digitize(x[:, 2], np.quantile(x[:, 2], [1 / 3, 2 / 3])))
        new.append(pilot >= 50)
    held, part, unseen = np.concatenate(inside), np.concatenate(third), np.concatenate(new)
    yield f"expected landing: 90 % intervals that hold, {seeds} seeds", "88-92 %", f"{held[~unseen].mean():.1%}"
    thirds = ", ".join(f"{held[part == k].mean():.1%}" for k in range(3))
    yield "the same by third of gust", "86-94 %", thirds
    yield f"the same, pilots never seen ({int(unseen.sum())} landings)", "86-94 %", f"{held[unseen].mean():.1%}"


def trials(seeds: int) -> Iterator[Row]:
    """Trials declared at any time, or just after the worst twenty landings of a pilot's history."""
    for worst in (False, True):
        for size, agreement in ((1, 0.0), (3, 0.2)):
            shown: dict[float, list[bool | None]] = {0.0: [], 0.5: []}
            for seed in range(seeds):
                values, code, at = _career(seed, size, agreement, worst=worst)
                for change in shown:
                    moved = values + change * (np.arange(values.size) >= at)
                    verdict = judge(Series(moved, code), declared=at, toward="higher")
                    shown[change] += [verdict.shown] if verdict.state == "reported" else []
            when = "after the worst twenty" if worst else "at landing 180"
            what = f"trials declared {when}, sessions of {size}, {seeds} seeds"
            yield f"{what}: no effect told as one", "at most 6 %", f"{np.mean(shown[0.0]):.1%}"
            yield f"{what}: half a spread found", "80 %", f"{np.mean(shown[0.5]):.1%}"


def _career(seed: int, size: int, agreement: float, *, worst: bool) -> tuple[Floats, NDArray[np.int64], int]:
    rng = np.random.default_rng(seed)
    code = np.arange(540) // size
    z = np.sqrt(agreement) * rng.standard_normal(540)[code] + np.sqrt(1.0 - agreement) * rng.standard_normal(540)
    means = [z[i - 20 : i].mean() for i in range(60, 180)]
    return z, code, 60 + int(np.argmin(means)) if worst else 180


def duration() -> Iterator[Row]:
    """One type: fit on 20,000 landings and assign a million."""
    rng = np.random.default_rng(0)
    label = rng.choice(5, 20_000, p=SHARES)
    points = evened(5.0 / np.sqrt(2.0) * np.eye(6)[label] + rng.standard_normal((20_000, 6)))
    began = time.perf_counter()
    mixture = fit(points, seed=0, starts=3)
    fitted = time.perf_counter()
    assign(np.tile(points, (50, 1)), mixture)
    done = time.perf_counter()
    text = f"{fitted - began:.0f} s + {done - fitted:.0f} s"
    yield "fit on 20,000, assign 1,000,000 (seed 0)", "under 120 s", text


def show(*, part: int) -> None:
    """Print every row as it is reached; `part` divides the number of seeds."""
    for rows in (
        costs(50 // part),
        chosen(20 // part),
        tails(20 // part),
        expectations(20 // part),
        trials(1000 // part),
        duration(),
        styles(15 // part),
    ):
        for what, goal, reached in rows:
            print(f"{what:<100} | {goal:<12} | {reached}", flush=True)  # noqa: T201


if __name__ == "__main__":
    show(part=5 if sys.argv[1:] == ["quick"] else 1)

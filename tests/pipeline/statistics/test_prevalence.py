"""Shares of faults that do not depend on the recorder, with intervals that hold."""

import numpy as np
import polars as pl
import pytest
from scipy.stats import norm

from pipeline.faults.judging import SCHEMA as FAULT
from pipeline.statistics.prevalence import LEAST_LANDINGS, beyond, prevalence, resampled

TRUTH = float(norm.sf(1.0))


def judged(truth: np.ndarray, u: float, *, seed: int, fault: str = "float", per_session: int = 3) -> pl.DataFrame:
    """Fault rows of landings whose true margins are `truth`, measured to `u`."""
    value = 6.0 + truth + u * np.random.default_rng(seed).normal(size=len(truth))
    probability = norm.cdf((value - 6.0) / u)
    return pl.DataFrame(
        {
            "landing_id": [f"l{i}" for i in range(len(truth))],
            "fault": [fault] * len(truth),
            "verdict": ["seen" if p >= 0.95 else "cannot_tell" for p in probability],
            "probability": probability,
            "value": value,
            "value_u": np.full(len(truth), u),
            "limit_value": np.full(len(truth), 6.0),
            "reason": [None] * len(truth),
        },
        schema=FAULT,
    ).with_columns(session=pl.Series(np.arange(len(truth)) // per_session))


@pytest.mark.parametrize("u", [0.1, 0.3, 0.6, 1.0])
def test_the_share_is_the_same_by_every_recorder(u: float) -> None:
    """A true 15.9 % reads 15.9 % at errors from a tenth of the spread to all of it; counting the sure would not."""
    truths = [np.random.default_rng(seed).normal(-1.0, 1.0, 300) for seed in range(40)]
    found = [prevalence(judged(t, u, seed=900 + i)).row(0, named=True) for i, t in enumerate(truths)]
    assert np.mean([row["share"] for row in found]) == pytest.approx(TRUTH, abs=0.02)
    counted = np.mean([row["seen"] / row["n"] for row in found])
    assert counted < TRUTH - 0.02


@pytest.mark.parametrize("u", [0.2, 0.8])
def test_intervals_of_nine_in_ten_hold_about_nine_in_ten(u: float) -> None:
    """Over 120 pilots with 120 landings each, the interval holds the true share 80 to 98 times in a hundred."""
    held = 0
    for seed in range(120):
        truth = np.random.default_rng(seed).normal(-1.0, 1.0, 120)
        row = prevalence(judged(truth, u, seed=5000 + seed)).row(0, named=True)
        held += row["share_low"] <= TRUTH <= row["share_high"]
    assert 0.80 <= held / 120 <= 0.98


def test_a_fault_never_seen_is_not_said_to_be_impossible() -> None:
    """Thirty landings well inside the limit leave room for a few in a hundred."""
    row = prevalence(judged(np.full(30, -3.0), 0.2, seed=1)).row(0, named=True)
    assert row["share"] < 0.001
    assert 0.02 < row["share_high"] < 0.12


def test_sessions_that_are_alike_widen_the_interval() -> None:
    """The same landings in sessions of ten that are all alike tell less than if each were its own."""
    draw = np.random.default_rng(4)
    truth = np.repeat(draw.normal(-1.0, 1.0, 20), 10)
    alone, alike = (prevalence(judged(truth, 0.1, seed=2, per_session=k)).row(0, named=True) for k in (1, 10))
    assert alike["share_high"] - alike["share_low"] > 1.5 * (alone["share_high"] - alone["share_low"])


def test_few_landings_tell_no_share() -> None:
    """Below the least number of landings there is no row at all."""
    assert prevalence(judged(np.zeros(LEAST_LANDINGS - 1), 0.1, seed=1)).is_empty()


def test_what_cannot_be_judged_is_counted_beside() -> None:
    """Landings without a probability do not enter the share and are told."""
    rows = judged(np.full(60, 1.0), 0.1, seed=3)
    lost = rows.with_columns(
        pl.when(pl.int_range(pl.len()) < 10).then(None).otherwise("probability").alias("probability")
    )
    row = prevalence(lost).row(0, named=True)
    assert (row["n"], row["untold"]) == (50, 10)
    assert row["share"] > 0.99


@pytest.mark.parametrize("apart", [1.5, 3.0])
def test_a_fault_without_a_limit_has_its_true_share(apart: float) -> None:
    """Of landings that each say only how much speaks for a fault, one in ten has it: that is what is told."""
    draw, shares = np.random.default_rng(8), []
    for _ in range(30):
        faulty = draw.random(400) < 0.1
        said = draw.normal(np.where(faulty, apart, 0.0))
        probability = 1.0 / (1.0 + np.exp(-apart * (said - apart / 2.0)))
        rows = judged(np.zeros(400), 0.1, seed=3, fault="destabilised").with_columns(
            probability=pl.Series(probability), value_u=None
        )
        shares.append(prevalence(rows).row(0, named=True)["share"])
        assert probability.mean() > 0.11
    assert np.mean(shares) == pytest.approx(0.1, abs=0.02)


def test_certain_margins_are_counted() -> None:
    """Without error the share is the count, whatever the distribution."""
    margin = np.array([-2.0] * 30 + [1.0] * 10)
    weights = resampled(pl.Series(np.arange(40)), seed=1)
    assert beyond(margin, np.full(40, 1e-3), weights[:1])[0] == pytest.approx(0.25, abs=1e-6)

"""Shares of faults that do not depend on the recorder, with intervals that hold."""

import numpy as np
import polars as pl
import pytest
from scipy.stats import norm

from pipeline.faults.judging import SCHEMA as FAULT
from pipeline.statistics.prevalence import COMMON, LEAST_LANDINGS, prevalence

TRUTH = float(norm.sf(1.0))


def judged(
    truth: np.ndarray, u: float, *, seed: int, fault: str = "float", per_session: int = 3, aircraft: int = 6
) -> pl.DataFrame:
    """Fault rows of landings whose true margins are `truth`, measured to `u`, half of its variance the aircraft's."""
    draw, n = np.random.default_rng(seed), len(truth)
    of = np.arange(n) // per_session % aircraft
    own = np.sqrt(1.0 - COMMON) * draw.normal(size=n)
    value = 6.0 + truth + u * (own + np.sqrt(COMMON) * draw.normal(size=aircraft)[of])
    probability = norm.cdf((value - 6.0) / u)
    return pl.DataFrame(
        {
            "landing_id": [f"l{i}" for i in range(n)],
            "fault": [fault] * n,
            "verdict": ["seen" if p >= 0.95 else "cannot_tell" for p in probability],
            "probability": probability,
            "value": value,
            "value_u": np.full(n, u),
            "limit_value": np.full(n, 6.0),
            "given": np.ones(n),
            "reason": [None] * n,
        },
        schema=FAULT,
    ).with_columns(session=pl.Series(np.arange(n) // per_session), installation=pl.Series([f"A-{i}" for i in of]))


@pytest.mark.parametrize("u", [0.1, 0.3, 0.6])
def test_the_share_is_the_same_by_every_recorder(u: float) -> None:
    """A true 15.9 % reads 15.9 % at errors from a tenth to six tenths of the spread; counting the sure would not."""
    truths = [np.random.default_rng(seed).normal(-1.0, 1.0, 300) for seed in range(40)]
    found = [prevalence(judged(t, u, seed=900 + i)).row(0, named=True) for i, t in enumerate(truths)]
    assert np.mean([row["share"] for row in found]) == pytest.approx(TRUTH, abs=0.02)
    counted = np.mean([row["seen"] / row["n"] for row in found])
    assert counted < TRUTH - 0.02


@pytest.mark.parametrize("u", [0.2, 0.6])
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


def test_an_error_in_common_widens_the_interval_of_few_aircraft() -> None:
    """The same landings in one aircraft tell less than in twelve: its bias moves them all."""
    truth = np.random.default_rng(5).normal(-1.0, 1.0, 240)
    one, twelve = (prevalence(judged(truth, 0.8, seed=7, aircraft=k)).row(0, named=True) for k in (1, 12))
    assert one["share_high"] - one["share_low"] > 1.3 * (twelve["share_high"] - twelve["share_low"])


def test_a_recorder_that_tells_of_no_landing_tells_no_share() -> None:
    """Where hardly a landing is beyond doubt either way there is no row."""
    assert prevalence(judged(np.random.default_rng(6).normal(0.0, 1.0, 200), 5.0, seed=1)).is_empty()


def test_a_share_of_several_conditions_needs_them_all() -> None:
    """Of landings whose margins are beyond in half, and whose other condition holds in half of these, it is a quarter."""
    truth = np.tile([1.0, 1.0, -1.0, -1.0], 60)
    rows = judged(truth, 0.05, seed=2, fault="soft_and_long").with_columns(
        given=pl.Series(np.tile([0.999, 0.001, 0.999, 0.001], 60))
    )
    assert prevalence(rows).row(0, named=True)["share"] == pytest.approx(0.25, abs=0.01)


def test_others_that_surely_do_not_hold_need_no_value() -> None:
    """Landings whose other condition surely fails count as without the fault, also where the first cannot be told."""
    truth = np.tile([1.0, -1.0], 60)
    half = pl.int_range(pl.len()) < 60
    rows = judged(truth, 0.05, seed=2, fault="soft_and_long").with_columns(
        pl.when(half).then(0.001).otherwise("probability").alias("probability"),
        *(pl.when(half).then(None).otherwise(name).alias(name) for name in ("value", "value_u")),
    )
    assert prevalence(rows).row(0, named=True)["share"] == pytest.approx(0.25, abs=0.01)


def test_bounces_are_counted_as_surely_as_they_were_seen() -> None:
    """Of 200 landings five bounces seen with 95 % make 2.4 %, with room for the few a recorder may have missed."""
    rows = judged(np.zeros(200), 0.1, seed=3, fault="bounce").with_columns(
        probability=pl.Series([0.95] * 5 + [0.01] * 195), value_u=None
    )
    row = prevalence(rows).row(0, named=True)
    assert row["share"] == pytest.approx(0.02375)
    assert row["share_low"] < 0.02
    assert row["share_high"] > 0.033

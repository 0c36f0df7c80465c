"""Probability of a bad landing: near the truth where it is known, bounded where it is not."""

import numpy as np
import polars as pl
import pytest
from scipy.stats import gamma, norm

from pipeline.statistics.tail import SCHEMA, tail_risk

LIMIT = 4.0


def cohort(pilots: int, each: int, *, seed: int) -> tuple[pl.DataFrame, np.ndarray]:
    """Values of skewed residuals (skew 1), sessions of three, and each pilot's true probability above 4."""
    rng = np.random.default_rng(seed)
    level, spread = rng.normal(0.0, 0.6, pilots), np.exp(rng.normal(0.0, 0.2, pilots))
    x = (rng.gamma(4.0, 1.0, (pilots, each)) - 4.0) / 2.0
    frame = pl.DataFrame(
        {
            "pilot": np.repeat([f"P{i:03d}" for i in range(pilots)], each),
            "session": [f"{i}-{j // 3}" for i in range(pilots) for j in range(each)],
            "value": (level[:, None] + spread[:, None] * x).ravel(),
        }
    )
    return frame, gamma.sf(4.0 + 2.0 * (LIMIT - level) / spread, 4.0)


def test_probability_is_near_the_truth() -> None:
    """60 pilots of 120 landings: log10 within 0.35 in root mean square, and no bias above 0.2 on the average pilot."""
    frame, truth = cohort(60, 120, seed=1)

    own = tail_risk(frame, limit=LIMIT).rows.drop_nulls("pilot")
    away = np.log10(own["probability"].to_numpy() / truth)

    assert np.sqrt(np.mean(away**2)) < 0.35
    assert abs(np.mean(away)) < 0.2


def test_intervals_cover_and_the_upper_bound_is_the_larger() -> None:
    """Over three cohorts, 84 to 96 % of 90 % intervals hold the truth, and nearly every upper bound is above it."""
    covered, under = [], []
    for seed in range(3):
        frame, truth = cohort(60, 120, seed=10 + seed)
        own = tail_risk(frame, limit=LIMIT).rows.drop_nulls("pilot")
        low, high, upper = (own[c].to_numpy() for c in ("probability_low", "probability_high", "upper"))
        covered += ((low <= truth) & (truth <= high)).tolist()
        under += (truth <= upper).tolist()
        assert (upper == np.maximum(high, own["counted_high"].to_numpy())).all()

    assert 0.84 <= np.mean(covered) <= 0.96
    assert np.mean(under) > 0.95


def test_everyone_is_the_last_row() -> None:
    """All landings together: the counted share is the plain one, the pooled one near it."""
    frame, truth = cohort(40, 100, seed=4)

    last = tail_risk(frame, limit=LIMIT).rows.row(-1, named=True)

    assert last["pilot"] is None
    assert (last["n"], last["beyond"]) == (4000, int((frame["value"] > LIMIT).sum()))
    assert last["probability"] == pytest.approx(float(np.mean(truth)), rel=0.35)


def test_nothing_beyond_the_limit_is_a_bound_not_a_zero() -> None:
    """0 of 100 of a lone pilot means up to 1.9 % at 95 % (Jeffreys); no tail is fitted for him, and it is said."""
    frame = pl.DataFrame(
        {"pilot": ["P0"] * 100, "session": [str(i) for i in range(100)], "value": np.linspace(-1, 1, 100)}
    )

    found = tail_risk(frame, limit=LIMIT)

    assert found.tail is None
    assert "Cannot tell yet" in found.statement
    assert found.rows["upper"].to_list() == pytest.approx([0.019, 0.019], abs=0.0005)
    assert found.rows["probability"].null_count() == 2


def test_a_small_cohort_is_refused() -> None:
    """Ten pilots of 25 landings have 18 values in the tail, too few."""
    found = tail_risk(cohort(10, 25, seed=5)[0], limit=LIMIT)

    assert found.tail is None
    assert found.rows.columns == list(SCHEMA)
    assert found.rows["counted_high"].null_count() == 0


def test_normal_tail_would_be_far_too_low() -> None:
    """By the pilots' own means and spreads and a normal tail the average pilot is told under a third of his risk."""
    frame, truth = cohort(60, 120, seed=1)
    own = frame.group_by("pilot").agg(pl.col("value").mean().alias("m"), pl.col("value").std().alias("s")).sort("pilot")

    assert np.mean(np.log10(norm.sf((LIMIT - own["m"]) / own["s"]) / truth)) < -0.5

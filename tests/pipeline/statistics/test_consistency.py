"""Consistency and reviews over a landing frame."""

from collections.abc import Callable

import polars as pl
import pytest

from pipeline.statistics.consistency import CONSISTENCY, consistency
from pipeline.statistics.reviews import REVIEW
from pipeline.statistics.target_box import NAME

LandingFrame = Callable[..., pl.DataFrame]
SPEED = "vertical_speed_at_contact_fpm"
K = pl.int_range(pl.len()).over("pilot")


@pytest.fixture
def judged(landing_frame: LandingFrame) -> LandingFrame:
    """Landings with everything the target box asks for."""

    def build(pilots: int, each: int, **changes: pl.Expr) -> pl.DataFrame:
        return landing_frame(
            pilots,
            each,
            in_touchdown_zone=pl.col("touchdown_distance_ft").is_between(500.0, 1900.0),
            in_touchdown_zone_confidence=pl.lit(0.99),
            threshold_speed_over_vref_kt=5.0 + 0.5 * pl.col("crosswind_kt"),
            threshold_speed_over_vref_kt_u=pl.lit(1.0),
            **changes,
        )

    return build


def test_spread_is_the_true_one_behind_the_recorders_noise(judged: LandingFrame) -> None:
    """Scatter of 50 ft/min, of which the recorder's 40 is said to be part: 30 is left: 8 pilots of 150, within 15 %."""
    frame = judged(8, 150, **{f"{SPEED}_u": pl.lit(40.0)})
    found = consistency(frame).consistency.filter(pl.col("measure") == SPEED)

    assert found["value"].median() == pytest.approx(30.0, rel=0.15)
    assert ((found["value_low"] < 30.0) & (found["value_high"] > 30.0)).sum() >= 6
    assert found["widest_quarter"].sum() == pytest.approx(2.0, abs=0.2)


def test_who_gets_better_is_told_so_and_no_other(judged: LandingFrame) -> None:
    """One of six pilots brings his sink from outside the band into it over 300 landings."""
    hard = pl.when((pl.col("pilot") == "P0") & (K % 300 < 300 - K) & (K % 3 > 0)).then(pl.col(SPEED) - 250.0)
    reviews = consistency(judged(6, 300, **{SPEED: hard.otherwise(pl.col(SPEED))})).review
    shares = reviews.filter(pl.col("measure") == NAME).sort("pilot")

    assert shares["said"].to_list() == ["better"] + ["cannot tell yet"] * 5
    assert shares["review"].to_list() == [6] * 6
    assert shares["change_low"][0] > 0.0


def test_who_scatters_more_is_told_wider(judged: LandingFrame) -> None:
    """One of six pilots scatters three times as much in the end, about the same centre."""
    more = 1.0 + 2.0 * K.cast(pl.Float64) / 400.0 * (pl.col("pilot") == "P0").cast(pl.Float64)
    reviews = consistency(judged(6, 400, **{SPEED: -160.0 + more * (pl.col(SPEED) + 160.0)})).review
    said = reviews.filter(pl.col("measure") == SPEED).sort("pilot")["said"].to_list()

    assert said == ["wider"] + ["cannot tell yet"] * 5


def test_nothing_is_said_between_reviews(judged: LandingFrame) -> None:
    """With 149 landings the review is that of the first 100, with the instant of the hundredth."""
    frame = judged(1, 149)
    (row,) = consistency(frame).review.filter(pl.col("measure") == SPEED).to_dicts()

    assert (row["review"], row["landings"]) == (2, 100)
    assert row["reviewed_at"] == frame.sort("contact_at")["contact_at"][99]
    assert row["landings_needed"] > 100


@pytest.mark.parametrize("each", [0, 1, 19, 99])
def test_few_landings_cannot_tell(judged: LandingFrame, each: int) -> None:
    """No review, no word; no value under 20 landings; the frames keep their columns."""
    found = consistency(judged(1, each))

    assert dict(found.consistency.schema) == CONSISTENCY
    assert dict(found.review.schema) == REVIEW
    assert set(found.review["said"]) <= {"cannot tell yet"}
    assert found.review["review"].null_count() == found.review.height
    assert found.consistency["value"].is_null().all() == (each < 20)

"""Each pilot's usual value and scatter, with the cohort beside."""

from collections.abc import Callable

import numpy as np
import polars as pl
import pytest

from pipeline.statistics.outcomes import SCHEMA, pilot_outcomes

LandingFrame = Callable[..., pl.DataFrame]

SPEED = "vertical_speed_at_contact_fpm"


def row(outcomes: pl.DataFrame, pilot: str = "P0", measure: str = SPEED) -> dict[str, float]:
    """The one row of a pilot and measure."""
    return outcomes.row(by_predicate=(pl.col("pilot") == pilot) & (pl.col("measure") == measure), named=True)


def test_centre_and_spread_worked_by_hand(landing_frame: LandingFrame) -> None:
    """Of -100, -120, -140, -160, -180 the median is -140.

    The quartiles at weights' mid-points (0.1, 0.3, 0.5, 0.7, 0.9) are -165 and -115, so the range over 1.349 is 37.06;
    with noise 10 taken out in quadrature 35.69.
    """
    values = pl.Series([-100.0, -120.0, -140.0, -160.0, -180.0])
    found = row(pilot_outcomes(landing_frame(1, 5, **{SPEED: values})))

    assert found["n"] == 5
    assert found["centre"] == -140.0
    assert found["spread"] == pytest.approx(35.69, abs=0.01)
    assert found["centre_low"] is None


def test_intervals_hold_the_truth_nine_times_in_ten(landing_frame: LandingFrame) -> None:
    """Of 400 pilots with 60 landings in sessions of 3 that agree (0.2), 344 to 380 intervals hold each truth.

    The band is 86 to 95 %: nine tenths with two and a half standard errors (1.5 %) below, and a little more above
    because intervals of the spread are known to be wide (93 % over four seeds).
    """
    shared = pl.Series(np.repeat(np.random.default_rng(2).standard_normal(400 * 20), 3))
    own = pl.Series(np.random.default_rng(3).standard_normal(400 * 60))
    frame = landing_frame(
        400, 60, **{SPEED: -150.0 + 50.0 * (0.2**0.5 * shared + 0.8**0.5 * own), f"{SPEED}_u": pl.lit(0.0)}
    )

    found = pilot_outcomes(frame).filter(pl.col("measure") == SPEED)

    assert found.height == 400
    for name, truth in (("centre", -150.0), ("spread", 50.0)):
        holds = found.filter((pl.col(f"{name}_low") <= truth) & (pl.col(f"{name}_high") >= truth)).height
        assert 344 <= holds <= 380


def test_recorders_noise_is_not_the_pilots_scatter(landing_frame: LandingFrame) -> None:
    """Scatter 50 measured with noise 30 looks like 58.3; the spread told is 50 within 10 % over 400 landings."""
    noisy = pl.Series(np.random.default_rng(4).normal(0.0, 30.0, 400)) + pl.col(SPEED)

    found = row(pilot_outcomes(landing_frame(1, 400, **{SPEED: noisy, f"{SPEED}_u": pl.lit(30.0)})))

    assert found["spread"] == pytest.approx(50.0, rel=0.1)


def test_spread_is_not_told_where_most_of_it_is_noise(landing_frame: LandingFrame) -> None:
    """A recorder that explains more than half of the scatter leaves the centre and no spread."""
    found = row(pilot_outcomes(landing_frame(1, 100, **{f"{SPEED}_u": pl.lit(45.0)})))

    assert found["centre"] is not None
    assert found["spread"] is None
    assert found["spread_low"] is None


def test_cohort_is_the_pilots_of_the_same_type_and_not_under_five(landing_frame: LandingFrame) -> None:
    """Six pilots on one type see their middle; three on another see only how many they are."""
    other = pl.col("pilot").is_in(["P6", "P7", "P8"])
    kind = pl.when(other).then(pl.lit("Teal")).otherwise(pl.lit("Heron"))
    found = pilot_outcomes(landing_frame(9, 40, aircraft_type=kind))

    six, three = row(found, "P0"), row(found, "P7")
    centres = [row(found, f"P{i}")["centre"] for i in range(6)]
    assert (six["cohort_pilots"], six["cohort_n"], six["cohort_centre"]) == (6, 240, pytest.approx(np.median(centres)))
    assert (three["cohort_pilots"], three["cohort_centre"], three["cohort_spread"]) == (3, None, None)


def test_types_are_not_mixed(landing_frame: LandingFrame) -> None:
    """A pilot is described on the type he landed most: 30 landings of 40."""
    kind = pl.when(pl.int_range(pl.len()) < 10).then(pl.lit("Teal")).otherwise(pl.lit("Heron"))

    assert row(pilot_outcomes(landing_frame(1, 40, aircraft_type=kind)))["n"] == 30


def test_same_landings_give_the_same_numbers_in_any_order(landing_frame: LandingFrame) -> None:
    """The resampling is seeded and rows are sorted first."""
    frame = landing_frame(2, 40)

    assert pilot_outcomes(frame.reverse()).equals(pilot_outcomes(frame))


@pytest.mark.parametrize("n", [0, 1, 3])
def test_few_landings_give_a_valid_frame(landing_frame: LandingFrame, n: int) -> None:
    """None give no row; one and three give centres without spread."""
    found = pilot_outcomes(landing_frame(1, 5).head(n))

    assert found.schema == SCHEMA
    assert found["n"].to_list() == [n] * found.height
    assert found["spread"].null_count() == found.height

"""Differences that go with a fault: the pilot's own landings compared, nothing said where there is too little."""

from collections.abc import Callable

import numpy as np
import polars as pl
import pytest
from scipy.special import ndtr

from pipeline.statistics.costs import SCHEMA, fault_costs
from pipeline.statistics.eligible import eligible

LandingFrame = Callable[..., pl.DataFrame]
FIRM = "vertical_speed_at_contact_fpm"


def judged(frame: pl.DataFrame, name: str, there: np.ndarray) -> pl.DataFrame:
    """Fault rows of a recorder that knows."""
    return frame.select("landing_id", fault=pl.lit(name)).with_columns(pl.Series("probability", there.astype(float)))


def made(landing_frame: LandingFrame, *, by: float, pilots: int = 12) -> tuple[pl.DataFrame, np.ndarray]:
    """Landings of which some flare late, `by` firmer; pilots who do so more land 100 ft/min firmer anyway."""
    rng = np.random.default_rng(4)
    frame = landing_frame(pilots, 60)
    often = np.repeat(np.linspace(0.1, 0.5, pilots), 60)
    late = rng.random(60 * pilots) < often
    firmer = pl.Series(by * late + 250.0 * (often - 0.3))
    return frame.with_columns(pl.col(FIRM) - firmer), late


def test_pilots_are_compared_with_themselves(landing_frame: LandingFrame) -> None:
    """60 ft/min within the interval, in the sense of worse; compared over all pilots it would be 90."""
    frame, late = made(landing_frame, by=60.0)

    row = fault_costs(frame, judged(frame, "late_flare", late)).row(0, named=True)

    assert (row["fault"], row["outcome"], row["n"], row["pilots"]) == ("late_flare", FIRM, 720, 12)
    assert row["with_fault"] == pytest.approx(late.sum(), abs=0.5)
    assert row["difference_low"] < 60.0 < row["difference_high"]
    assert row["difference_high"] - row["difference_low"] < 30.0
    assert row["difference"] == row["alone"]
    assert 0.2 < row["unseen_needed_to_doubt"] < row["unseen_needed"] < 0.6
    values = -frame[FIRM].to_numpy()
    assert values[late].mean() - values[~late].mean() > row["difference_high"]


def test_blurred_faults_are_not_watered_down(landing_frame: LandingFrame) -> None:
    """Margins of spread 1 known to 0.7: our interval holds 60, while seen or not seen by the likelier tells under 52."""
    rng = np.random.default_rng(4)
    frame = landing_frame(40, 60)
    margin = rng.normal(-0.6, 1.0, 2400)
    measured = margin + 0.7 * rng.standard_normal(2400)
    frame = frame.with_columns(pl.col(FIRM) - 60.0 * pl.Series((margin > 0.0).astype(float)))
    blurred, likelier = judged(frame, "late_flare", ndtr(measured / 0.7)), judged(frame, "late_flare", measured > 0.0)

    row, plain = (fault_costs(frame, faults).row(0, named=True) for faults in (blurred, likelier))

    assert row["difference_low"] < 60.0 < row["difference_high"]
    assert row["reliability"] < 0.7
    assert plain["difference"] < 52.0


def test_thrust_carried_because_of_a_late_flare(landing_frame: LandingFrame) -> None:
    """A late flare that lengthens only by way of carried thrust: some in all, none alone."""
    rng = np.random.default_rng(5)
    frame = landing_frame(12, 60)
    late = rng.random(720) < 0.3
    carried = rng.random(720) < np.where(late, 0.8, 0.1)
    frame = frame.with_columns(pl.col("touchdown_distance_ft") + 300.0 * pl.Series(carried.astype(float)))
    faults = pl.concat([judged(frame, "late_flare", late), judged(frame, "thrust_carried", carried)])

    rows = fault_costs(frame, faults).filter(pl.col("outcome") == "touchdown_distance_ft")
    row = rows.row(by_predicate=pl.col("fault") == "late_flare", named=True)

    assert row["difference_low"] < 210.0 < row["difference_high"]
    assert row["alone_low"] < 0.0 < row["alone_high"]
    assert row["difference_low"] > 0.0


def test_arithmetic_is_no_cost(landing_frame: LandingFrame) -> None:
    """A float has no row for distance, which it is, but may have one for vertical speed."""
    frame = landing_frame(12, 60)
    some = np.random.default_rng(6).random(720) < 0.3

    assert fault_costs(frame, judged(frame, "float", some))["outcome"].to_list() == [FIRM]


@pytest.mark.parametrize("count", [0, 20, 705])
def test_too_rare_or_too_common_is_not_told(landing_frame: LandingFrame, count: int) -> None:
    """Under 30 landings with, or without, the fault tell nothing."""
    frame = landing_frame(12, 60)
    some = np.random.default_rng(7).permutation(720) < count

    found = fault_costs(frame, judged(frame, "late_flare", some))

    assert found.schema == SCHEMA
    assert found.is_empty()


def test_one_pilots_fault_is_not_everybodys(landing_frame: LandingFrame) -> None:
    """Of twelve pilots only two have the fault: nothing is told of it."""
    frame = landing_frame(12, 60)
    two = (np.arange(720) < 120) & (np.random.default_rng(8).random(720) < 0.5)

    assert fault_costs(frame, judged(frame, "late_flare", two)).is_empty()


def test_a_lone_pilot_is_told_by_his_sessions(landing_frame: LandingFrame) -> None:
    """One pilot of 240 landings: his own difference within three standard errors, sessions as clusters."""
    frame = landing_frame(1, 240)
    late = np.random.default_rng(9).random(240) < 0.3
    frame = frame.with_columns(pl.col(FIRM) - 80.0 * pl.Series(late.astype(float)))

    row = fault_costs(frame, judged(frame, "late_flare", late)).row(0, named=True)

    assert (row["pilots"], row["sessions"]) == (1, eligible(frame)["session"].n_unique())
    assert abs(row["difference"] - 80.0) < 3.0 * row["difference_error"]


def test_no_landings_and_no_faults(landing_frame: LandingFrame) -> None:
    """Empty frames give an empty frame."""
    frame = landing_frame(2, 10)
    nothing = judged(frame.head(0), "late_flare", np.zeros(0))

    assert fault_costs(frame.head(0), nothing).schema == SCHEMA
    assert fault_costs(frame, nothing).is_empty()

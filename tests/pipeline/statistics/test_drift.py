"""The drift watch over a landing frame: points and flags as the warehouse and the pages expect them."""

from collections.abc import Callable

import numpy as np
import polars as pl
import pytest

from pipeline.statistics.drift import watch
from pipeline.statistics.drift_frames import FLAG_SCHEMA, POINT_SCHEMA

LandingFrame = Callable[..., pl.DataFrame]
SPEED, DISTANCE, FROM_50 = "vertical_speed_at_contact_fpm", "touchdown_distance_ft", "distance_from_50ft_ft"
K = pl.int_range(pl.len()).over("pilot")


def after(landing: int, pilot: str = "P0") -> pl.Expr:
    """1 from this landing of the pilot on, else 0."""
    return (K.ge(landing) & pl.col("pilot").eq(pilot)).cast(pl.Float64)


@pytest.mark.parametrize("pilots", [1, 3, 12])
def test_pilot_who_turns_hard_is_flagged_and_no_other(landing_frame: LandingFrame, pilots: int) -> None:
    """One pilot sinks 60 ft/min (1.2 spreads) faster from landing 150: one open flag, dated, with its size."""
    found = watch(landing_frame(pilots, 250, **{SPEED: pl.col(SPEED) - 60.0 * after(150)}))

    flag = found.flags.row(by_predicate=pl.col("open"), named=True)
    assert (flag["pilot"], flag["chart"]) == ("P0", "hard")
    assert 140 <= flag["change_sequence"] <= 160
    assert flag["change_sequence"] < flag["flagged_sequence"] <= 190
    assert flag["landings_since_change"] == 250 - flag["change_sequence"] + 1
    assert flag["shift_low"] < 60.0 < flag["shift_high"]
    assert flag["shift"] / flag["shift_sd"] == pytest.approx(51.0, rel=0.15)  # scatter 50 and noise 10


def test_pilot_who_turns_long_is_flagged_on_the_long_chart(landing_frame: LandingFrame) -> None:
    """350 ft (1.2 spreads) longer from landing 120."""
    flags = watch(landing_frame(3, 250, **{DISTANCE: pl.col(DISTANCE) + 350.0 * after(120)})).flags

    assert flags.filter("open").select("pilot", "chart").rows() == [("P0", "long")]


def test_softer_and_shorter_is_no_drift(landing_frame: LandingFrame) -> None:
    """Neither chart looks the other way."""
    softer = {SPEED: pl.col(SPEED) + 60.0 * after(150), DISTANCE: pl.col(DISTANCE) - 350.0 * after(150)}

    assert watch(landing_frame(1, 250, **softer)).flags.filter(pl.col("change_sequence") >= 140).height == 0


def test_windy_season_is_no_drift(landing_frame: LandingFrame) -> None:
    """Crosswinds grow by 15 kt for everybody and sink grows with them: explained, so nobody is flagged for it."""
    crosswind = pl.col("crosswind_kt").abs() + 15.0 * (K >= 150).cast(pl.Float64)
    frame = landing_frame(12, 250, crosswind_kt=crosswind, **{SPEED: pl.col(SPEED) - 4.0 * crosswind})

    assert watch(frame).flags.filter(pl.col("chart") == "hard", pl.col("open")).height <= 1


def test_distance_from_50_ft_serves_where_there_is_no_position(landing_frame: LandingFrame) -> None:
    """A pilot without position is watched on the distance from 50 ft, the other on touchdown distance."""
    without = pl.col("pilot") == "P0"
    frame = landing_frame(
        2, 200, **{DISTANCE: pl.when(~without).then(DISTANCE), FROM_50: pl.col(FROM_50) + 400.0 * after(100)}
    )

    found = watch(frame)

    assert found.points.filter(pl.col("chart") == "long").group_by("pilot").len()["len"].to_list() == [200, 200]
    assert found.flags.filter("open").select("pilot", "chart").rows() == [("P0", "long")]
    assert {a.measure for a in found.adjusted} == {SPEED, DISTANCE, FROM_50}


def test_points_are_in_flying_order_with_nulls_while_learning(landing_frame: LandingFrame) -> None:
    """Sequence counts from 1; for 60 landings standing, line, cusum and limit are null, then never; no NaN anywhere."""
    points = watch(landing_frame(2, 100)).points
    mine = points.filter(pl.col("pilot") == "P1", pl.col("chart") == "hard")

    assert mine["sequence"].to_list() == list(range(1, 101))
    assert mine["contact_at"].is_sorted()
    assert mine["state"].to_list() == ["learning"] * 60 + ["watching"] * 40
    for column in ("standing", "line", "cusum", "limit"):
        assert mine[column].is_null().to_list() == [True] * 60 + [False] * 40
    assert not points.select(pl.selectors.float().is_nan().any()).row(0).count(True)


def test_residual_is_about_the_pilots_own_centre(landing_frame: LandingFrame) -> None:
    """An open flag's shift is the mean residual since the change."""
    found = watch(landing_frame(1, 250, **{SPEED: pl.col(SPEED) - 60.0 * after(150)}))
    flag = found.flags.row(by_predicate=pl.col("open"), named=True)
    since = found.points.filter(pl.col("chart") == "hard", pl.col("sequence") >= flag["change_sequence"])

    assert since["residual"].mean() == pytest.approx(flag["shift"])


def test_landings_measured_too_poorly_take_no_part(landing_frame: LandingFrame) -> None:
    """Where one landing in four has an uncertainty above the pilot's own scatter, those are left out of the chart."""
    poor = pl.int_range(pl.len()) % 4 == 0
    frame = landing_frame(1, 200, **{f"{SPEED}_u": pl.when(poor).then(90.0).otherwise(10.0)})

    points = watch(frame).points.filter(pl.col("chart") == "hard")

    assert points.height == 150
    assert points["sequence"].to_list() == list(range(1, 151))


def test_order_of_rows_does_not_matter(landing_frame: LandingFrame) -> None:
    """Shuffled landings give the same points and flags."""
    frame = landing_frame(9, 120, **{SPEED: pl.col(SPEED) - 80.0 * after(80)})
    first, second = watch(frame), watch(frame.sample(fraction=1.0, shuffle=True, seed=3))

    assert second.points.equals(first.points)
    assert second.flags.equals(first.flags)


@pytest.mark.parametrize("n", [0, 1, 5])
def test_few_landings_give_valid_frames(landing_frame: LandingFrame, n: int) -> None:
    """Each landing has its two points, still being learned; there is no flag."""
    found = watch(landing_frame(1, 5).head(n))

    assert found.points.schema == POINT_SCHEMA
    assert found.flags.schema == FLAG_SCHEMA
    assert found.points["state"].to_list() == ["learning"] * 2 * n
    assert found.flags.height == 0


def test_unchanged_cohort_is_flagged_about_as_often_as_promised(landing_frame: LandingFrame) -> None:
    """40 unchanged pilots with 250 landings each through the whole watch: 10 flags promised, 2 to 18 accepted.

    The band is the central 99 % of a Poisson count with mean 7 to 10 (landings while learning raise none).
    """
    assert 2 <= watch(landing_frame(40, 250, seed=77)).flags.height <= 18


def test_constant_measure_raises_nothing(landing_frame: LandingFrame) -> None:
    """A stuck value has no scatter and no drift, and breaks nothing."""
    found = watch(landing_frame(1, 120, **{SPEED: pl.lit(-100.0)}))

    assert found.flags.height == 0
    assert np.isfinite(found.points["residual"].to_numpy()).all()

"""Twins of a landing: those that came in alike and ended otherwise, and none where there is none."""

from collections.abc import Callable

import numpy as np
import polars as pl
import pytest

from pipeline.statistics.twins import SCHEMA, twins

LandingFrame = Callable[..., pl.DataFrame]
OUTCOME = "vertical_speed_at_contact_fpm"


@pytest.fixture
def frame(landing_frame: LandingFrame) -> pl.DataFrame:
    """Two pilots of 60 landings; landing 0 came in like 10, 11 and 70 (the other pilot's), and was 200 ft/min firmer."""
    rng = np.random.default_rng(3)
    state = {
        "threshold_height_ft": 50.0 + 8.0 * rng.standard_normal(120),
        "threshold_speed_over_vref_kt": 5.0 + 3.0 * rng.standard_normal(120),
        "threshold_sink_fpm": 700.0 + 60.0 * rng.standard_normal(120),
    }
    outcome = np.full(120, -150.0)
    outcome[0] = -350.0
    for values, common in zip(state.values(), (75.0, 14.0, 900.0), strict=True):
        values[[0, 10, 11, 70]] = common  # far from all others
    state["threshold_height_ft"][11] += 2.0
    columns = [pl.Series(name, values) for name, values in {**state, OUTCOME: outcome}.items()]
    return landing_frame(2, 60).with_columns(*columns, pl.lit(10.0).alias(f"{OUTCOME}_u"))


def test_alike_and_otherwise(frame: pl.DataFrame) -> None:
    """The pilot's own two, the nearer first, each 200 ft/min softer; the other pilot's is none."""
    found = twins(frame, landing_id=frame["landing_id"][0], outcome=OUTCOME)

    assert found.rows["twin_id"].to_list() == [frame["landing_id"][10], frame["landing_id"][11]]
    assert found.rows["difference"].to_list() == [200.0, 200.0]
    assert found.rows["difference_u"].to_list() == pytest.approx([np.hypot(10.0, 10.0)] * 2)
    assert found.statement.startswith("2 of 59 landings")


def test_alike_but_ended_alike_is_no_twin(frame: pl.DataFrame) -> None:
    """Landings that ended as this one did show nothing."""
    same = frame.with_columns(pl.lit(-150.0).alias(OUTCOME))

    found = twins(same, landing_id=frame["landing_id"][0], outcome=OUTCOME)

    assert found.rows.schema == SCHEMA
    assert found.statement.startswith("No true twin among 59")


def test_unlike_all_others_has_no_true_twin(frame: pl.DataFrame) -> None:
    """A state nobody came near has no twin, though something is always nearest."""
    far = (pl.int_range(pl.len()) == 0).cast(pl.Float64)
    alone = frame.with_columns(pl.col("threshold_height_ft") + 100.0 * far)

    assert "No true twin" in twins(alone, landing_id=frame["landing_id"][0], outcome=OUTCOME).statement


def test_difference_within_the_uncertainty_is_none(frame: pl.DataFrame) -> None:
    """200 ft/min between two landings known to 80 each (113 together) is not beyond twice that."""
    blurred = frame.with_columns(pl.lit(80.0).alias(f"{OUTCOME}_u"))

    assert "No true twin" in twins(blurred, landing_id=frame["landing_id"][0], outcome=OUTCOME).statement


def test_too_little_is_said(frame: pl.DataFrame) -> None:
    """Ten other landings, or a landing that is not there or has no state, say why."""
    first = frame["landing_id"][0]

    assert "10 other landings" in twins(frame.head(11), landing_id=first, outcome=OUTCOME).statement
    assert "not known" in twins(frame, landing_id="nobody", outcome=OUTCOME).statement
    unknown = frame.with_columns(threshold_sink_fpm=pl.lit(None, pl.Float64))
    assert "not known" in twins(unknown, landing_id=first, outcome=OUTCOME).statement

"""The week's statistics in one call, from any number of landings."""

from collections.abc import Callable
from datetime import date

import polars as pl
import pytest

from pipeline.statistics.drift_frames import FLAG_SCHEMA, POINT_SCHEMA
from pipeline.statistics.fault_shares import no_faults
from pipeline.statistics.outcomes import SCHEMA
from pipeline.statistics.styles import LANDING_STYLE_SCHEMA, STYLE_SCHEMA
from pipeline.statistics.week import weekly_statistics

LandingFrame = Callable[..., pl.DataFrame]


@pytest.mark.parametrize("n", [0, 1, 2, 5, 61, 250])
def test_any_number_of_a_lone_pilots_landings_will_do(landing_frame: LandingFrame, n: int) -> None:
    """Frames have their columns and no NaN, whatever there is."""
    found = weekly_statistics(landing_frame(1, 250).head(n), no_faults(), as_of=date(2026, 12, 31))

    assert found.pilot_outcome.schema == SCHEMA
    assert found.drift_point.schema == POINT_SCHEMA
    assert found.drift_flag.schema == FLAG_SCHEMA
    assert found.style.schema == STYLE_SCHEMA
    assert found.landing_style.schema == LANDING_STYLE_SCHEMA
    assert found.statements
    for frame in (found.pilot_outcome, found.drift_point, found.style):
        assert not any(frame.select(pl.selectors.float().is_nan().any()).row(0))


def test_later_landings_take_no_part(landing_frame: LandingFrame) -> None:
    """As of a day, the statistics are those of the landings up to that day, it included."""
    frame = landing_frame(2, 90, session=3)
    day = date(2026, 1, 24)

    held = frame.filter(pl.col("contact_at").dt.date() <= day)
    assert 0 < held.height < frame.height
    assert weekly_statistics(frame, no_faults(), as_of=day).drift_point.equals(
        weekly_statistics(held, no_faults(), as_of=day).drift_point
    )


def test_landings_without_a_date_are_counted_and_said(landing_frame: LandingFrame) -> None:
    """They are described, and left out of the drift watch in words."""
    undated = pl.when(pl.int_range(pl.len()) >= 7).then("contact_at")
    found = weekly_statistics(landing_frame(1, 50, contact_at=undated), no_faults(), as_of=date(2026, 12, 31))

    assert found.pilot_outcome["n"].max() == 50
    assert found.drift_point.filter(pl.col("chart") == "hard").height == 43
    assert "7 landings have no date, so the drift watch leaves them out." in found.statements

"""Which landings may speak for their pilot."""

from collections.abc import Callable

import polars as pl
import pytest

from pipeline.statistics.eligible import eligible, measured

LandingFrame = Callable[..., pl.DataFrame]
NO_INSTANT = pl.lit(None, dtype=pl.Datetime("us", "UTC"))


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("device", "desktop_simulator"),
        ("exercise", "engine_out"),
        ("landing_mode", "automatic"),
        ("why_logged", "after_event"),
        ("takeover", "flare"),
        ("pilot", None),
        ("contact_t_s", None),
    ],
)
def test_unusual_landings_say_nothing_of_the_pilot(landing_frame: LandingFrame, column: str, value: str | None) -> None:
    """A landing with any one of these is left out; the others stay."""
    first = pl.int_range(pl.len()) == 0
    frame = landing_frame(1, 4, **{column: pl.when(first).then(pl.lit(value)).otherwise(pl.col(column))})

    assert eligible(frame)["landing_id"].to_list() == frame["landing_id"].to_list()[1:]


def test_session_is_pilot_aircraft_and_day(landing_frame: LandingFrame) -> None:
    """Six landings, three a day, are two sessions; without an instant each log is one; two pilots never share one."""
    assert eligible(landing_frame(1, 6, session=3))["session"].n_unique() == 2
    assert eligible(landing_frame(1, 6, session=3, contact_at=NO_INSTANT))["session"].n_unique() == 2
    assert eligible(landing_frame(2, 6, session=3))["session"].n_unique() == 4


def test_order_is_by_instant_whatever_the_rows(landing_frame: LandingFrame) -> None:
    """Shuffled rows come out in flying order."""
    frame = landing_frame(2, 20)

    assert eligible(frame.sample(fraction=1.0, shuffle=True, seed=1)).equals(eligible(frame))


def test_intended_long_landings_are_no_sign_of_drifting_long(landing_frame: LandingFrame) -> None:
    """They are left out of distance and kept in vertical speed."""
    kept = eligible(landing_frame(1, 5, intent=pl.lit("land_long")))

    assert measured(kept, "touchdown_distance_ft").height == 0
    assert measured(kept, "vertical_speed_at_contact_fpm").height == 5

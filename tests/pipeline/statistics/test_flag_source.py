"""A change of one pilot is his; one of everybody on an aircraft is its recorder's."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import numpy as np
import polars as pl
import pytest

from pipeline.statistics.drift import watch
from pipeline.statistics.flag_source import source

LandingFrame = Callable[..., pl.DataFrame]
FIRST = datetime(2026, 1, 5, 8, tzinfo=UTC)
FLAG = {"pilot": "P0", "change_at": FIRST + timedelta(days=60), "shift": 60.0}


def flown(pilots: int, moved: pl.Expr, *, shared: bool = True) -> pl.DataFrame:
    """120 days of landings, one a pilot and day, spread 50; `moved` is added from day 60 on."""
    rng = np.random.default_rng(4)
    days = np.tile(np.arange(120), pilots)
    who = np.repeat(np.arange(pilots), 120)
    return pl.DataFrame(
        {
            "pilot": [f"P{i}" for i in who],
            "aircraft": ["A" if shared else f"A{i}" for i in who],
            "contact_at": [FIRST + timedelta(days=int(d)) for d in days],
            "session": np.arange(days.size),
            "residual": rng.normal(0.0, 50.0, days.size),
        }
    ).with_columns(
        residual=pl.col("residual") + pl.when(pl.col("contact_at") >= FLAG["change_at"]).then(moved).otherwise(0.0)
    )


@pytest.mark.parametrize(
    ("pilots", "moved", "shared", "told"),
    [
        (4, pl.when(pl.col("pilot") == "P0").then(60.0).otherwise(0.0), True, "pilot"),
        (4, pl.lit(60.0), True, "recorder"),
        (1, pl.lit(60.0), True, "cannot tell"),
        (4, pl.lit(60.0), False, "cannot tell"),
    ],
    ids=["he alone", "everybody", "nobody else", "his own aircraft"],
)
def test_others_on_the_aircraft_tell(pilots: int, moved: pl.Expr, shared: bool, told: str) -> None:  # noqa: FBT001 - a case
    """He alone moved, all moved, or nobody else flew the aircraft."""
    assert source(FLAG, flown(pilots, moved, shared=shared)) == told


def test_a_pilot_who_flies_nearly_all_landings_cannot_be_told_from_the_recorder() -> None:
    """Others fly one landing in six since the change: cannot tell, whatever they show."""
    frame = flown(2, pl.lit(60.0)).filter((pl.col("pilot") == "P0") | (pl.int_range(pl.len()) % 5 == 0))

    assert source(FLAG, frame) == "cannot tell"


def test_the_watch_tells_source_and_chance_of_each_flag(landing_frame: LandingFrame) -> None:
    """One of six pilots on shared aircraft turns hard: his flag is real and his."""
    later = (pl.int_range(pl.len()).over("pilot") >= 150) & (pl.col("pilot") == "P0")
    speed = pl.col("vertical_speed_at_contact_fpm")
    flags = watch(landing_frame(6, 250, vertical_speed_at_contact_fpm=speed - 70.0 * later.cast(pl.Float64))).flags
    flag = flags.row(by_predicate=(pl.col("pilot") == "P0") & pl.col("open"), named=True)

    assert flag["source"] == "pilot"
    assert flag["chance_real"] > 0.95
    assert flags["chance_real"].is_between(0.0, 1.0).all()

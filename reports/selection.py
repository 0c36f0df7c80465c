"""The landing frame in; what one page is about out: one pilot's week, history and own baseline.

Weeks are ISO weeks of the UTC instant of contact, or of the log's start where there was no contact.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import polars as pl

from pipeline.statistics.eligible import eligible
from reports.words import week_dates

IN_AIRCRAFT = pl.col("device").fill_null("aircraft") == "aircraft"
"""Approaches in an aircraft, not a simulator."""

ROUTINE_APPROACH = (
    IN_AIRCRAFT
    & (pl.col("exercise").fill_null("normal") == "normal")
    & (pl.col("why_logged").fill_null("routine") == "routine")
)
"""Approaches that enter rates, go-arounds and unattributed ones included."""

LANDED = pl.col("contact_t_s").is_not_null() | pl.col("outcome").is_in(["full_stop", "touch_and_go", "rejected"])
"""Approaches that ended on the ground, though some logs cannot tell when the wheels touched."""

SURELY_AIRBORNE_FT = 10.0
"""A go-around that came lower than this may have touched, unseen by its recorder."""

GIVEN_UP = (pl.col("outcome") == "rejected") | (
    (pl.col("outcome") == "go_around")
    & (pl.col("lowest_height_ft").fill_null(SURELY_AIRBORNE_FT) >= SURELY_AIRBORNE_FT)
)
"""Approaches surely given up, before the ground or just after it."""


@dataclass(frozen=True)
class Own:
    """One pilot's approaches up to the end of a week, oldest first.

    Parameters
    ----------
    pilot : pseudonym.
    week : landing frame of the week, with `flown` (UTC instant) and `number` (1 ..., the order of the week).
    history : landing frame of the baseline-eligible landings in the type flown most, the week's included, with `flown`
        and `sequence` (1 ...).
    aircraft_type : the type flown most; own centres, spreads and trends are of it alone. None where it is not known.
    """

    pilot: str
    week: pl.DataFrame
    history: pl.DataFrame
    aircraft_type: str | None

    def usual_week(self) -> pl.DataFrame:
        """Return the week's landings that may be held against the own centre: eligible, and in the type flown most."""
        return self.week.filter(pl.col("landing_id").is_in(self.history["landing_id"].implode()))


def dated(landings: pl.DataFrame, *, up_to: date) -> pl.DataFrame:
    """Return the approaches flown on or before a day, oldest first, with `flown`; undated ones come first.

    `disputed` is false where the frame does not say.
    """
    flown = landings.with_columns(flown=pl.coalesce("contact_at", "flown_at"))
    if "disputed" not in flown.columns:
        flown = flown.with_columns(disputed=pl.lit(value=False))
    kept = flown.filter(pl.col("flown").is_null() | (pl.col("flown").dt.date() <= up_to))
    return kept.sort("flown", "log_sha256", "approach_index", nulls_last=False)


def of_week(landings: pl.DataFrame, week: str) -> pl.DataFrame:
    """Return the rows of a dated landing frame flown from Monday to Sunday of a week."""
    monday, sunday = week_dates(week)
    return landings.filter(pl.col("flown").dt.date().is_between(monday, sunday))


def own(landings: pl.DataFrame, pilot: str, week: str) -> Own:
    """Return what a pilot's page is about, from a dated landing frame."""
    flown = landings.filter(pl.col("pilot") == pilot)
    routine = eligible(flown)
    counts = routine["aircraft_type"].value_counts().sort("count", "aircraft_type", descending=[True, False])
    kind = counts["aircraft_type"][0] if counts.height else None
    history = routine.filter(pl.col("aircraft_type").eq_missing(kind)).with_row_index("sequence", offset=1)
    return Own(pilot, of_week(flown, week).with_row_index("number", offset=1), history, kind)


def pilots(landings: pl.DataFrame) -> list[str]:
    """Return the pseudonyms that have any approach, in order."""
    return landings["pilot"].drop_nulls().unique().sort().to_list()


def complete_months(landings: pl.DataFrame, *, as_of: date, months: int = 12) -> pl.DataFrame:
    """Return a dated frame's rows of the last complete calendar months, with `month` ("2026-10").

    The month of `as_of` is left out: two editions of a running month differ by one week of flying, which a roster
    turns back into a name.
    """
    last = as_of.replace(day=1) - timedelta(days=1)
    first_index = last.year * 12 + last.month - months
    index = pl.col("flown").dt.year() * 12 + pl.col("flown").dt.month().cast(pl.Int32)
    rows = landings.filter((pl.col("flown").dt.date() <= last) & (index > first_index))
    return rows.with_columns(month=pl.col("flown").dt.strftime("%Y-%m"))

"""One drift flag in; what is said of it out: when it began, how large it is, how sure, and what else it could be."""

from typing import Any

import polars as pl

from reports.selection import Own
from reports.words import counted, number

CHARTS = {
    "hard": ("vertical speed at contact", "ft/min", "firmer", "softer"),
    "long": ("touchdown distance", "ft", "longer", "shorter"),
}
"""Each drift chart: what it watches, its unit, and the words for positive and negative."""

SAME_AIRCRAFT = 0.8
"""Share of an aircraft's landings flown by one pilot beyond which the recorder cannot be told from the pilot."""


def sentence(flag: dict[str, Any], *, false_alarms: str) -> str:
    """Return what a flag says, for the pilot's own page."""
    what, unit, more, less = CHARTS[flag["chart"]]
    low, high = sorted((flag["shift_low"], flag["shift_high"]))
    way = more if flag["shift"] >= 0 else less
    size = f"{number(abs(flag['shift']))} {unit} {way} than before (90 % interval {number(low)} to {number(high)})"
    spreads = f", {abs(flag['shift_sd']):.1f} times your own usual spread" if flag["shift_sd"] is not None else ""
    since = flag["landings_since_change"]
    return (
        f"Your {what} drifted toward {flag['chart']}: since about {flag['change_at'].day} {flag['change_at']:%B %Y} "
        f"({counted(since, 'watched landing')}) it is {size}{spreads}, after allowing for the conditions the log shows. "
        f"{false_alarms}"
    ).strip()


def other_causes(flag: dict[str, Any], own: Own, landings: pl.DataFrame) -> str | None:
    """Return a sentence where the aircraft's recorder could be behind a flag as well as the pilot, else None.

    Parameters
    ----------
    landings : dated landing frame of everyone; the aircraft's other pilots are what could tell the two apart.
    """
    since = own.history.filter(pl.col("flown") >= flag["change_at"])
    flown = landings.filter(
        pl.col("aircraft").is_in(since["aircraft"].drop_nulls().unique().implode()),
        pl.col("contact_t_s").is_not_null(),
        pl.col("flown") >= flag["change_at"],
    )
    mine = flown.filter(pl.col("pilot") == own.pilot).height
    if flown.height and mine <= SAME_AIRCRAFT * flown.height:
        return None
    return "You flew nearly all landings of that aircraft: it may be you or the recorder, this cannot tell."


def who_next(flag_seen_next_by: str) -> str:
    """Return who is shown an open flag after the pilot, as the setting says."""
    if flag_seen_next_by == "training":
        return "You see a flag first; from the next edition on the training page names it beside your pseudonym, without numbers."
    return "You see a flag, nobody else does; the training page counts open flags and says of whom to nobody."

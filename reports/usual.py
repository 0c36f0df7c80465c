"""A pilot's history and what the statistics say of it in; what is usual for that pilot out.

The centre with its interval is the statistics'; the band is the plain middle 90 % of the pilot's own landings, so that a
skewed measure has no end that never happens.
"""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

import polars as pl

from pipeline.statistics.eligible import measured
from pipeline.statistics.outcomes import QUARTILE_RANGE_OF_NORMAL
from reports.selection import Own

WATCHED = ("vertical_speed_at_contact_fpm", "touchdown_distance_ft", "distance_from_50ft_ft")
"""The outcomes whose usual range is told; the last stands in where one of the others is not known."""
FLAGGED = {
    "hard": ("vertical_speed_at_contact_fpm",),
    "long": ("touchdown_distance_ft", "distance_from_50ft_ft"),
}
"""Measures that each drift chart speaks of."""
FEWEST = 20
"""Landings before anything is called usual; with fewer the ends of the middle 90 % are single landings."""


@dataclass(frozen=True)
class Usual:
    """What is usual of one measure, in its unit.

    Parameters
    ----------
    name : the measure.
    n : landings it rests on, all of one type.
    centre, centre_low, centre_high : own centre with its 90 % interval; the ends are None where it cannot be told yet.
    low, high : ends of the middle 90 % of own landings.
    spread : own spread without the recorder's noise, or None where noise hides it.
    until : where an open flag dates a change, the instant it began: all of this is of the landings before it.
    """

    name: str
    n: int
    centre: float
    centre_low: float | None
    centre_high: float | None
    low: float
    high: float
    spread: float | None
    until: datetime | None = None


def usual(own: Own, outcomes: dict[str, dict[str, Any]], flags: list[dict[str, Any]]) -> dict[str, Usual]:
    """Return what is usual of each watched measure that is known of enough landings; at most two, in order.

    Parameters
    ----------
    outcomes : the pilot's pilot_outcome rows by measure.
    flags : the pilot's open flags; what they flag is told as it was before the change.
    """
    changed = {name: flag["change_at"] for flag in flags for name in FLAGGED[flag["chart"]]}
    found = (_usual(own, outcomes[name], changed.get(name)) for name in WATCHED if name in outcomes)
    return {known.name: known for known in [one for one in found if one is not None][:2]}


def _usual(own: Own, outcome: dict[str, Any], until: datetime | None) -> Usual | None:
    name = outcome["measure"]
    history = own.history if until is None else own.history.filter(pl.col("flown") < until)
    values = measured(history, name)[name]
    low, high = values.quantile(0.05, "linear"), values.quantile(0.95, "linear")
    if outcome["centre"] is None or values.len() < FEWEST or low is None or high is None:
        return None
    if until is not None:
        quartiles = values.quantile(0.75, "linear"), values.quantile(0.25, "linear")
        spread = ((quartiles[0] or 0.0) - (quartiles[1] or 0.0)) / QUARTILE_RANGE_OF_NORMAL
        return Usual(name, values.len(), values.quantile(0.5, "linear") or 0.0, None, None, low, high, spread, until)
    ends = outcome["centre_low"], outcome["centre_high"]
    return Usual(name, values.len(), outcome["centre"], *ends, low, high, outcome["spread"])

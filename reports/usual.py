"""A pilot's history and what the statistics say of it in; what is usual for that pilot out.

The centre with its interval is the statistics'; the band is the plain middle 90 % of the pilot's own landings, so that a
skewed measure has no end that never happens.
"""

from dataclasses import dataclass
from typing import Any

from pipeline.statistics.eligible import measured
from reports.selection import Own

WATCHED = ("vertical_speed_at_contact_fpm", "touchdown_distance_ft", "distance_from_50ft_ft")
"""The outcomes whose usual range is told; the last stands in where one of the others is not known."""
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
    """

    name: str
    n: int
    centre: float
    centre_low: float | None
    centre_high: float | None
    low: float
    high: float
    spread: float | None


def usual(own: Own, outcomes: dict[str, dict[str, Any]]) -> dict[str, Usual]:
    """Return what is usual of each watched measure that is known of enough landings; at most two, in order.

    Parameters
    ----------
    outcomes : the pilot's pilot_outcome rows by measure.
    """
    found = (_usual(own, outcomes[name]) for name in WATCHED if name in outcomes)
    return {known.name: known for known in [one for one in found if one is not None][:2]}


def _usual(own: Own, outcome: dict[str, Any]) -> Usual | None:
    name = outcome["measure"]
    values = measured(own.history, name)[name]
    low, high = values.quantile(0.05, "linear"), values.quantile(0.95, "linear")
    if outcome["centre"] is None or values.len() < FEWEST or low is None or high is None:
        return None
    ends = outcome["centre_low"], outcome["centre_high"]
    return Usual(name, values.len(), outcome["centre"], *ends, low, high, outcome["spread"])

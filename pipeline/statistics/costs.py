"""What goes with a fault: landings and their faults in, differences in feet and feet a minute out.

A landing with a fault is compared with landings of the same pilot in the same type without it, in like conditions. That
is a difference seen, never what the fault does: something unseen may bring both, and the last columns say how strong it
would have to be.
"""

from dataclasses import dataclass

import numpy as np
import polars as pl

from pipeline.faults.rules import FAULTS
from pipeline.recording import Floats
from pipeline.statistics.condition_terms import candidates
from pipeline.statistics.eligible import eligible, measured
from pipeline.statistics.indicators import indicators, reliability
from pipeline.statistics.standing import Ints
from pipeline.statistics.unseen import unseen_needed, unseen_needed_to_doubt
from pipeline.statistics.within import Coefficients, demeaned, differences, independent

SCHEMA: dict[str, type[pl.DataType]] = {
    "fault": pl.String,
    "outcome": pl.String,
    "n": pl.Int64,
    "with_fault": pl.Float64,
    "pilots": pl.Int64,
    "sessions": pl.Int64,
    "difference": pl.Float64,
    "difference_error": pl.Float64,
    "difference_low": pl.Float64,
    "difference_high": pl.Float64,
    "alone": pl.Float64,
    "alone_low": pl.Float64,
    "alone_high": pl.Float64,
    "reliability": pl.Float64,
    "unseen_needed": pl.Float64,
    "unseen_needed_to_doubt": pl.Float64,
}
"""One row a fault and outcome. `difference` (with interval of 90 %) is adjusted for conditions and for faults that come
before it; `alone` for all other faults too, so that what reaches the outcome by way of them is left out. In the
outcome's unit, positive toward worse. `with_fault` is the expected number of landings with it."""

WORSE = {
    "vertical_speed_at_contact_fpm": -1.0,
    "touchdown_distance_ft": 1.0,
    "distance_from_50ft_ft": 1.0,
}
"""Outcomes, and the sign that makes larger values worse."""

ORDER = ("approach", "threshold", "flare", "thrust")
"""Phases before contact: faults of an earlier one may bring those of a later one, not the other way."""

SOUGHT_BY_NOBODY = ("crosswind_beyond_limit", "tailwind_beyond_limit")
"""Faults that are conditions."""

ARITHMETIC = {
    ("float", "touchdown_distance_ft"),
    ("float", "distance_from_50ft_ft"),
    ("high_at_threshold", "touchdown_distance_ft"),
    ("low_at_threshold", "touchdown_distance_ft"),
}
"""Faults that are a part of the outcome by arithmetic: flying on is distance, and so is height on a path."""

ON_THE_PATH = {"float": ("high_flare", "late_flare", "no_flare", "climb_in_flare")}
"""Faults of the same phase that come before the named one; the others of a phase are adjusted for each other."""

LEAST_WITH, LEAST_WITHOUT, LEAST_PILOTS, LEAST_SESSIONS = 30.0, 30.0, 8, 8
"""Fewer landings with or without the fault, pilots (where there are so many) or sessions with it: nothing is said."""

LEAST_RELIABILITY = 0.3
COMMON = 0.8
"""Share of landings that must tell of a fault for it to take part."""


@dataclass(frozen=True)
class _Design:
    """Landings (n) that tell outcome and faults: y, faults (n, f) by name, conditions (n, c), groups and clusters."""

    y: Floats
    faults: Floats
    names: list[str]
    conditions: Floats
    group: Ints
    clusters: tuple[Ints, ...]
    pilot: Ints
    session: Ints


def before_contact() -> list[str]:
    """Faults that can go with an outcome: those of the phases before contact, in flying order."""
    ranked = [(ORDER.index(rule.phase), name) for name, rule in FAULTS.items() if rule.phase in ORDER]
    order = {name: place for place, name in enumerate(FAULTS)}
    ranked.sort(key=lambda pair: (pair[0], order[pair[1]]))
    return [name for _, name in ranked if name not in SOUGHT_BY_NOBODY]


def fault_costs(landings: pl.DataFrame, faults: pl.DataFrame) -> pl.DataFrame:
    """Difference that goes with each fault, for each outcome.

    Parameters
    ----------
    landings : a landing frame; the baseline-eligible ones take part.
    faults : fault rows with landing_id, fault and probability.

    Returns
    -------
    Columns of SCHEMA, by outcome and flying order. Faults that are part of an outcome, that too few landings have or
    lack, or that the recorders cannot tell apart have no row.
    """
    kept = eligible(landings)
    chances = indicators(faults, kept, names=before_contact())
    rows = [row for outcome in WORSE for row in _priced(kept, chances, outcome)]
    return pl.DataFrame(rows, schema=SCHEMA, orient="row")


def _priced(kept: pl.DataFrame, chances: pl.DataFrame, outcome: str) -> list[dict[str, object]]:
    design = _design(kept, chances, outcome)
    return [_row(design, f, outcome) for f in range(len(design.names))] if design else []


def _design(kept: pl.DataFrame, chances: pl.DataFrame, outcome: str) -> _Design | None:
    """Lay out the landings that have the outcome and tell of the faults most of them tell of."""
    some = measured(kept, outcome).join(chances, on="landing_id", how="left", maintain_order="left")
    names = [n for n in before_contact() if (n, outcome) not in ARITHMETIC and _told(some[n])]
    some = some.drop_nulls(names)
    while names and (poor := [n for n in names if not _enough(some, n)]):
        names = [n for n in names if n not in poor]
    if not names:
        return None
    group = some.select(pl.struct("pilot", "aircraft_type").rank("dense")).to_series().to_numpy().astype(np.int64) - 1
    pilot, session = (some[c].rank("dense").to_numpy().astype(np.int64) - 1 for c in ("pilot", "session"))
    x = some.select(names).to_numpy()
    seen = independent(demeaned(x, group), least=np.full(len(names), 1.0))
    clusters = (pilot, session) if pilot.max() + 1 >= LEAST_PILOTS else (session,)
    y = WORSE[outcome] * some[outcome].to_numpy().astype(float)
    return _Design(y, x[:, seen], [names[i] for i in seen], _conditions(some, group), group, clusters, pilot, session)


def _told(chance: pl.Series) -> bool:
    return chance.len() > 0 and chance.count() >= COMMON * chance.len()


def _enough(some: pl.DataFrame, name: str) -> bool:
    """Whether a fault is there, and not there, often enough, of enough pilots and sessions, and told well."""
    chance = some[name]
    expected = float(chance.sum())
    pilots = some["pilot"].n_unique()
    there = some.filter(chance > 0.5)
    return (
        expected >= LEAST_WITH
        and chance.len() - expected >= LEAST_WITHOUT
        and there["session"].n_unique() >= LEAST_SESSIONS
        and (pilots < LEAST_PILOTS or there["pilot"].n_unique() >= LEAST_PILOTS)
        and reliability(chance.to_numpy()) >= LEAST_RELIABILITY
    )


def _conditions(some: pl.DataFrame, group: Ints) -> Floats:
    """Condition columns (n, c) that vary enough within groups to be adjusted for."""
    offered = candidates(some)
    if not offered:
        return np.empty((some.height, 0))
    x = np.column_stack([c.filled / c.scale for c in offered])
    return x[:, independent(demeaned(x, group), least=np.array([c.needed for c in offered]))]


def _row(design: _Design, f: int, outcome: str) -> dict[str, object]:
    name = design.names[f]
    earlier = [i for i, other in enumerate(design.names) if i != f and not _after(name, other)]
    others = [i for i in range(len(design.names)) if i != f]
    total, alone = (_difference(design, f, given) for given in (earlier, others))
    chance = design.faults[:, f]
    return {
        "fault": name,
        "outcome": outcome,
        "n": design.y.size,
        "with_fault": float(chance.sum()),
        "pilots": int(np.unique(design.pilot).size),
        "sessions": int(np.unique(design.session).size),
        **_interval("difference", total),
        "difference_error": float(total.error[0]),
        **_interval("alone", alone),
        "reliability": reliability(chance),
        "unseen_needed": unseen_needed(float(total.unique_f2[0])),
        "unseen_needed_to_doubt": unseen_needed_to_doubt(
            float(total.unique_f2[0]), estimate=float(total.estimate[0]), reach=float(total.reach[0])
        ),
    }


def _after(name: str, other: str) -> bool:
    """Whether `other` may be what `name` brings: of a later phase, or after it in the same one."""
    phase, late = (ORDER.index(FAULTS[n].phase) for n in (name, other))
    return late > phase or name in ON_THE_PATH.get(other, ())


def _difference(design: _Design, f: int, given: list[int]) -> Coefficients:
    """The fault's column first, then the faults given and the conditions."""
    x = np.column_stack([design.faults[:, [f, *given]], design.conditions])
    inner = demeaned(x, design.group)
    kept = independent(inner, least=np.full(x.shape[1], 1e-9))
    return differences(design.y, x[:, kept], group=design.group, clusters=design.clusters)


def _interval(name: str, found: Coefficients) -> dict[str, object]:
    middle, reach = float(found.estimate[0]), float(found.reach[0])
    return {name: middle, f"{name}_low": middle - reach, f"{name}_high": middle + reach}

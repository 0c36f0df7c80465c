"""Which faults may go with an outcome, laid out for comparing: landings and chances of faults in, columns out."""

from dataclasses import dataclass

import numpy as np
import polars as pl

from pipeline.faults.rules import FAULTS
from pipeline.recording import Floats
from pipeline.statistics.condition_terms import candidates
from pipeline.statistics.eligible import measured
from pipeline.statistics.indicators import reliability
from pipeline.statistics.standing import Ints
from pipeline.statistics.within import demeaned, independent

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
"""Share of the landings that must tell of another fault for it to be adjusted for."""


@dataclass(frozen=True)
class Design:
    """Landings (n) that tell outcome and faults: y, faults (n, f) by name, conditions (n, c), groups and clusters.

    The first fault is the one asked about.
    """

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


def comes_after(name: str, other: str) -> bool:
    """Whether `other` may be what `name` brings: of a later phase, or after it in the same one."""
    phase, late = (ORDER.index(FAULTS[n].phase) for n in (name, other))
    return late > phase or name in ON_THE_PATH.get(other, ())


def lay_out_costs(kept: pl.DataFrame, chances: pl.DataFrame, outcome: str, fault: str) -> Design | None:
    """Lay out the landings that have the outcome and tell of the fault, and of the others that most of them tell of.

    The fault's column is the first. None where there are too few landings with or without it, or where it comes with
    the others so regularly that it cannot be told from them.
    """
    some = measured(kept, outcome).join(chances, on="landing_id", how="left", maintain_order="left").drop_nulls(fault)
    sought = [n for n in before_contact() if n != fault and (n, outcome) not in ARITHMETIC and _told(some[n])]
    others = [n for n in sought if _enough(some, n)]
    some = some.drop_nulls(others)
    if not _enough(some, fault):
        return None
    group = some.select(pl.struct("pilot", "aircraft_type").rank("dense")).to_series().to_numpy().astype(np.int64) - 1
    seen = _told_apart(some.select(*others, fault).to_numpy(), group)
    if len(others) not in seen:
        return None
    names = [fault, *(others[i] for i in seen if i < len(others))]
    pilot, session = (some[c].rank("dense").to_numpy().astype(np.int64) - 1 for c in ("pilot", "session"))
    clusters = (pilot, session) if pilot.max() + 1 >= LEAST_PILOTS else (session,)
    y = WORSE[outcome] * some[outcome].to_numpy().astype(float)
    return Design(y, some.select(names).to_numpy(), names, _conditions(some, group), group, clusters, pilot, session)


def _told_apart(x: Floats, group: Ints) -> list[int]:
    """Columns of (n, f) that vary within groups beyond those before them, the last one included or not."""
    return independent(demeaned(x, group), least=np.full(x.shape[1], 1.0)).tolist()


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

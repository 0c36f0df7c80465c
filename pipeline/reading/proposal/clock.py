"""The columns of a log in; which of them is the time, in which form, and how sure that is, out."""

import re
from dataclasses import dataclass

import numpy as np
import polars as pl

from pipeline.reading.proposal.names import name_says
from pipeline.reading.proposal.sampled import Column

_ISO = r"^\d{4}-?\d\d-?\d\d[T ]\d\d"
_CLOCK = r"^\d{1,2}:\d\d:\d\d"
_SLOWEST_S, _SLOWEST_NAMED_S, _FASTEST_S, _EVEN = 5.0, 20.0, 0.004, 0.6
"""Sample intervals that a log a landing can be measured from may have."""
_FEWEST = 10
_COUNTS = re.compile(r"(?i)(frame|row|count|index|nr|no|id|zeile|bild|trame|ligne|fila)")


@dataclass(frozen=True)
class Clock:
    """The time column: its form as maps spell it, how sure (0 to 1), and the evidence in words."""

    column: str
    unit: str
    confidence: float
    evidence: tuple[str, ...]


def find_clock(columns: tuple[Column, ...]) -> Clock | None:
    """Return the most likely time column; None where no column can be one."""
    found = [clock for column in columns if (clock := _as_clock(column)) is not None]
    found.sort(key=lambda clock: -clock.confidence)
    if len(found) > 1 and found[0].confidence - found[1].confidence < 0.1 and found[0].unit == found[1].unit == "s":
        best, other = found[:2]
        return Clock(best.column, best.unit, 0.5, (*best.evidence, f"{other.column!r} could be the time as well"))
    return found[0] if found else None


def _as_clock(column: Column) -> Clock | None:
    said = name_says(column.name)
    named = said.time or said.unit in ("s", "m/s")
    if column.cells.dtype == pl.Datetime:
        return Clock(column.name, "iso8601", 0.99, ("holds instants",))
    if column.kind == "text" and column.cells.dtype == pl.String:
        return _written(column, named=named)
    if column.kind != "number":
        return None
    value = column.value[np.isfinite(column.value)]
    steps = np.diff(value)
    moved = steps[steps != 0]
    if len(moved) < _FEWEST or (steps < 0).mean() > 0.02 or len(value) < 0.9 * len(column.value):
        return None
    usual = float(np.median(moved))
    even = float((np.abs(moved - usual) < 0.2 * usual).mean())
    return _counted(column, usual, even, named=named)


def _written(column: Column, *, named: bool) -> Clock | None:
    text = column.cells.str.strip_chars().drop_nulls()
    for unit, pattern, words in (("iso8601", _ISO, "stamps such as"), ("clock", _CLOCK, "clock times such as")):
        if len(text) and text.str.contains(pattern).mean() > 0.95:  # type: ignore[operator]
            return Clock(column.name, unit, 0.99 if named else 0.97, (f"holds {words} {text[0]}",))
    return None


def _counted(column: Column, usual: float, even: float, *, named: bool) -> Clock | None:
    """A column of numbers that only grow: seconds, or milliseconds, by how far they step."""
    stated = name_says(column.name).unit
    slowest = _SLOWEST_NAMED_S if named else _SLOWEST_S
    as_unit = [unit for unit, size in (("s", 1.0), ("ms", 1e-3)) if _FASTEST_S <= usual * size <= slowest]
    if not as_unit or (even < _EVEN and not named):
        return None
    unit = as_unit[0]
    evidence = [f"only grows, by {usual:g} a step"]
    steps = np.diff(column.value[np.isfinite(column.value)])
    if np.all(steps == 1.0) and (not named or _COUNTS.search(column.name)):
        return Clock(column.name, "s", 0.3, (*evidence, "which a count of rows would do as well"))
    sure = 0.97 if named else 0.88 if even > 0.9 else 0.7
    if stated == "m/s" or column.name.lower().endswith("ms"):
        sure, unit = (0.98, "ms") if "ms" in as_unit else (0.5, unit)
    elif len(as_unit) > 1 and stated != "s":
        sure = 0.6
        evidence.append("seconds or milliseconds: both would be a usual rate")
    if named:
        evidence.append("its name speaks of time")
    return Clock(column.name, unit, sure, tuple(evidence))

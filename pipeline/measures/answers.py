"""One measure over a batch of landings: values, how sure, and why a value is missing.

Goes in: arrays with NaN where nothing could be measured. Comes out: answers whose nulls carry a reason, as a frame.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.measures.table import MEASURES, REASONS, Measure

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Texts = NDArray[np.object_]


@dataclass(frozen=True)
class Answer:
    """`value` (n,): float with NaN, or text with None; `quality` (n,): uncertainty or confidence; `reason` (n,)."""

    value: Floats | Texts
    quality: Floats
    reason: Texts

    @property
    def missing(self) -> tuple[tuple[Bools, str], ...]:
        """Where it is null and why, as an answer that needs this one takes it."""
        listed = [(self.reason == reason, reason) for reason in REASONS]
        return tuple((where, reason) for where, reason in listed if where.any())

    @property
    def number(self) -> Floats:
        """Its values as numbers, (n,); NaN where null."""
        return self.value.astype(float)


def answer(value: Floats | Texts, quality: Floats | float, *, missing: tuple[tuple[Bools, str], ...]) -> Answer:
    """Settle the nulls of one measure.

    `missing` lists (where, reason) in order of precedence: any landing it covers is null, with the first reason that
    applies. A value that is NaN or None under no reason is a "gap": the samples that would show it are not there.
    """
    for _, reason in missing:
        if reason not in REASONS:
            raise ValueError(f"unknown reason {reason!r}; one of {', '.join(REASONS)} is needed")
    n = len(value)
    why: Texts = np.full(n, None, dtype=object)
    for where, reason in missing:
        why[where & (why == None)] = reason  # noqa: E711 - element by element
    if value.dtype == object:
        absent = np.array([v is None for v in value], dtype=bool)
    else:
        absent = ~np.isfinite(value.astype(float))
    why[absent & (why == None)] = "gap"  # noqa: E711 - element by element
    null = why != None  # noqa: E711 - element by element
    settled = value.copy()
    settled[null] = None if value.dtype == object else np.nan
    return Answer(settled, np.where(null, np.nan, np.broadcast_to(quality, (n,))), why)


def nowhere(measure: Measure, n: int, reason: str) -> Answer:
    """The answer of `n` landings none of which has the measure, all for one reason."""
    value: Floats | Texts = np.full(n, None, dtype=object) if measure.kind == "text" else np.full(n, np.nan)
    return answer(value, np.nan, missing=((np.ones(n, dtype=bool), reason),))


def to_frame(answers: Mapping[str, Answer], n: int) -> pl.DataFrame:
    """All measures of the table, in its order: value, quality and reason columns, (n rows); nulls, never NaN."""
    columns = [series for measure in MEASURES for series in _columns(measure, answers[measure.name], n)]
    return pl.DataFrame(columns)


def _columns(measure: Measure, found: Answer, n: int) -> list[pl.Series]:
    if len(found.value) != n:
        raise ValueError(f"{measure.name}: {len(found.value)} answers for {n} landings")
    reason = pl.Series(measure.reason, found.reason.tolist(), dtype=pl.String)
    return [_values(measure, found), _numbers(measure.quality, found.quality), reason]


def _values(measure: Measure, found: Answer) -> pl.Series:
    if measure.kind == "text":
        return pl.Series(measure.name, found.value.tolist(), dtype=pl.String)
    if measure.kind == "number":
        return _numbers(measure.name, found.number)
    known = [None if math.isnan(x) else x for x in found.number.tolist()]
    if measure.kind == "flag":
        return pl.Series(measure.name, [None if x is None else bool(x) for x in known], dtype=pl.Boolean)
    return pl.Series(measure.name, [None if x is None else int(x) for x in known], dtype=pl.Int64)


def _numbers(name: str, x: Floats) -> pl.Series:
    return pl.Series(name, x, dtype=pl.Float64, nan_to_null=True)

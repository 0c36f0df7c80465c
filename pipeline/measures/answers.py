"""One measure over a batch of landings: values, how sure, and why a value is missing.

Goes in: arrays with NaN where nothing could be measured. Comes out: answers whose nulls carry a reason, as a frame.
"""

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


def to_frame(answers: Mapping[str, Answer], n: int) -> pl.DataFrame:
    """All measures of the table, in its order: value, quality and reason columns, (n rows); nulls, never NaN."""
    columns = [series for measure in MEASURES for series in _columns(measure, answers[measure.name], n)]
    return pl.DataFrame(columns)


def _columns(measure: Measure, found: Answer, n: int) -> list[pl.Series]:
    reason = pl.Series(measure.reason, found.reason.tolist(), dtype=pl.String)
    quality = _numbers(measure.quality, found.quality)
    if measure.kind == "text":
        value = pl.Series(measure.name, found.value.tolist(), dtype=pl.String)
    else:
        value = _numbers(measure.name, found.value.astype(float))
    if measure.kind == "flag":
        value = value.cast(pl.Boolean)
    if measure.kind == "count":
        value = value.cast(pl.Int64)
    if len(value) != n:
        raise ValueError(f"{measure.name}: {len(value)} answers for {n} landings")
    return [value, quality, reason]


def _numbers(name: str, x: Floats) -> pl.Series:
    return pl.Series(name, x, dtype=pl.Float64).fill_nan(None)

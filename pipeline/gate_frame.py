"""One row an approach and gate of the policy: the verdict, what was not judged, and what became of it below.

Goes in: measured landings, the gates as they were judged, and their window. Comes out: the gate frame.
"""

from collections.abc import Sequence

import numpy as np
import polars as pl

from pipeline import rows
from pipeline.measures.gates import Judged
from pipeline.measures.stability import course
from pipeline.measures.window import Window
from pipeline.policy import CRITERIA

SCHEMA: dict[str, type[pl.DataType]] = {
    "landing_id": pl.String,
    "gate": pl.String,
    "height_ft": pl.Float64,
    "reference": pl.String,
    "conditions": pl.String,
    "stable": pl.Boolean,
    "confidence": pl.Float64,
    "reason": pl.String,
    "failed": pl.String,
    "not_judged": pl.String,
    "judged": pl.Int64,
    "tightest": pl.String,
    "tightest_in_u": pl.Float64,
    "first_break": pl.String,
    "first_break_height_ft": pl.Float64,
    "first_break_duration_s": pl.Float64,
    "held_to_50ft": pl.Boolean,
}
"""`judged` counts the criteria that were judged; `tightest` is the one nearest to its limit or farthest beyond it,
`tightest_in_u` its margin in units of its own uncertainty, negative beyond the limit."""


def gate_frame(landings: pl.DataFrame, gates: Sequence[Judged], w: Window) -> pl.DataFrame:
    """Every gate that applies to the conditions of each approach; without stated conditions, every gate."""
    parts = [_rows(landings, gate, w) for gate in gates]
    return pl.concat([pl.DataFrame(schema=SCHEMA), *parts])


def _rows(landings: pl.DataFrame, gate: Judged, w: Window) -> pl.DataFrame:
    rule, below = gate.rule, course(w, gate)
    in_u = gate.margin / np.maximum(gate.margin_u, 1e-9)
    known = np.isfinite(in_u)
    least = np.argmin(np.where(known, in_u, np.inf), axis=1)
    tightest = [CRITERIA[i] if some else None for i, some in zip(least, known.sum(axis=1), strict=True)]
    verdict = gate.stable
    frame = pl.DataFrame(
        {
            "landing_id": landings["landing_id"],
            "gate": [rule.name] * w.n,
            "height_ft": [rule.height_ft] * w.n,
            "reference": [rule.reference] * w.n,
            "conditions": [rule.conditions] * w.n,
            "stable": _yes(verdict.number),
            "confidence": verdict.quality,
            "reason": verdict.reason.tolist(),
            "failed": gate.failed.value.tolist(),
            "not_judged": gate.not_judged.value.tolist(),
            "judged": known.sum(axis=1),
            "tightest": tightest,
            "tightest_in_u": rows.smallest(in_u),
            "first_break": below.criterion.value.tolist(),
            "first_break_height_ft": below.height_ft.number,
            "first_break_duration_s": below.duration_s.number,
            "held_to_50ft": _yes(below.held.number),
        },
        schema=SCHEMA,
    ).with_columns(pl.selectors.float().fill_nan(None))
    flown = landings["conditions"]
    applies = flown.is_null() | (flown == rule.conditions) | (rule.conditions == "any")
    return frame.filter(applies)


def _yes(number: np.ndarray) -> list[bool | None]:
    """Numbers 0 and 1 as no and yes; NaN as null."""
    return [None if np.isnan(x) else bool(x > 0.5) for x in number]

"""The measures: one table from which frames, schema checks, documentation and page titles derive."""

import polars as pl

from pipeline.measures.definitions_approach import APPROACH, CONDITIONS, THRESHOLD
from pipeline.measures.definitions_landing import CONTACT, FLARE, ROLLOUT
from pipeline.measures.measure import Kind, Measure

__all__ = ["BY_NAME", "DEFINITION", "GROUPS", "MEASURES", "REASONS", "Kind", "Measure", "schema"]

DEFINITION = "3"
"""Version of the definitions; it is stored with every measured row."""

REASONS = (
    "no_channel",
    "no_reference",
    "not_reported",
    "untimed",
    "too_slow",
    "gap",
    "not_reached",
    "implausible",
    "out_of_range",
    "automation",
    "earlier_definition",
)
"""Why a measure is null; the last stands only in rows that were measured before the measure was there."""

GROUPS: dict[str, tuple[Measure, ...]] = {
    "Approach": APPROACH,
    "Conditions": CONDITIONS,
    "Threshold": THRESHOLD,
    "Flare and thrust": FLARE,
    "Contact": CONTACT,
    "Rollout": ROLLOUT,
}
"""The measures by the part of the landing they belong to, in the order in which they happen."""

MEASURES: tuple[Measure, ...] = tuple(measure for group in GROUPS.values() for measure in group)

BY_NAME: dict[str, Measure] = {measure.name: measure for measure in MEASURES}

_DTYPES: dict[Kind, type[pl.DataType]] = {
    "number": pl.Float64,
    "flag": pl.Boolean,
    "count": pl.Int64,
    "text": pl.String,
}


def schema() -> dict[str, type[pl.DataType]]:
    """Column names and types of a frame of measures, in the table's order: value, quality, reason for each."""
    columns: dict[str, type[pl.DataType]] = {}
    for measure in MEASURES:
        columns[measure.name] = _DTYPES[measure.kind]
        columns[measure.quality] = pl.Float64
        columns[measure.reason] = pl.String
    return columns

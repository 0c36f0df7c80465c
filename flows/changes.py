"""The same approaches measured before and now in, what became another out: measures, verdicts, what was found.

A number has moved where it differs by more than the greater of its two standard uncertainties: by less, a reader of the
old one was not misled.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import polars as pl

from pipeline.measures.measure import Measure
from pipeline.measures.table import MEASURES

CHANGE: dict[str, type[pl.DataType]] = {
    "landing_id": pl.String,
    "kind": pl.String,
    "name": pl.String,
    "was": pl.String,
    "now": pl.String,
    "shift": pl.Float64,
}
"""One row an approach and thing that changed. `kind`: approach, measure, gate or fault; `shift`: of a number, in its
unit."""
FOUND = ("outcome", "runway", "landing_mode", "suspect")
"""What is found of an approach beside its measures."""
THERE, GONE = "there", "not there"


@dataclass(frozen=True)
class State:
    """Frames of some approaches as they stand: landings (approaches too), verdicts at gates, faults."""

    landings: pl.DataFrame
    gates: pl.DataFrame
    faults: pl.DataFrame


@dataclass(frozen=True)
class Change:
    """How many landings changed in one way; `median_shift` of numbers that have one before and now."""

    kind: str
    name: str
    was: str
    now: str
    landings: int
    median_shift: float | None = None


def changes(before: State, after: State) -> pl.DataFrame:
    """Return what changed from `before` to `after`, columns of CHANGE."""
    both = before.landings.join(after.landings, on="landing_id", suffix="_now")
    parts = [
        *_approaches(before.landings, after.landings),
        *(_texts(both, name, name, kind="approach") for name in FOUND),
        *(_measure(both, measure) for measure in MEASURES),
        _verdicts(before.gates, after.gates, "gate", pl.col("stable").replace_strict(_STABLE, default=_UNTOLD), both),
        _verdicts(before.faults, after.faults, "fault", pl.col("verdict").str.replace_all("_", " "), both),
    ]
    return pl.concat([pl.DataFrame(schema=CHANGE), *parts])


def summary(changed: Iterable[pl.DataFrame]) -> tuple[Change, ...]:
    """Count what changed in the same way: approaches, then verdicts, then measures; the most frequent first."""
    rows = pl.concat([pl.DataFrame(schema=CHANGE), *changed]).with_columns(
        pl.when(pl.col("kind") == "measure").then(_told("was")).otherwise("was").alias("was"),
        pl.when(pl.col("kind") == "measure").then(_told("now")).otherwise("now").alias("now"),
    )
    counted = (
        rows.group_by("kind", "name", "was", "now")
        .agg(pl.len().alias("landings"), pl.col("shift").median())
        .with_columns(pl.col("kind").replace_strict(_ORDER, return_dtype=pl.Int64).alias("order"))
        .sort("order", "landings", "name", "was", "now", descending=[False, True, False, False, False])
    )
    return tuple(Change(*row) for row in counted.drop("order").iter_rows())


_ORDER = {"approach": 0, "gate": 1, "fault": 2, "measure": 3}
_STABLE = {True: "stable", False: "not stable"}
_UNTOLD = "not judged"
_VALUE, _NULL = "a value", "none"


def _told(column: str) -> pl.Expr:
    """Yes, no and none as they are; of any other value, that there is one."""
    return pl.when(pl.col(column).is_in(["true", "false", _NULL])).then(column).otherwise(pl.lit(_VALUE))


def _approaches(before: pl.DataFrame, after: pl.DataFrame) -> Iterator[pl.DataFrame]:
    """Approaches found only before or only now."""
    for one, other, was, now in ((before, after, THERE, GONE), (after, before, GONE, THERE)):
        alone = one.join(other, on="landing_id", how="anti")
        yield _rows(alone, "approach", "found", pl.lit(was), pl.lit(now), pl.lit(None))


def _texts(both: pl.DataFrame, column: str, name: str, *, kind: str) -> pl.DataFrame:
    was, now = (pl.col(one).cast(pl.String) for one in (column, f"{column}_now"))
    changed = both.filter(was.ne_missing(now))
    return _rows(changed, kind, name, was.fill_null(_NULL), now.fill_null(_NULL), pl.lit(None))


def _measure(both: pl.DataFrame, measure: Measure) -> pl.DataFrame:
    """Landings whose measure came, went, or moved beyond its uncertainty; other kinds than numbers: is another."""
    if measure.kind != "number":
        return _texts(both, measure.name, measure.name, kind="measure")
    was, now = pl.col(measure.name), pl.col(f"{measure.name}_now")
    u = pl.max_horizontal(measure.quality, f"{measure.quality}_now").fill_null(0.0)
    moved = both.filter((was.is_null() != now.is_null()) | ((now - was).abs() > u))
    text_was, text_now = (value.cast(pl.String).fill_null(_NULL) for value in (was, now))
    return _rows(moved, "measure", measure.name, text_was, text_now, now - was)


def _verdicts(
    before: pl.DataFrame, after: pl.DataFrame, kind: str, verdict: pl.Expr, both: pl.DataFrame
) -> pl.DataFrame:
    """Verdicts that flipped, of approaches found before and now; one that is not there is not judged."""
    ids = both["landing_id"].implode()
    was, now = (
        frame.filter(pl.col("landing_id").is_in(ids)).select("landing_id", kind, verdict.alias("verdict"))
        for frame in (before, after)
    )
    joined = was.join(
        now, on=["landing_id", kind], how="full", coalesce=True, suffix="_now", maintain_order="left_right"
    )
    told = joined.with_columns(pl.col("verdict", "verdict_now").fill_null(_UNTOLD))
    flipped = told.filter(pl.col("verdict") != pl.col("verdict_now"))
    return flipped.select(
        "landing_id",
        pl.lit(kind).alias("kind"),
        pl.col(kind).alias("name"),
        pl.col("verdict").alias("was"),
        pl.col("verdict_now").alias("now"),
        pl.lit(None, pl.Float64).alias("shift"),
    )


def _rows(frame: pl.DataFrame, kind: str, name: str, was: pl.Expr, now: pl.Expr, shift: pl.Expr) -> pl.DataFrame:
    return frame.select(
        "landing_id",
        pl.lit(kind).alias("kind"),
        pl.lit(name).alias("name"),
        was.alias("was"),
        now.alias("now"),
        shift.cast(pl.Float64).alias("shift"),
    ).cast(CHANGE)  # type: ignore[arg-type]

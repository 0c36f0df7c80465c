"""Everything the weekly pages need of statistics: a landing frame and a date in, the result frames out."""

from dataclasses import dataclass
from datetime import date

import polars as pl

from pipeline.statistics.consistency import consistency
from pipeline.statistics.drift import watch
from pipeline.statistics.eligible import eligible
from pipeline.statistics.fault_shares import fault_shares
from pipeline.statistics.outcomes import pilot_outcomes
from pipeline.statistics.styles import find_styles


@dataclass(frozen=True)
class Statistics:
    """Result frames, each as the warehouse holds it: an empty one means "cannot tell yet".

    `statements`: plain sentences on what the frames can and cannot show.
    """

    pilot_outcome: pl.DataFrame
    fault_share: pl.DataFrame
    drift_point: pl.DataFrame
    drift_flag: pl.DataFrame
    consistency: pl.DataFrame
    review: pl.DataFrame
    style: pl.DataFrame
    landing_style: pl.DataFrame
    statements: tuple[str, ...] = ()


def weekly_statistics(landings: pl.DataFrame, faults: pl.DataFrame, *, as_of: date) -> Statistics:
    """Compute outcomes, fault shares, drift and styles from all landings up to and including the UTC day `as_of`.

    `landings` is a landing frame of any size, empty too, `faults` the faults judged on them; landings without an
    instant take part only where order does not count.
    """
    until = landings.filter(pl.col("contact_at").is_null() | (pl.col("contact_at").dt.date() <= as_of))
    drift = watch(until)
    steady = consistency(until)
    styles = find_styles(until)
    return Statistics(
        pilot_outcome=pilot_outcomes(until),
        fault_share=fault_shares(faults, until, as_of=as_of),
        drift_point=drift.points,
        drift_flag=drift.flags,
        consistency=steady.consistency,
        review=steady.review,
        style=styles.style,
        landing_style=styles.landing_style,
        statements=(*_drift_statements(drift.points, eligible(until)), styles.statement),
    )


def _drift_statements(points: pl.DataFrame, kept: pl.DataFrame) -> tuple[str, ...]:
    """Say how many pilots are watched yet, and how many landings have no place in the order."""
    watched = points.filter(pl.col("state") != "learning")["pilot"].n_unique()
    undated = kept["contact_at"].null_count()
    said = [f"Drift is watched for {watched} of {kept['pilot'].n_unique()} pilots; the others are still being learned."]
    if undated:
        said.append(f"{undated} landings have no date, so the drift watch leaves them out.")
    return tuple(said)

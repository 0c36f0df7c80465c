"""The drift watch: a landing frame in, one point a landing and chart and one row a flag out.

Two charts a pilot: "hard" on vertical speed at contact, "long" on touchdown distance. Together they give about one
false alarm in 1,000 landings of a pilot who does not change (simulated: python tests/bench/false_alarms.py).
A flag says that landings changed, not why, and never that a landing was unsafe.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
import polars as pl

from pipeline.recording import Floats
from pipeline.statistics.charts import ewma
from pipeline.statistics.conditions import Adjusted, Toward, residuals
from pipeline.statistics.drift_frames import FLAG_SCHEMA, POINT_SCHEMA, flag_rows, point_rows
from pipeline.statistics.flag_chance import chance_real
from pipeline.statistics.flag_source import source
from pipeline.statistics.own_chart import own_chart

Chart = Literal["hard", "long"]

FALSE_ALARMS_PER_1000 = 1.0
"""Promised, at most, over both charts of one pilot who does not change; all his landings are counted.

Achieved by `python tests/bench/false_alarms.py` over careers of 1,000 landings (seeds 1 to 3, each +- 0.05): 0.93 where
each landing is a day of its own; with 3, 6, 12 and mixed landings a day 1.01, 0.87, 0.61 and 0.74 where they agree
(correlation 0.15), 0.58, 0.37, 0.26 and 0.35 where they do not; 0.75 with skewed and with heavy-tailed residuals; 0.75,
0.75, 0.80 and 0.82 in cohorts of 1, 3, 12 and 100. A season or a fault of the condition model is not in these figures.
"""

WATCHED: dict[Chart, tuple[tuple[str, Toward], ...]] = {
    "hard": (("vertical_speed_at_contact_fpm", "low"),),
    "long": (("touchdown_distance_ft", "high"), ("distance_from_50ft_ft", "high")),
}
"""Measures of each chart, the first wherever half a pilot's landings have it, and the sign that means drift."""

POOL_PILOTS = 8
POOL_LANDINGS = 30
"""So many pilots with so many landings each lend each other the shape of their residuals."""

LINE_WEIGHT = 0.1


@dataclass(frozen=True)
class DriftResult:
    """`points`: one row a pilot, chart and landing; `flags`: one row a flag; `adjusted`: what was taken out."""

    points: pl.DataFrame
    flags: pl.DataFrame
    adjusted: tuple[Adjusted, ...]


def watch(landings: pl.DataFrame) -> DriftResult:
    """Run both charts for every pilot.

    Parameters
    ----------
    landings : a landing frame; only baseline-eligible landings with a contact instant take part, because order counts.
    """
    dated = landings.filter(pl.col("contact_at").is_not_null())
    points: list[pl.DataFrame] = []
    flags: list[pl.DataFrame] = [pl.DataFrame(schema=FLAG_SCHEMA)]
    used: list[Adjusted] = []
    aircraft = dated.select("landing_id", "aircraft")
    for chart, measures in WATCHED.items():
        best = _first_that_serves(dated, [measure for measure, _ in measures])
        for measure, toward in measures:
            pilots = [pilot for pilot, name in best.items() if name == measure]
            if not pilots:
                continue
            adjusted = residuals(dated.filter(pl.col("pilot").is_in(pilots)), measure=measure, toward=toward)
            used.append(adjusted)
            everybody = adjusted.frame.join(aircraft, on="landing_id", how="left", maintain_order="left")
            for drawn, raised in _streams(adjusted, chart):
                points.append(drawn)
                flags.append(_with_source(raised, everybody))
    all_points = pl.concat([pl.DataFrame(schema=POINT_SCHEMA), *points]).sort("pilot", "chart", "sequence")
    all_flags = pl.concat(flags).sort("pilot", "chart", "flagged_sequence")
    return DriftResult(all_points, _with_chance(all_flags, landings=all_points.height / len(WATCHED)), tuple(used))


def expected_false(landings: float) -> float:
    """False flags to be expected, at most, in so many landings of pilots who do not change."""
    return FALSE_ALARMS_PER_1000 * landings / 1000.0


def _with_chance(flags: pl.DataFrame, *, landings: float) -> pl.DataFrame:
    """Turn the evidence of each flag into its chance of being real, given all flags of the office."""
    log_evidence = flags["chance_real"].to_numpy()
    chance = chance_real(log_evidence, expected_false=max(expected_false(landings), 1e-9))
    return flags.with_columns(pl.Series("chance_real", chance, dtype=pl.Float64))


def _with_source(flags: pl.DataFrame, everybody: pl.DataFrame) -> pl.DataFrame:
    """Hold every flag against the others on the same aircraft."""
    told = [source(flag, everybody) for flag in flags.iter_rows(named=True)]
    return flags.with_columns(pl.Series("source", told, dtype=pl.String))


def _first_that_serves(landings: pl.DataFrame, measures: list[str]) -> dict[str, str]:
    """For each pilot the first measure that half of the landings with any of them have, else the commonest."""
    any_of = pl.any_horizontal(pl.col(m).is_not_null() for m in measures)
    counts = (
        landings.filter(any_of, pl.col("pilot").is_not_null())
        .group_by("pilot")
        .agg(pl.len().alias("landings"), *(pl.col(m).count() for m in measures))
    )
    return {
        row["pilot"]: next((m for m in measures if 2 * row[m] >= row["landings"]), max(measures, key=row.__getitem__))
        for row in counts.sort("pilot").iter_rows(named=True)
    }


def _streams(adjusted: Adjusted, chart: Chart) -> list[tuple[pl.DataFrame, pl.DataFrame]]:
    """Points and flags of each pilot and stream; sequence counts a pilot's landings over all his streams.

    A landing measured less surely than the pilot's own scatter (reliability under a half) takes no part.
    """
    scatter = pl.col("residual").var() - (pl.col("residual_u") ** 2).mean()
    own = pl.max_horizontal(scatter, 0.25 * pl.col("residual").var()).over("pilot").fill_null(np.inf)
    sure = adjusted.frame.filter(pl.col("residual_u") ** 2 <= own)
    frame = sure.with_columns(sequence=pl.int_range(1, pl.len() + 1).over("pilot"))
    groups = [group for _, group in frame.group_by("pilot", "stream", maintain_order=True)]
    pool = _pool(groups)
    return [_one_stream(group, chart, pool) for group in groups]


def _pool(groups: list[pl.DataFrame]) -> Floats | None:
    """Sorted standardised residuals of pilots with enough landings; None where they are too few to lend a shape."""
    full = [group for group in groups if group.height >= POOL_LANDINGS]
    if len({group["pilot"][0] for group in full}) < POOL_PILOTS:
        return None
    parts = []
    for group in full:
        scaled = group["residual"].to_numpy() / _relative_noise(group)
        parts.append((scaled - scaled.mean()) / max(float(scaled.std(ddof=1)), 1e-12))
    return np.sort(np.concatenate(parts))


def _relative_noise(group: pl.DataFrame) -> Floats:
    """Spread each residual would have, own scatter and measuring together, relative to the typical one, (n,)."""
    x, u = group["residual"].to_numpy(), group["residual_u"].to_numpy()
    typical = float(np.median(u) ** 2)
    own = max(float(np.var(x)) - float(np.mean(u**2)), 0.25 * float(np.var(x)), 1e-12)
    return np.sqrt((own + u**2) / (own + typical))


def _one_stream(group: pl.DataFrame, chart: Chart, pool: Floats | None) -> tuple[pl.DataFrame, pl.DataFrame]:
    x = group["residual"].to_numpy()
    code = (group["session"].rank("dense") - 1).to_numpy().astype(np.int64)
    run = own_chart(x, code, noise=_relative_noise(group), pool=pool)
    line = np.full(x.size, np.nan)
    live = ~np.isnan(run.standing)
    line[live] = ewma(run.standing[live], weight=LINE_WEIGHT)
    return point_rows(group, chart, run, line), flag_rows(group, chart, run)

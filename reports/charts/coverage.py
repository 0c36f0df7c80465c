"""Landings in; how many came from each aircraft and month out."""

from functools import cache
from typing import Any

import altair as alt
import polars as pl

from reports.charts import look

MONTHS, MOST_AIRCRAFT, STEP = 12, 40, 26
"""Months and aircraft drawn, the latest and the busiest; pixels a row takes."""


def by_month(flown: pl.DataFrame) -> list[look.Chart]:
    """Draw the landings of each aircraft and month as a table of shaded counts, or nothing where there are none.

    Parameters
    ----------
    flown : dated landing frame.
    """
    landed = flown.filter(pl.col("contact_t_s").is_not_null(), pl.col("flown").is_not_null())
    if not landed.height:
        return []
    counts = landed.group_by(
        aircraft=pl.col("aircraft").fill_null("not known"), month=pl.col("flown").dt.strftime("%Y-%m")
    ).agg(n=pl.len())
    months = counts["month"].unique().sort().tail(MONTHS)
    busiest = (
        counts.group_by("aircraft")
        .agg(pl.col("n").sum())
        .sort("n", "aircraft", descending=[True, False])
        .head(MOST_AIRCRAFT)
    )
    rows = counts.filter(
        pl.col("month").is_in(months.implode()), pl.col("aircraft").is_in(busiest["aircraft"].implode())
    )
    rows = rows.sort("aircraft", "month")
    words = "; ".join(f"{row['aircraft']} {row['month']}: {row['n']}" for row in rows.to_dicts())
    height = STEP * rows["aircraft"].n_unique()
    spec = look.filled(_template(), {"rows": rows}, description=words, height=height)
    return [look.Chart("Landings by aircraft and month", "An empty field is a month without a landing.", words, spec)]


@cache
def _template() -> dict[str, Any]:
    rows = look.frame("rows")
    across = alt.X(
        "month:O",
        axis=alt.Axis(
            title=None,
            labelAngle=0,
            orient="top",
            domain=False,
            ticks=False,
            labelOverlap=True,
            labelExpr="slice(datum.label, 2)",
        ),
    )
    upright = alt.Y("aircraft:N", axis=alt.Axis(title=None, domain=False, ticks=False, labelLimit=90))
    shade = alt.Opacity("n:Q", legend=None, scale=alt.Scale(domainMin=0, range=[0.15, 1]))
    return look.template(
        rows.mark_rect(color=look.BAND, stroke="var(--paper)").encode(x=across, y=upright, opacity=shade),
        rows.mark_text().encode(x=alt.X("month:O"), y=alt.Y("aircraft:N"), text="n:Q"),
        height=STEP,
    )

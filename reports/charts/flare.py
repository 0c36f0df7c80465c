"""Aligned traces of a week and of earlier landings in; flare profiles over the pilot's own band out."""

from functools import cache
from typing import Any

import altair as alt
import polars as pl

from reports.charts import look

FROM_S, TO_S = -12.0, 3.0
"""Time to first contact shown, s."""
BAND_LANDINGS = 60
"""Own earlier landings the band is made of, the most recent ones."""
FEWEST = 8
"""Landings a band needs at each instant; with fewer there is none."""
PANELS = {
    "height_ft": ("Height of the main wheels, ft", "height"),
    "pitch_deg": ("Pitch, deg (up is nose up)", "pitch"),
    "thrust_lever_pct": ("Thrust lever, % (0 is the idle stop)", "thrust lever"),
}
"""Trace columns drawn, each with its panel title and what it is called in a sentence."""


def profiles(week: pl.DataFrame, traces: pl.DataFrame, earlier: pl.Series) -> list[look.Chart]:
    """Draw height, pitch and thrust lever against time to contact, one panel each.

    Parameters
    ----------
    week : rows with `landing_id`, `number`, `key`, `label`.
    traces : trace frame with the week's landings and the earlier ones.
    earlier : landing_ids the band is made of.

    Returns
    -------
    list
        A panel for each channel that any landing of the week has; none where no landing has a trace.
    """
    shown = traces.filter(pl.col("tau_s").is_between(FROM_S, TO_S))
    lines = shown.join(week.select("landing_id", "number", "key", "label"), on="landing_id").sort("number", "tau_s")
    own = shown.filter(pl.col("landing_id").is_in(earlier.implode()))
    return [_panel(name, lines, own) for name in PANELS if lines[name].count()]


def band(own: pl.DataFrame, name: str) -> pl.DataFrame:
    """Return median and 10 to 90 % range of a trace column at each instant that `FEWEST` landings or more have."""
    value = pl.col(name)
    return (
        own.group_by("tau_s")
        .agg(
            n=value.count(),
            low=value.quantile(0.1, "linear"),
            mid=value.median(),
            high=value.quantile(0.9, "linear"),
        )
        .filter(pl.col("n") >= FEWEST)
        .sort("tau_s")
    )


def _panel(name: str, lines: pl.DataFrame, own: pl.DataFrame) -> look.Chart:
    title, called = PANELS[name]
    usual = band(own, name)
    rows = lines.select("number", "key", "label", "tau_s", value=name).drop_nulls("value")
    count = rows["number"].n_unique()
    rows = _thinned(rows, usual.height)
    behind = "over the middle 80 % of your own recent landings" if usual.height else "with no own band yet"
    description = f"{called.capitalize()} from {-FROM_S:.0f} s before to {TO_S:.0f} s after contact: {count} of this week's landings {behind}."
    return look.Chart(
        title=title,
        caption="",
        description=description,
        spec=look.filled(_template(), {"band": usual, "lines": rows}, description=description),
    )


def _thinned(rows: pl.DataFrame, beside: int) -> pl.DataFrame:
    """Keep every second, third ... instant so that the panel stays under the most rows a chart may carry."""
    room = look.MOST_ROWS - beside
    step = -(-rows.height // room)
    quarters = (pl.col("tau_s") * 4).round().cast(pl.Int64)
    return rows if step <= 1 else rows.filter(quarters % step == 0)


@cache
def _template() -> dict[str, Any]:
    time = alt.X(
        "tau_s:Q",
        scale=alt.Scale(domain=[FROM_S, TO_S], nice=False),
        axis=alt.Axis(title="s to first contact", grid=False, tickCount=6),
    )
    upright = alt.Axis(title=None, minExtent=34, tickCount=5)
    colour = alt.Color("key:N", legend=None, scale=alt.Scale(domain=list(look.KEY_NAMES), range=list(look.KEY_COLOURS)))
    dash = alt.StrokeDash(
        "key:N", legend=None, scale=alt.Scale(domain=list(look.KEY_NAMES), range=list(look.KEY_DASHES))
    )
    own = look.frame("band")
    area = own.mark_area(color=look.BAND, opacity=0.8).encode(
        x=time, y=alt.Y("low:Q", axis=upright, scale=alt.Scale(zero=False)), y2="high:Q"
    )
    middle = own.mark_line(color=look.SOFT, strokeWidth=1, strokeDash=[4, 3]).encode(x="tau_s:Q", y="mid:Q")
    lines = (
        look.frame("lines")
        .mark_line(strokeWidth=2, opacity=0.9)
        .encode(
            x="tau_s:Q",
            y="value:Q",
            color=colour,
            strokeDash=dash,
            detail="number:N",
            tooltip=[alt.Tooltip("label:N", title="landing")],
        )
    )
    contact = alt.Chart().mark_rule(color=look.SOFT, strokeWidth=1).encode(x=alt.datum(0))
    return look.template(area, middle, contact, lines, height=210)

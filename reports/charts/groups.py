"""Shares and ranges of groups in; one line a group out, with its interval or its spread."""

from functools import cache
from typing import Any

import altair as alt
import polars as pl

from reports.charts import look
from reports.words import percent

STEP, HEAD = 34, 12
"""Pixels a group takes, and above the first."""


def shares(rows: pl.DataFrame, *, title: str, caption: str) -> look.Chart:
    """Draw a share with its 90 % interval for each group.

    Parameters
    ----------
    rows : `group`, `set` ("now" or "before"; one set alone is "now"), `share`, `low`, `high` (0 to 1), in the order
        they are drawn.
    """
    words = "; ".join(
        f"{row['group']}{' before' if row['set'] == 'before' else ''} {percent(row['share'])} ({percent(row['low'])} to {percent(row['high'])})"
        for row in rows.to_dicts()
    )
    return look.Chart(title, caption, words, _sized(_shares(), {"rows": rows}, words, rows))


def ranges(rows: pl.DataFrame, *, title: str, caption: str, unit: str) -> look.Chart:
    """Draw median, middle half and middle 80 % of each group.

    Parameters
    ----------
    rows : `group`, `p10`, `p25`, `p50`, `p75`, `p90` in one unit, in the order they are drawn.
    """
    words = "; ".join(
        f"{row['group']} median {row['p50']:.0f}, middle 80 % {row['p10']:.0f} to {row['p90']:.0f} {unit}"
        for row in rows.to_dicts()
    )
    return look.Chart(title, caption, words, _sized(_ranges(), {"rows": rows}, words, rows))


def _sized(spec: dict[str, Any], data: dict[str, pl.DataFrame], words: str, rows: pl.DataFrame) -> dict[str, Any]:
    return look.filled(spec, data, description=words, height=HEAD + STEP * rows["group"].n_unique())


def _upright(field: str = "group") -> alt.Y:
    """Return the groups' axis: names above their line, so that long ones leave the chart its width."""
    axis = alt.Axis(
        title=None,
        labelAlign="left",
        labelPadding=0,
        labelOffset=-11,
        domain=False,
        ticks=False,
        offset=0,
        labelLimit=420,
        zindex=1,
        orient="left",
        labelBaseline="middle",
        minExtent=0,
        maxExtent=0,
    )
    return alt.Y(field, type="nominal", sort=None, axis=axis)


@cache
def _shares() -> dict[str, Any]:
    along = alt.X("low:Q", scale=alt.Scale(domainMin=0, nice=True), axis=alt.Axis(format="%", title=None, tickCount=5))
    colour = alt.Color("set:N", legend=None, scale=alt.Scale(domain=["now", "before"], range=[look.OWN, look.SOFT]))
    lift = {"expr": "datum.set == 'before' ? 10 : 2"}
    rows = look.frame("rows")
    return look.template(
        rows.mark_rule(strokeWidth=3, opacity=0.5, strokeCap="round", yOffset=lift).encode(
            x=along, x2="high:Q", y=_upright(), color=colour
        ),
        rows.mark_point(filled=True, size=80, opacity=1, yOffset=lift).encode(
            x="share:Q",
            y=alt.Y("group:N", sort=None),
            color=colour,
            shape=alt.Shape(
                "set:N", legend=None, scale=alt.Scale(domain=["now", "before"], range=["circle", "diamond"])
            ),
        ),
        height=STEP,
        shared_colour=True,
    )


@cache
def _ranges() -> dict[str, Any]:
    along = alt.X("p10:Q", scale=alt.Scale(zero=False), axis=alt.Axis(title=None, tickCount=6, labelOverlap=True))
    rows = look.frame("rows")
    plain = alt.Y("group:N", sort=None)
    return look.template(
        rows.mark_rule(color=look.OWN, strokeWidth=3, opacity=0.45, yOffset=5).encode(
            x=along, x2="p90:Q", y=_upright()
        ),
        rows.mark_rule(color=look.OWN, strokeWidth=8, opacity=0.6, yOffset=5).encode(x="p25:Q", x2="p75:Q", y=plain),
        rows.mark_tick(thickness=3, size=16, color=look.INK, opacity=1, yOffset=5).encode(x="p50:Q", y=plain),
        height=STEP,
    )

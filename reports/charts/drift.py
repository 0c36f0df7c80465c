"""The drift watch of one pilot and one direction in; its standing line and its running sum out."""

from functools import cache
from typing import Any

import altair as alt
import polars as pl

from reports.charts import look

LATEST = 300
"""Landings drawn, the most recent ones."""


def watch(points: pl.DataFrame, flags: pl.DataFrame, *, toward: str) -> list[look.Chart]:
    """Draw the standing of each landing with its smoothed line, and the running sum with the limit it is held to.

    Parameters
    ----------
    points : drift_point rows of one pilot and chart, any order; those still learning have no standing.
    flags : drift_flag rows of the same.
    toward : "hard" or "long".
    """
    shown = points.sort("sequence").tail(LATEST)
    learning = shown.filter(pl.col("state") == "learning")
    stretch = learning.select(x=pl.col("sequence").min(), x2=pl.col("sequence").max() + 0.5).drop_nulls()
    first = shown["sequence"].min()
    spans = flags.filter(pl.col("flagged_sequence") >= first).select(
        x=pl.max_horizontal(pl.col("change_sequence"), pl.lit(first)), x2="flagged_sequence"
    )
    data = {
        "points": shown.select("sequence", "standing", "line", "cusum", "limit"),
        "learning": stretch,
        "flags": spans,
    }
    words = _description(shown, flags, toward)
    return [
        look.Chart(f"Toward {toward}: each landing", "", words, look.filled(_standing(), data, description=words)),
        look.Chart(f"Toward {toward}: added up", "", words, look.filled(_sum(), data, description=words)),
    ]


def _description(shown: pl.DataFrame, flags: pl.DataFrame, toward: str) -> str:
    watched = shown.drop_nulls("cusum")
    if not watched.height:
        return f"Drift watch toward {toward}: {shown.height} landings, still learning."
    last = watched.tail(1).to_dicts()[0]
    limit = f" of a limit of {last['limit']:.1f}" if last["limit"] is not None else ""
    flagged = f"{flags.height} flags in all" if flags.height != 1 else "1 flag in all"
    return f"Drift watch toward {toward}: {watched.height} landings watched, the sum stands at {last['cusum']:.1f}{limit}; {flagged}."


def _behind() -> list[alt.Chart]:
    """Return the layers both charts share: the learning stretch, and each flag from its change to where it was raised."""
    along = alt.X(
        "x:Q",
        scale=alt.Scale(zero=False, nice=False, padding=8),
        axis=alt.Axis(title="own landings, counted", grid=False, tickCount=6, labelOverlap=True),
    )
    learning = look.frame("learning").encode(x=along, x2="x2:Q")
    flags = look.frame("flags").encode(x="x:Q", x2="x2:Q")
    return [
        learning.mark_rect(color=look.RULE, opacity=0.5),
        look.frame("learning").mark_text(align="left", dx=4, y=10, text="learning", color=look.SOFT).encode(x="x:Q"),
        flags.mark_rect(color=look.WARN, opacity=0.16),
        look.frame("flags").mark_rule(color=look.WARN, strokeWidth=2).encode(x="x2:Q"),
        look.frame("flags").mark_text(text="flag", align="right", dx=-4, y=10, color=look.WARN).encode(x="x2:Q"),
    ]


@cache
def _standing() -> dict[str, Any]:
    points = look.frame("points")
    upright = alt.Y(
        "standing:Q", axis=alt.Axis(title=None, minExtent=28, tickCount=5), scale=alt.Scale(domain=[-4, 4], clamp=True)
    )
    return look.template(
        *_behind(),
        points.mark_circle(color=look.SOFT, size=14, opacity=0.55).encode(x="sequence:Q", y=upright),
        points.mark_line(color=look.OWN, strokeWidth=2).encode(x="sequence:Q", y="line:Q"),
        alt.Chart().mark_rule(color=look.SOFT, strokeWidth=1).encode(y=alt.datum(0)),
        height=190,
    )


@cache
def _sum() -> dict[str, Any]:
    points = look.frame("points")
    upright = alt.Y("cusum:Q", axis=alt.Axis(title=None, minExtent=28, tickCount=5), scale=alt.Scale(zero=True))
    return look.template(
        *_behind(),
        points.mark_area(color=look.OWN, opacity=0.18, interpolate="step-after").encode(x="sequence:Q", y=upright),
        points.mark_line(color=look.OWN, strokeWidth=2, interpolate="step-after").encode(x="sequence:Q", y="cusum:Q"),
        points.mark_line(color=look.WARN, strokeDash=[6, 4]).encode(x="sequence:Q", y="limit:Q"),
        height=190,
    )

"""One measure over a pilot's landings in; its trend against count and against the calendar out.

Neither end of a band is better: a softer touch is as often a longer one.
"""

from functools import cache
from typing import Any

import altair as alt
import polars as pl

from pipeline.measures.table import BY_NAME
from reports.charts import look
from reports.words import number, titled

LATEST = 300
"""Landings drawn, the most recent ones; more would hide one another on a phone."""
WINDOW, FEWEST = 30, 10
"""Landings the running band looks back over, and the fewest it needs."""
GAP_DAYS = 30
"""Days without a landing after which a gap is marked on the calendar."""


def trends(history: pl.DataFrame, measure: str, *, fresh: pl.DataFrame, lines: dict[str, float]) -> list[look.Chart]:
    """Draw a measure twice: against the count of own landings, and against the calendar.

    Parameters
    ----------
    history : baseline landings, oldest first, with `sequence`, `day` (local, "2026-11-17T14:05") and the measure.
    measure : name of a numeric measure.
    fresh : the week's rows of `history` with `number`, `key`, `label`.
    lines : what to draw across, words -> value in the measure's unit.
    """
    points = banded(history, measure)
    new = fresh.drop_nulls(measure).select(
        "sequence",
        "day",
        "number",
        "key",
        "label",
        value=measure,
        low=pl.col(measure) - 1.645 * pl.col(BY_NAME[measure].quality).fill_null(0.0),
        high=pl.col(measure) + 1.645 * pl.col(BY_NAME[measure].quality).fill_null(0.0),
    )
    across = pl.DataFrame(
        {"text": list(lines), "value": list(lines.values())}, schema={"text": pl.String, "value": pl.Float64}
    )
    data = {"points": points, "new": new, "across": across}
    title, description = titled(BY_NAME[measure]), _description(points, new, measure)
    return [
        look.Chart(
            f"{title}: by landing", "", description, look.filled(_template("sequence"), data, description=description)
        ),
        look.Chart(
            f"{title}: by date",
            "",
            description,
            look.filled(_template("day"), {**data, "gaps": gaps(points)}, description=description),
        ),
    ]


def banded(history: pl.DataFrame, measure: str) -> pl.DataFrame:
    """Return the latest landings with the running median and 10 to 90 % range of the `WINDOW` up to each."""
    value = pl.col("value")
    return (
        history.select("sequence", "day", value=measure)
        .drop_nulls("value")
        .with_columns(
            mid=value.rolling_median(WINDOW, min_samples=FEWEST),
            low=value.rolling_quantile(0.1, "linear", WINDOW, min_samples=FEWEST),
            high=value.rolling_quantile(0.9, "linear", WINDOW, min_samples=FEWEST),
        )
        .tail(LATEST)
    )


def gaps(points: pl.DataFrame) -> pl.DataFrame:
    """Return the stretches of the calendar longer than `GAP_DAYS` without a landing: `day`, `until`."""
    days = points.select("day", until=pl.col("day").shift(-1))
    length = pl.col("until").str.to_datetime() - pl.col("day").str.to_datetime()
    return days.drop_nulls().filter(length > pl.duration(days=GAP_DAYS))


def _description(points: pl.DataFrame, new: pl.DataFrame, measure: str) -> str:
    unit = BY_NAME[measure].unit
    text = f"{BY_NAME[measure].title} of {points.height} landings"
    if points.height and points["mid"][-1] is not None:
        last = points.tail(1).to_dicts()[0]
        low, mid, high = (number(last[name]) for name in ("low", "mid", "high"))
        text += f"; the latest {WINDOW} have a median of {mid} {unit}, the middle 80 % from {low} to {high} {unit}"
    if new.height:
        text += f"; this week {', '.join(number(value) for value in new['value'])} {unit}"
    return f"{text}."


@cache
def _template(across: str) -> dict[str, Any]:
    if across == "day":
        kind: Any = "temporal"
        axis = alt.Axis(title=None, grid=False, format="%b %y", labelOverlap=True, tickCount=5)
        scale = alt.Scale(nice=False, padding=8)
    else:
        kind = "quantitative"
        axis = alt.Axis(title="own landings, counted", grid=False, tickCount=6, labelOverlap=True)
        scale = alt.Scale(zero=False, nice=False, padding=8)
    along = alt.X(field=across, type=kind, axis=axis, scale=scale)
    plain = alt.X(field=across, type=kind)
    upright = alt.Y("low:Q", axis=alt.Axis(title=None, minExtent=40, tickCount=5), scale=alt.Scale(zero=False))
    colour = alt.Color("key:N", legend=None, scale=alt.Scale(domain=list(look.KEY_NAMES), range=list(look.KEY_COLOURS)))
    points, new, lines = look.frame("points"), look.frame("new"), look.frame("across")
    layers = [
        points.mark_area(color=look.BAND, opacity=0.8).encode(x=along, y=upright, y2="high:Q"),
        points.mark_circle(color=look.SOFT, size=14, opacity=0.55).encode(x=plain, y="value:Q"),
        points.mark_line(color=look.OWN, strokeWidth=2).encode(x=plain, y="mid:Q"),
        lines.mark_rule(color=look.WARN, strokeDash=[6, 4]).encode(y="value:Q"),
        lines.mark_text(align="left", x=4, dy=-7, color=look.WARN).encode(y="value:Q", text="text:N"),
        new.mark_rule(strokeWidth=2, opacity=0.6).encode(x=plain, y="low:Q", y2="high:Q", color=colour),
        new.mark_circle(size=64, opacity=1).encode(
            x=plain, y="value:Q", color=colour, tooltip=[alt.Tooltip("label:N", title="landing")]
        ),
    ]
    if across == "day":
        gap = look.frame("gaps").mark_rect(color=look.RULE, opacity=0.6)
        layers.insert(0, gap.encode(x=plain, x2="until"))
    return look.template(*layers, height=220)

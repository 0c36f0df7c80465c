"""One approach's samples, fitted course and moments in; its traces, one panel a channel on one time axis, out."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

import altair as alt
import polars as pl

from reports.charts import look
from reports.trace_moments import Moment
from reports.words import number

GROUPS = {
    "contact": "var(--limit)",
    "flare": "var(--key-1)",
    "thrust": "var(--key-3)",
    "place": "var(--key-4)",
    "gate": "var(--key-6)",
}
"""Colour of each kind of moment; every moment is also named in the lane above the panels."""
_ROOM = 48
"""Pixels kept free left of every panel, so that their time axes lie under one another."""
_LANE, _SIDE = 28, 0.33
"""Pixels a moment takes in the lane; the part of the time axis at either end where its words stand to one side of it, so
that they fit on a phone."""
_DENSE, _SPARSE, _FEW_POINTS = 13, 34, 80
"""Area of a point where samples are many, and where they are few."""
MOST_POINTS = 1200
"""Samples a panel shows; where there are more, every second, third ... one."""


@dataclass(frozen=True)
class Panel:
    """One panel.

    `samples` (`tau_s`, `value`) as written; `course` (`tau_s`, `value`) as measured with, may be empty; `measured` (`tau_s`, `value`, `low`, `high`, `label`): measures that stand on it, with one standard uncertainty.
    """

    title: str
    caption: str
    samples: pl.DataFrame
    course: pl.DataFrame
    measured: pl.DataFrame


def lane(found: Sequence[Moment], span_s: tuple[float, float]) -> list[look.Chart]:
    """Draw the moments by name over time, each with its band; nothing where there is none in the span."""
    shown = [moment for moment in found if span_s[0] <= moment.tau_s <= span_s[1]]
    if not shown:
        return []
    rows = _rows(shown).with_columns(
        label=pl.Series([f"{moment.name} {number(moment.tau_s, decimals=2)}{moment.band}" for moment in shown]),
        part=(pl.col("tau_s") - span_s[0]) / (span_s[1] - span_s[0]),
    )
    words = "; ".join(rows["label"])
    data = {
        "moments": rows,
        "left": rows.filter(pl.col("part") < _SIDE),
        "middle": rows.filter(pl.col("part").is_between(_SIDE, 1.0 - _SIDE)),
        "right": rows.filter(pl.col("part") > 1.0 - _SIDE),
    }
    spec = look.filled(_lane_template(*span_s), data, description=words, height=_LANE * rows.height)
    return [look.Chart("Moments found", "", words, spec)]


def panel(one: Panel, found: Sequence[Moment], span_s: tuple[float, float], *, about: str) -> look.Chart:
    """Draw one channel: samples as points, the fitted course as a line, moments as rules with their bands."""
    inside = pl.col("tau_s").is_between(*span_s)
    samples = one.samples.filter(inside)
    step = -(-samples.height // MOST_POINTS)
    samples = samples.gather_every(step) if step > 1 else samples
    caption = one.caption + (f" Every {_ordinal(step)} sample is shown." if step > 1 else "")
    rows = _rows([moment for moment in found if span_s[0] <= moment.tau_s <= span_s[1]])
    data = {
        "moments": rows,
        "samples": samples,
        "course": one.course.filter(inside),
        "measured": one.measured.filter(inside),
    }
    words = _description(one, samples)
    return look.Chart(
        one.title,
        caption,
        words,
        look.filled(
            _panel_template(*span_s, size=_SPARSE if samples.height < _FEW_POINTS else _DENSE, about=about),
            data,
            description=words,
        ),
    )


def switches(
    held: pl.DataFrame, found: Sequence[Moment], span_s: tuple[float, float], *, about: str
) -> list[look.Chart]:
    """Draw when each switch was on: rows `name`, `from_s`, `to_s`, with a row of null times for one never on."""
    if not held.height:
        return []
    names = held["name"].unique(maintain_order=True).to_list()
    rows = _rows([moment for moment in found if span_s[0] <= moment.tau_s <= span_s[1]])
    on = (
        held.drop_nulls().with_columns(pl.col("from_s", "to_s").clip(*span_s)).filter(pl.col("from_s") < pl.col("to_s"))
    )
    labels = pl.DataFrame({"name": names, "tau_s": [span_s[0]] * len(names)})
    words = "; ".join(f"{name}: {_spells(on.filter(pl.col('name') == name))}" for name in names)
    data = {"moments": rows, "on": on, "labels": labels}
    spec = look.filled(_switch_template(*span_s, about=about), data, description=words, height=24 * len(names))
    return [look.Chart("Switches", "A bar is where the switch is on.", words, spec)]


def _spells(on: pl.DataFrame) -> str:
    spells = [f"{start:.1f} to {end:.1f} s" for start, end in on.select("from_s", "to_s").iter_rows()]
    return f"on from {', '.join(spells)}" if spells else "off throughout"


def _rows(found: Sequence[Moment]) -> pl.DataFrame:
    return pl.DataFrame(
        [(m.name, m.group, m.tau_s, m.low_s, m.high_s, m.band) for m in found],
        schema={"name": pl.String, "group": pl.String, "tau_s": pl.Float64, "low_s": pl.Float64, "high_s": pl.Float64, "band": pl.String},
        orient="row",
    )  # fmt: skip


def _description(one: Panel, samples: pl.DataFrame) -> str:
    if not samples.height:
        return f"{one.title}: no sample in this stretch."
    measured = "; ".join(one.measured["label"])
    low, high = (float(samples["value"].min()), float(samples["value"].max()))  # type: ignore[arg-type]
    return f"{one.title}: {samples.height} samples from {low:.4g} to {high:.4g}{f'; measured: {measured}' if measured else ''}."


def _ordinal(step: int) -> str:
    return {2: "second", 3: "third"}.get(step, f"{step}th")


def _time(low: float, high: float, *, title: str | None) -> alt.X:
    axis = alt.Axis(
        title=title,
        grid=True,
        gridOpacity=0.5,
        tickCount=8,
        labels=title is not None,
        ticks=title is not None,
        labelFlush=True,
    )
    return alt.X("tau_s:Q", scale=alt.Scale(domain=[low, high], nice=False), axis=axis)


def _marks(low: float, high: float) -> list[alt.Chart]:
    """Rules and bands of the moments, behind everything else."""
    frame = look.frame("moments")
    colour = alt.Color("group:N", legend=None, scale=alt.Scale(domain=list(GROUPS), range=list(GROUPS.values())))
    bands = frame.mark_rect(opacity=0.16, clip=True).encode(
        x=alt.X("low_s:Q", scale=alt.Scale(domain=[low, high], nice=False)), x2="high_s:Q", color=colour
    )
    rules = frame.mark_rule(strokeWidth=1.2, strokeDash=[5, 3], clip=True).encode(x="tau_s:Q", color=colour)
    return [bands, rules]


@cache
def _lane_template(low: float, high: float) -> dict[str, Any]:
    names = alt.Y(
        "name:N", sort=None, axis=alt.Axis(labels=False, ticks=False, domain=False, title=None, minExtent=_ROOM)
    )
    colour = alt.Color("group:N", legend=None, scale=alt.Scale(domain=list(GROUPS), range=list(GROUPS.values())))
    x = _time(low, high, title=None)
    frame = look.frame("moments")
    spread = frame.mark_rule(strokeWidth=3, opacity=0.45, clip=True, yOffset=6).encode(
        x=alt.X("low_s:Q"), x2="high_s:Q", y=names, color=colour
    )
    points = frame.mark_tick(thickness=2.5, size=10, orient="vertical", opacity=1, yOffset=6).encode(
        x=x, y=names, color=colour
    )
    words = [
        look.frame("left").mark_text(align="left", dy=-6),
        look.frame("middle").mark_text(align="center", dy=-6),
        look.frame("right").mark_text(align="right", dy=-6),
    ]
    texts = [text.encode(x="tau_s:Q", y=alt.Y("name:N", sort=None), text="label:N") for text in words]
    return look.template(spread, points, *texts, height=_LANE)


@cache
def _panel_template(low: float, high: float, *, size: int, about: str) -> dict[str, Any]:
    upright = alt.Axis(title=None, minExtent=_ROOM, maxExtent=_ROOM, tickCount=4)
    y = alt.Y("value:Q", axis=upright, scale=alt.Scale(zero=False))
    samples = look.frame("samples").mark_circle(size=size, color=look.SOFT, opacity=0.75)
    course = look.frame("course").mark_line(color=look.OWN, strokeWidth=1.8)
    measured = look.frame("measured")
    spread = measured.mark_rule(color=look.INK, strokeWidth=2).encode(x="tau_s:Q", y="low:Q", y2="high:Q")
    points = measured.mark_point(shape="diamond", filled=True, size=70, color=look.INK, opacity=1)
    return look.template(
        *_marks(low, high),
        samples.encode(x=_time(low, high, title=f"s to {about}"), y=y),
        course.encode(x="tau_s:Q", y=alt.Y("value:Q", scale=alt.Scale(zero=False))),
        spread,
        points.encode(x="tau_s:Q", y="value:Q", tooltip=[alt.Tooltip("label:N", title="measured")]),
        height=150,
    )


@cache
def _switch_template(low: float, high: float, *, about: str) -> dict[str, Any]:
    axis = alt.Axis(labels=False, ticks=False, domain=False, title=None, minExtent=_ROOM)
    names = alt.Y("name:N", sort=None, axis=axis)
    x = alt.X(
        "from_s:Q",
        scale=alt.Scale(domain=[low, high], nice=False),
        axis=alt.Axis(title=f"s to {about}", tickCount=8, labelFlush=True),
    )
    bars = look.frame("on").mark_bar(color=look.BAND, height=15).encode(x=x, x2="to_s:Q", y=names)
    text = (
        look.frame("labels")
        .mark_text(align="left", dx=4, color=look.INK)
        .encode(x="tau_s:Q", y=alt.Y("name:N", sort=None), text="name:N")
    )
    return look.template(bars, *_marks(low, high), text, height=24)

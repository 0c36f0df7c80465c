"""One runway and a week's touchdowns on it in; a plan to scale out, with one line a landing under it.

Along and across the runway one foot is the same number of pixels, whatever the width of the page.
"""

from functools import cache
from typing import Any

import altair as alt
import polars as pl

from pipeline.policy import Limits
from reports.charts import look
from reports.words import number

PLAN_CENTRE, ROWS_TOP, ROW_STEP = 50, 92, 24
"""Pixels: centreline of the plan, first landing's line, step between lines."""
UNGIVEN_WIDTH_FT = 100.0
"""Width drawn where the runway table gives none; the caption says so."""
NINETY = 1.645
"""Standard uncertainties either side of a value that hold it with 90 % probability, for a normal error."""

_KINDS = {
    "pavement": "var(--pavement)",
    "displaced": "var(--displaced)",
    "zone": "var(--zone)",
    "paint": "var(--paint)",
}
_FT = "(scale('x',1000)-scale('x',0))/1000"


def zone(runway: dict[str, Any], limits: Limits) -> tuple[float, float]:
    """Return near and far edge of the touchdown zone, ft from the landing threshold.

    The far edge is the policy's distance or its fraction of the landing distance available, whichever is less.
    """
    available = runway["length_ft"] - (runway["displaced_threshold_ft"] or 0.0)
    return limits.zone_start_ft, min(limits.zone_end_ft, limits.zone_fraction * available)


def touchdowns(
    landings: pl.DataFrame, runway: dict[str, Any], *, limits: Limits, usual: tuple[float, float] | None
) -> look.Chart:
    """Draw a week's touchdowns on one runway.

    Parameters
    ----------
    landings : rows with `number`, `key`, `label`, `touchdown_distance_ft` (not null), `touchdown_distance_ft_u`,
        `touchdown_lateral_ft` (null: drawn on its line only).
    runway : one row of the runway table.
    limits : the policy's touchdown zone.
    usual : own usual band of touchdown distance, ft, or None where it is not known yet.
    """
    margin = NINETY * pl.col("touchdown_distance_ft_u").fill_null(0.0)
    rows = landings.select(
        "number",
        "key",
        "label",
        x="touchdown_distance_ft",
        lateral="touchdown_lateral_ft",
        low=pl.col("touchdown_distance_ft") - margin,
        high=pl.col("touchdown_distance_ft") + margin,
        y=ROWS_TOP + ROW_STEP * pl.int_range(pl.len()),
    )
    near, far = zone(runway, limits)
    end = max([far, *rows["high"].drop_nulls(), usual[1] if usual else 0.0]) + 450.0
    band = pl.DataFrame({"x": [usual[0]], "x2": [usual[1]]} if usual else {"x": [], "x2": []}, strict=False)
    return look.Chart(
        title=f"Touchdowns on {runway['runway']}",
        caption=_caption(runway, end, usual, near, far),
        description=_description(rows, near, far),
        spec=look.filled(
            _template(),
            {
                "surface": _surface(runway, near, far, end),
                "names": _names(runway, near, far),
                "band": band.with_columns(pl.all().cast(pl.Float64)),
                "rows": rows,
            },
            description=_description(rows, near, far),
            height=ROWS_TOP + ROW_STEP * rows.height,
        ),
    )


def _caption(runway: dict[str, Any], end: float, usual: tuple[float, float] | None, near: float, far: float) -> str:
    displaced, width = runway["displaced_threshold_ft"] or 0.0, runway["width_ft"]
    parts = [f"The zone runs from {number(near)} to {number(far)} ft."]
    if usual:
        parts.append(f"Your usual range, {number(usual[0])} to {number(usual[1])} ft, is the upright band.")
    if displaced:
        parts.append(f"The threshold is displaced by {number(displaced)} ft.")
    if runway["length_ft"] - displaced > end:
        parts.append(f"The runway goes on to {number(runway['length_ft'] - displaced)} ft.")
    if width is None:
        parts.append(f"Its width is not given and is drawn as {number(UNGIVEN_WIDTH_FT)} ft.")
    return " ".join(parts)


def _description(rows: pl.DataFrame, near: float, far: float) -> str:
    places = "; ".join(f"landing {row['number']} at {number(row['x'])} ft" for row in rows.to_dicts())
    return f"Touchdown points from the landing threshold: {places}. Touchdown zone {number(near)} to {number(far)} ft."


def _surface(runway: dict[str, Any], near: float, far: float, end: float) -> pl.DataFrame:
    """Rectangles of pavement, zone and paint in ft; across, positive is right of the centreline."""
    half = (runway["width_ft"] or UNGIVEN_WIDTH_FT) / 2
    displaced = runway["displaced_threshold_ft"] or 0.0
    last = min(runway["length_ft"] - displaced, end)
    rectangles = [
        ("displaced", -displaced, 0.0, -half, half),
        ("pavement", 0.0, last, -half, half),
        ("zone", near, min(far, last), -half, half),
    ]
    bars = [(0.2 + 0.2 * step) * half for step in range(4)]
    rectangles += [("paint", 20.0, 150.0, s * y - 0.05 * half, s * y + 0.05 * half) for y in bars for s in (-1, 1)]
    start = 350.0
    while start + 120.0 < last:
        rectangles.append(("paint", start, start + 120.0, -0.03 * half, 0.03 * half))
        start += 200.0
    aim = runway["aim_point_ft"]
    if aim is not None:
        rectangles += [
            ("paint", aim, aim + 150.0, s * 0.5 * half - 0.12 * half, s * 0.5 * half + 0.12 * half) for s in (-1, 1)
        ]
    return pl.DataFrame(rectangles, schema=["kind", "x", "x2", "lo", "hi"], orient="row")


def _names(runway: dict[str, Any], near: float, far: float) -> pl.DataFrame:
    aim = runway["aim_point_ft"]
    texts = [(0.0, "threshold"), (far, "zone ends")]
    if aim is not None and aim - near > 0:
        texts.append((aim, "aim point"))
    return pl.DataFrame(texts, schema={"x": pl.Float64, "text": pl.String}, orient="row")


@cache
def _template() -> dict[str, Any]:
    along = alt.X(
        "x:Q",
        scale=alt.Scale(zero=False, nice=False),
        axis=alt.Axis(title="ft from the landing threshold", grid=False, tickCount=6, labelOverlap=True),
    )
    key = alt.Color("key:N", legend=None, scale=alt.Scale(domain=list(look.KEY_NAMES), range=list(look.KEY_COLOURS)))
    kind = alt.Color("kind:N", legend=None, scale=alt.Scale(domain=list(_KINDS), range=list(_KINDS.values())))
    plan = f"{PLAN_CENTRE}+datum.%s*{_FT}"
    surface = (
        look.frame("surface")
        .mark_rect(y={"expr": plan % "lo"}, y2={"expr": plan % "hi"})
        .encode(x=along, x2="x2:Q", color=kind)
    )
    band = (
        look.frame("band")
        .mark_rect(y=0, y2={"expr": "height"}, color=look.BAND, opacity=0.55)
        .encode(x="x:Q", x2="x2:Q")
    )
    names = look.frame("names").mark_text(y=8, align="left", dx=-2, color=look.SOFT).encode(x="x:Q", text="text:N")
    stems = look.frame("names").mark_rule(y=14, y2=PLAN_CENTRE - 16, color=look.SOFT, strokeWidth=1).encode(x="x:Q")
    rows = look.frame("rows")
    spans = rows.mark_rule(y={"expr": "datum.y"}, strokeWidth=3, strokeCap="round", opacity=0.55)
    points = rows.mark_circle(y={"expr": "datum.y"}, size=70, opacity=1)
    labels = rows.mark_text(y={"expr": "datum.y"}, align="right", dx=-8)
    dots = (
        rows.mark_circle(y={"expr": plan % "lateral"}, size=52, opacity=1, stroke="var(--paper)", strokeWidth=1)
        .transform_filter("isValid(datum.lateral)")
        .encode(x="x:Q", color=key)
    )
    return look.template(
        surface,
        band,
        stems,
        names,
        dots,
        spans.encode(x="low:Q", x2="high:Q", color=key),
        points.encode(x="x:Q", color=key, tooltip=[alt.Tooltip("label:N", title="landing")]),
        labels.encode(x="low:Q", text="number:Q"),
        height=ROWS_TOP,
    )

"""A chart template and frames in; the specification a page embeds out. Also the look all charts share.

A template is built and validated once and holds no data; each page fills in its own. Colours are the page's own style
variables, so that dark and printed pages need no second chart.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

import altair as alt
import polars as pl
import polars.selectors as cs

FONT = "system-ui, sans-serif"
INK, SOFT, RULE, BAND, OWN, WARN = (f"var(--{name})" for name in ("ink", "ink-soft", "rule", "band", "accent", "limit"))
HUES, NUMBERED = 6, 12
"""Colours, and landings of a week told apart by colour and dash; with more landings, all look the same."""
KEY_NAMES = (*(str(number) for number in range(1, NUMBERED + 1)), "all")
KEY_COLOURS = (*(f"var(--key-{(number - 1) % HUES + 1})" for number in range(1, NUMBERED + 1)), "var(--accent)")
KEY_DASHES = tuple([4, 2] if HUES < number <= NUMBERED else [1, 0] for number in range(1, NUMBERED + 2))
MOST_ROWS = 2000
"""Rows one specification may carry, over all its frames."""

_AXIS = {
    "labelColor": SOFT,
    "titleColor": SOFT,
    "labelFontSize": 12,
    "titleFontSize": 12,
    "titleFontWeight": "normal",
    "gridColor": RULE,
    "domainColor": RULE,
    "tickColor": RULE,
    "labelFlush": False,
}
CONFIG: dict[str, Any] = {
    "background": "transparent",
    "font": FONT,
    "padding": {"left": 2, "right": 10, "top": 4, "bottom": 2},
    "view": {"stroke": "transparent"},
    "axis": _AXIS,
    "title": {"anchor": "start", "color": INK, "fontSize": 13, "fontWeight": "normal", "offset": 8},
    "text": {"fontSize": 12, "color": INK, "aria": False},
    "point": {"aria": False},
    "circle": {"aria": False},
    "rule": {"aria": False},
    "rect": {"aria": False},
    "bar": {"aria": False},
    "line": {"aria": False},
    "area": {"aria": False},
    "tick": {"aria": False},
}


@dataclass(frozen=True)
class Chart:
    """One drawn figure: heading, caption in plain words, description for who cannot see it, and its specification."""

    title: str
    caption: str
    description: str
    spec: dict[str, Any]


def frame(name: str) -> alt.Chart:
    """Return a chart over rows that a page fills in under `name`."""
    return alt.Chart(alt.NamedData(name))


def template(*layers: alt.Chart, height: int, title: str = "", shared_colour: bool = False) -> dict[str, Any]:
    """Layer charts over one another, as wide as the page lets them be, validated against the chart grammar's schema."""
    colour: Literal["shared", "independent"] = "shared" if shared_colour else "independent"
    layered = alt.layer(*layers).resolve_scale(color=colour)
    chart = layered.properties(width="container", height=height, title=title)
    spec: dict[str, Any] = chart.to_dict()
    spec.pop("$schema")
    return {**spec, "config": CONFIG}


def filled(
    spec: Mapping[str, Any], datasets: Mapping[str, pl.DataFrame], *, description: str, **changes: int | str
) -> dict[str, Any]:
    """Return a template with its rows, a description and changed properties (`height`, `title`).

    A layer without rows is left out: it could give an axis no extent.

    Raises
    ------
    ValueError
        More than `MOST_ROWS` rows in all: the caller must aggregate first.
    """
    rows = sum(frame.height for frame in datasets.values())
    if rows > MOST_ROWS:
        message = f"a chart of {rows} rows; at most {MOST_ROWS} may be embedded: aggregate first"
        raise ValueError(message)
    values = {name: rounded(frame).to_dicts() for name, frame in datasets.items()}
    layers = [layer for layer in spec["layer"] if values.get(layer.get("data", {}).get("name"), [True])]
    return {**spec, **changes, "layer": layers or spec["layer"], "description": description, "datasets": values}


def rounded(rows: pl.DataFrame) -> pl.DataFrame:
    """Round floats to five significant figures, finer than any pixel, so that pages stay light."""
    return rows.with_columns(cs.float().round_sig_figs(5))


def as_json(spec: Mapping[str, Any]) -> str:
    """Write a specification as JSON that can stand inside a script element: no tag can end or begin in it."""
    text = json.dumps(spec, separators=(",", ":"), allow_nan=False, ensure_ascii=False)
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")

"""One log's traces and measures in; the text of a page on which each number can be held against the trace out."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import polars as pl

from pipeline.channels import CHANNELS
from pipeline.measures.table import BY_NAME, DEFINITION, MEASURES
from reports import faults
from reports.charts import look
from reports.charts.trace import Panel, lane, panel, switches
from reports.logbook import GROUPS
from reports.page import render
from reports.trace_data import Traced, TraceData
from reports.trace_moments import Moment, moments
from reports.words import MODE_WORDS, OUTCOME_WORDS, counted, measured, number, quantity, reason

NEAR_S = (-20.0, 10.0)
"""Stretch of the flare and the contact, s to first contact."""
FAR_S, FAR_TO_S = (-60.0, -150.0), 5.0
"""The approach begins so long before the contact, the second at most; it is shown to `FAR_TO_S` after it."""
_PANELS = ("height_ft", "pitch_deg", "vertical_speed_fpm", "normal_accel_g", "thrust_lever_pct", "airspeed_kt")
_APPROACH = ("height_ft", "airspeed_kt", "vertical_speed_fpm")
_NOTHING_FT = 0.05
_SWITCHES = ("main_on_ground", "nose_on_ground", "gear_down", "autopilot_on", "autothrottle_on")
_EMPTY = pl.DataFrame(schema={"tau_s": pl.Float64, "value": pl.Float64})
_NO_MEASURE = pl.DataFrame(
    schema={"tau_s": pl.Float64, "value": pl.Float64, "low": pl.Float64, "high": pl.Float64, "label": pl.String}
)


@dataclass(frozen=True)
class LandingView:
    """What the page prints of one approach."""

    number: int
    heading: str
    near_heading: str
    words: list[str]
    lane: list[look.Chart]
    near: list[look.Chart]
    far_lane: list[look.Chart]
    far: list[look.Chart]
    faults: list[faults.Seen]
    untold: list[str]
    details: list[tuple[str, list[tuple[str, str]]]]
    not_shown: list[str]


@dataclass(frozen=True)
class TraceView:
    """What the template of the trace page prints."""

    log_file: str
    opening: list[str]
    suspects: list[tuple[str, str]]
    notes: list[str]
    landings: list[LandingView]
    provenance: str


def trace_page(data: TraceData) -> str:
    """Return the HTML text of a log's page of traces."""
    return render("trace.html.j2", title=f"Traces of {data.log_file}", view=trace_view(data))


def trace_view(data: TraceData) -> TraceView:
    """Return what the page prints."""
    return TraceView(
        log_file=data.log_file,
        opening=_opening(data),
        suspects=[(CHANNELS[name].title, why) for name, why in data.suspect.items()],
        notes=list(data.notes),
        landings=[_landing(index, traced, data) for index, traced in enumerate(data.traced)],
        provenance=f"Read by {data.map_name}. Measures definition {_definition(data)}, policy {data.policy_sha256[:12]}. "
        "Times are in s from the first contact of the main wheels, or from the lowest point where there was none.",
    )


def _definition(data: TraceData) -> str:
    """Version of the definitions that the page's approaches were measured by."""
    return str(data.traced[0].row["definition"]) if data.traced else DEFINITION


def _opening(data: TraceData) -> list[str]:
    shown = len(data.traced)
    words = [f"{counted(data.approaches_in_all, 'approach', 'approaches').capitalize()} found in this log."]
    if shown < data.approaches_in_all:
        one = data.traced[0].row["approach_index"] if shown == 1 else None
        words.append(f"The first {shown} are shown." if one is None else f"Approach {one} is shown.")
    if not shown:
        words.append("It never comes down to a runway, or has no height that shows it.")
    return words


def _landing(index: int, traced: Traced, data: TraceData) -> LandingView:
    row = traced.row
    found = moments(traced, data.gate_heights_ft)
    first = min((m.tau_s for m in found), default=0.0) - 10.0
    far = (float(np.floor(np.clip(first, FAR_S[1], FAR_S[0]) / 10.0) * 10.0), FAR_TO_S)
    near = [
        panel(one, found, NEAR_S, about=traced.about)
        for name in _PANELS
        if (one := _panel(name, traced, found, data)) is not None
    ]
    return LandingView(
        number=index,
        near_heading="Flare and contact" if row["contact_t_s"] is not None else "The last seconds",
        heading=f"Approach {row['approach_index']}: {OUTCOME_WORDS.get(row['outcome'], row['outcome'])}",
        words=_words(traced),
        lane=lane(found, NEAR_S),
        near=[*near, *switches(_switches(traced), found, NEAR_S, about=traced.about)],
        far_lane=lane(found, far),
        far=[
            panel(one, found, far, about=traced.about)
            for name in _APPROACH
            if (one := _panel(name, traced, found, data)) is not None
        ],
        faults=faults.seen(data.faults, row["landing_id"]),
        untold=faults.untold(data.faults, row),
        details=_details(row),
        not_shown=_not_shown(row),
    )


def _words(traced: Traced) -> list[str]:
    row = traced.row
    words = []
    if row["contact_t_s"] is None:
        words.append("No contact is timed; times count from about where it came lowest.")
    else:
        at = quantity(row["contact_t_s"], row["contact_u_s"], "s", default_decimals=2)
        words.append(
            f"First contact {at} from the log's start, told by {(row['contact_evidence'] or 'nothing named').replace(' ', ', ')}."
        )
    if row["landing_mode"] and row["landing_mode"] != "unknown":
        words.append(f"Flown {MODE_WORDS.get(row['landing_mode'], row['landing_mode'])}.")
    if row["runway"]:
        words.append(f"Runway: {row['runway']}.")
    return words


def _panel(name: str, traced: Traced, found: list[Moment], data: TraceData) -> Panel | None:
    """One channel's panel; None where the log does not have it."""
    samples = traced.samples.get(name)
    if samples is None or not samples.height:
        return None
    caption = _height_caption(traced) if name == "height_ft" else ""
    channel = traced.height_channel if name == "height_ft" else name
    if channel is not None and channel in data.suspect:
        caption += f" Not believed: {data.suspect[channel]}."
    return Panel(_title(name), caption.strip(), samples, _course(name, traced.course), _measured(name, traced, found))


def _title(name: str) -> str:
    if name == "height_ft":
        return "Height of the main wheels, ft"
    channel = CHANNELS[name]
    sign = f", positive {channel.positive}" if channel.positive and name != "normal_accel_g" else ""
    return f"{channel.title}, {channel.unit}{sign}"


def _height_caption(traced: Traced) -> str:
    if traced.height_channel is None or traced.height_zero_ft is None:
        return ""
    title, reads = CHANNELS[traced.height_channel].title.lower(), number(traced.height_zero_ft, decimals=1)
    zero = "" if abs(traced.height_zero_ft) < _NOTHING_FT else f", counted from the {reads} ft it reads on the ground"
    line = " Line: the height that is measured with." if traced.course.height else ""
    return f"Points: {title}{zero}.{line}"


def _course(name: str, course: pl.DataFrame) -> pl.DataFrame:
    """The height as it is measured; other channels are measured on their samples."""
    if name != "height_ft":
        return _EMPTY
    return course.select(pl.col("tau_s").cast(pl.Float64), value=pl.col("height_ft").cast(pl.Float64)).drop_nulls()


def _measured(name: str, traced: Traced, found: list[Moment]) -> pl.DataFrame:
    """The measures that stand on a channel, at their moments."""
    row, at = traced.row, {moment.name: moment.tau_s for moment in found}
    points: list[tuple[float, float, float, str]] = []

    def stands(measure: str, moment: str, *, sign: float = 1.0, tau_s: float | None = None) -> None:
        where = at.get(moment) if tau_s is None else tau_s
        if where is not None and row.get(measure) is not None:
            u = row[BY_NAME[measure].quality] or 0.0
            points.append((where, sign * row[measure], u, f"{BY_NAME[measure].title}: {measured(row, measure)}"))

    if name == "height_ft":
        stands("threshold_height_ft", "threshold")
        stands("thrust_close_height_ft", "thrust starts to close")
        stands("flare_height_ft", "flare starts")
    elif name == "pitch_deg":
        stands("pitch_at_flare_deg", "flare starts")
        _after_rotation(row, at, points)
        stands("pitch_at_contact_deg", "contact")
    elif name == "vertical_speed_fpm":
        stands("threshold_sink_fpm", "threshold", sign=-1.0)
        stands("earth_vertical_speed_at_contact_fpm", "contact")
    elif name == "normal_accel_g":
        stands("peak_g", "", tau_s=_peak_at(traced.samples[name]))
    elif name == "thrust_lever_pct":
        stands("thrust_at_contact_pct", "contact")
    elif name == "airspeed_kt":
        stands("threshold_airspeed_kt", "threshold")
        stands("contact_airspeed_kt", "contact")
    if not points:
        return _NO_MEASURE
    return pl.DataFrame(
        [(t, v, v - u, v + u, words) for t, v, u, words in points], schema=_NO_MEASURE.schema, orient="row"
    )


def _after_rotation(row: dict[str, Any], at: dict[str, float], points: list[tuple[float, float, float, str]]) -> None:
    if "rotation ends" in at and row["pitch_at_flare_deg"] is not None and row["pitch_change_deg"] is not None:
        words = f"Pitch change: {measured(row, 'pitch_change_deg')}"
        points.append(
            (
                at["rotation ends"],
                row["pitch_at_flare_deg"] + row["pitch_change_deg"],
                row["pitch_change_deg_u"] or 0.0,
                words,
            )
        )


def _peak_at(samples: pl.DataFrame) -> float | None:
    """When the largest sample within 1 s of first contact was taken."""
    after = samples.filter(pl.col("tau_s").is_between(-0.25, 1.0)).sort("value", descending=True)
    return after["tau_s"][0] if after.height else None


def _switches(traced: Traced) -> pl.DataFrame:
    """When each switch was on: `name`, `from_s`, `to_s`; null times for one that never was."""
    rows: list[tuple[str, float | None, float | None]] = []
    for name in _SWITCHES:
        samples = traced.samples.get(name)
        if samples is None or not samples.height:
            continue
        t, on = samples["tau_s"].to_numpy(), samples["value"].to_numpy() > 0.5
        starts = np.flatnonzero(on & ~np.append(False, on[:-1]))
        ends = [int(np.flatnonzero(~on[i:])[0]) + i if (~on[i:]).any() else len(t) - 1 for i in starts]
        spells = [(CHANNELS[name].title, float(t[a]), float(t[b])) for a, b in zip(starts, ends, strict=True)]
        rows += spells or [(CHANNELS[name].title, None, None)]
    return pl.DataFrame(rows, schema={"name": pl.String, "from_s": pl.Float64, "to_s": pl.Float64}, orient="row")


def _details(row: dict[str, Any]) -> list[tuple[str, list[tuple[str, str]]]]:
    """The measures that have a value, under their headings."""
    sections: dict[str, list[tuple[str, str]]] = {heading: [] for heading, _ in GROUPS}
    for measure in MEASURES:
        if row[measure.name] is not None:
            heading = next(heading for heading, starts in GROUPS if measure.name.startswith(starts))
            sections[heading].append((measure.title, measured(row, measure.name)))
    return [(heading, lines) for heading, lines in sections.items() if lines]


def _not_shown(row: dict[str, Any]) -> list[str]:
    """Each reason in words with the measures it keeps from being shown."""
    by_reason: dict[str, list[str]] = {}
    for measure in MEASURES:
        if row[measure.name] is None:
            by_reason.setdefault(str(row[measure.reason]), []).append(measure.title.lower())
    return [f"{reason(code)[0].upper()}{reason(code)[1:]}: {', '.join(titles)}." for code, titles in by_reason.items()]

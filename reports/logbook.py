"""A week's landings and the edition in; the rows of the table of landings and every measure of each, in words, out."""

from dataclasses import dataclass
from typing import Any

import polars as pl

from pipeline.measures.table import BY_NAME, MEASURES
from reports import faults
from reports.charts.look import NUMBERED
from reports.edition_data import EditionData
from reports.expected import differences
from reports.gates import verdicts
from reports.selection import LANDED, SURELY_AIRBORNE_FT
from reports.words import MODE_WORDS, OUTCOME_WORDS, THIN, counted, local, measured, number, quantity, reason

HEADLINES = (
    "vertical_speed_at_contact_fpm",
    "touchdown_distance_ft",
    "flare_height_ft",
    "thrust_close_lag_s",
    "threshold_speed_over_vref_kt",
    "peak_g",
)
"""Measures that have a column of their own; all others are in the details of a landing."""

GROUPS = (
    ("Gates", ("gate_",)),
    ("Approach and wind", ("approach_", "turbulence", "headwind", "crosswind", "gust_")),
    ("Threshold", ("threshold_",)),
    (
        "Flare and thrust",
        (
            "flare_",
            "pitch_at_flare",
            "pitch_change",
            "pitch_rate",
            "height_regained",
            "thrust_",
            "idle_",
            "pitch_after",
            "float_",
            "speed_bled",
        ),
    ),
    ("Contact", ("",)),
)
"""Headings of a landing's details, each with how its measures' names begin; a measure goes under the first that fits."""


@dataclass(frozen=True)
class Entry:
    """One approach of the week as the page prints it."""

    number: int
    key: str
    when: str
    where: str
    ended: str
    cells: list[str]
    gates: list[str]
    notes: list[str]
    contacts: list[str]
    faults: list[faults.Seen]
    untold: list[str]
    details: list[tuple[str, list[tuple[str, str]]]]


def labelled(week: pl.DataFrame, zone: str) -> pl.DataFrame:
    """Add `key` (its colour), `landed`, `when` and `label` (words for a tooltip) to a week's numbered approaches."""
    own_colour = week.height <= NUMBERED
    key = pl.col("number").cast(pl.String) if own_colour else pl.lit("all")
    when = local("flown", zone, "%a %-d %b %H:%M").fill_null("time not known")
    return week.with_columns(key=key, when=when, landed=LANDED).with_columns(
        label=pl.format("{}, {}", "number", "when")
    )


def entries(week: pl.DataFrame, data: EditionData) -> list[Entry]:
    """Return the approaches of a labelled week as printed."""
    touched = data.contacts.filter(pl.col("landing_id").is_in(week["landing_id"].implode())).sort(
        "landing_id", "contact_index"
    )
    by_landing = touched.partition_by("landing_id", as_dict=True)
    return [_entry(row, by_landing.get((row["landing_id"],)), data) for row in week.to_dicts()]


def _entry(row: dict[str, Any], contacts: pl.DataFrame | None, data: EditionData) -> Entry:
    landing_id = row["landing_id"]
    at_gates = verdicts(data.gates, landing_id, conditions=row["conditions"])
    place = " · ".join(
        part for part in (row["runway"] or "runway not known", row["aircraft_type"], row["aircraft"]) if part
    )
    return Entry(
        number=row["number"],
        key=row["key"],
        when=row["when"],
        where=place,
        ended=_ended(row),
        cells=[measured(row, name) for name in HEADLINES] if row["landed"] else [],
        gates=[verdict.words for verdict in at_gates],
        notes=_notes(row),
        contacts=[] if contacts is None or contacts.height < 2 else [_contact(line) for line in contacts.to_dicts()],
        faults=faults.seen(data.faults, landing_id),
        untold=faults.untold(data.faults, row),
        details=_details(row, differences(data.expected, landing_id)),
    )


def _ended(row: dict[str, Any]) -> str:
    words: str = OUTCOME_WORDS.get(row["outcome"], row["outcome"]).replace(" ", THIN)
    if row["device"] != "aircraft":
        words += " in a simulator: not in your usual"
    if row["contact_t_s"] is None and row["lowest_height_ft"] is not None:
        if row["lowest_height_ft"] >= SURELY_AIRBORNE_FT:
            return f"{words}, lowest at {number(row['lowest_height_ft'])} ft"
        return f"{words}, contact not timed" if row["landed"] else "low approach; contact cannot be told"
    return words


def _notes(row: dict[str, Any]) -> list[str]:
    """Return what sets an approach apart from a routine landing, and how it was flown."""
    notes = [MODE_WORDS.get(row["landing_mode"], row["landing_mode"])] if row["landing_mode"] else []
    usual = {"device": "aircraft", "exercise": "normal", "why_logged": "routine", "takeover": "none"}
    apart = {key: row[key] for key, value in usual.items() if (row[key] or value) != value}
    notes += [f"{key.replace('_', ' ')}: {str(value).replace('_', ' ')}" for key, value in apart.items()]
    if row["disputed"]:
        notes.append("disputed: who flew it is to be settled; it is in nobody's figures")
    elif apart or row["landing_mode"] == "automatic":
        notes.append("not in your baseline")
    return notes


def _contact(line: dict[str, Any]) -> str:
    speed = line["vertical_speed_fpm"]
    shown = (
        "vertical speed not shown"
        if speed is None
        else quantity(speed, line["vertical_speed_fpm_u"], "ft/min", default_decimals=0)
    )
    peak = "" if line["peak_g"] is None else f", {quantity(line['peak_g'], line['peak_g_u'], 'g', default_decimals=2)}"
    air = line["airtime_before_s"]
    before = "" if air is None else f" after {air:.1f} s airborne"
    return f"Contact {line['contact_index'] + 1}{before}: {shown}{peak}"


def _details(row: dict[str, Any], differs: list[tuple[str, str]]) -> list[tuple[str, list[tuple[str, str]]]]:
    sections: dict[str, list[tuple[str, str]]] = {heading: [] for heading, _ in GROUPS}
    for measure in MEASURES:
        heading = next(heading for heading, starts in GROUPS if measure.name.startswith(starts))
        sections[heading].append((measure.title, measured(row, measure.name)))
    sections["Approach and wind"] += differs
    return [(heading, lines) for heading, lines in sections.items() if lines]


def headings() -> list[str]:
    """Return the headings of the measures that have a column of their own."""
    return [BY_NAME[name].title for name in HEADLINES]


def not_shown(week: pl.DataFrame) -> list[str]:
    """Return, for each reason, which measures the week's logs could not show and of how many landings."""
    landed = week.filter(pl.col("contact_t_s").is_not_null())
    by_reason: dict[str, list[str]] = {}
    for measure in MEASURES:
        for code, count in landed[measure.reason].drop_nulls().value_counts(sort=True).iter_rows():
            who = "" if count == landed.height else f" ({count} of {counted(landed.height, 'landing')})"
            by_reason.setdefault(code, []).append(f"{measure.title.lower()}{who}")
    order = sorted(by_reason, key=lambda code: -len(by_reason[code]))
    return [f"{reason(code)[0].upper()}{reason(code)[1:]}: {'; '.join(by_reason[code])}." for code in order]


def why_not(row: dict[str, Any], name: str) -> str:
    """Return why a landing's measure is null, in words."""
    return reason(row[BY_NAME[name].reason])

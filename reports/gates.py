"""An approach's rows of the gate frame in; its verdicts in words out."""

from dataclasses import dataclass
from typing import Any

import polars as pl

from reports.words import counted, listed, number, percent, reason

CRITERIA = {
    "speed": "speed",
    "sink": "sink",
    "localiser": "localiser",
    "glideslope": "glideslope",
    "bank": "bank",
    "thrust": "thrust",
    "flap": "landing flap",
    "gear": "gear",
}
"""The criteria of a gate, each with its words."""

SURE = 0.9
"""Confidence in a verdict below which the page says how sure it is."""


@dataclass(frozen=True)
class Verdict:
    """One gate of one approach: `state` is "met", "not met" or "not judged"; `words` is the sentence a page prints."""

    gate: str
    state: str
    words: str


def verdicts(gates: pl.DataFrame, landing_id: str, *, conditions: str | None) -> list[Verdict]:
    """Return the verdict of every gate that applies to an approach, from the highest down.

    `conditions`: those it was flown in, None where they are not stated; then the gates of all conditions apply, and a
    gate of certain ones says so.
    """
    rows = gates.filter(pl.col("landing_id") == landing_id)
    found = []
    for row in rows.sort("height_ft", "gate", descending=[True, False]).to_dicts():
        unsaid = conditions is None and row["conditions"] != "any"
        only = f" (were it flown in {row['conditions']} conditions, which is not stated)" if unsaid else ""
        found.append(_verdict(row, only))
    return found


def at(row: dict[str, Any]) -> str:
    """Return where a gate lies: "500 ft", or "1,000 ft above the airport"."""
    above = "" if row["reference"] == "threshold" else f" above the {row['reference']}"
    return f"{number(row['height_ft'])} ft{above}"


def called(name: str) -> str:
    """Return a criterion's words."""
    return CRITERIA.get(name, name.replace("_", " "))


def _verdict(row: dict[str, Any], only: str) -> Verdict:
    """Return the verdict of one gate; "stable" is never said without how much of it the log could show."""
    place = f"{at(row)}{only}"
    if row["stable"] is None:
        return Verdict(row["gate"], "not judged", f"not judged at {place}: {reason(row['reason'])}")
    unjudged = [called(name) for name in (row["not_judged"] or "").split()]
    were = "was" if len(unjudged) == 1 else "were"
    rest = f"; {len(unjudged)} {were} not judged ({', '.join(unjudged)})" if unjudged else ""
    sure = row["confidence"]
    close = f"; a close call, {percent(sure)} sure" if sure is not None and sure < SURE else ""
    if row["stable"]:
        met = f"meets the {counted(row['judged'], 'criterion', 'criteria')} the log can show at {place}"
        return Verdict(row["gate"], "met", f"{met}{rest}{close}{_below(row)}")
    failed = listed([called(name) for name in (row["failed"] or "").split()])
    return Verdict(row["gate"], "not met", f"at {place} not met: {failed}{rest}{close}")


def _below(row: dict[str, Any]) -> str:
    """Return what was broken first below a gate that was met, or nothing."""
    if row["held_to_50ft"] is not False or row["first_break"] is None:
        return ""
    height, lasted = row["first_break_height_ft"], row["first_break_duration_s"]
    where = "" if height is None else f" from {number(height)} ft"
    long = "" if lasted is None else f" for {number(lasted)} s"
    return f"; not held to 50 ft, first {called(row['first_break'])}{where}{long}"

"""A landing row in; its approach gate verdicts in words out."""

from dataclasses import dataclass
from typing import Any

from reports.words import percent

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

HEIGHTS = (1000, 500)
"""Gates that are measured, ft above the threshold."""


@dataclass(frozen=True)
class Verdict:
    """One gate of one approach: `state` is "met", "not met" or "not judged"; `words` is the sentence a page prints."""

    height_ft: int
    state: str
    words: str


def verdicts(row: dict[str, Any]) -> list[Verdict]:
    """Return the verdict of each gate that applies: 500 ft in visual, 1,000 ft in instrument conditions, else both."""
    applies = {"visual": (500,), "instrument": (1000,)}.get(row["conditions"] or "", HEIGHTS)
    return [verdict(row, height) for height in applies]


def verdict(row: dict[str, Any], height: int) -> Verdict:
    """Return the verdict of one gate; "stable" is never said without how much of it the log could show."""
    stable = row[f"gate_{height}_stable"]
    failed = (row[f"gate_{height}_failed"] or "").split()
    unjudged = (row[f"gate_{height}_not_judged"] or "").split()
    judged = len(CRITERIA) - len(unjudged)
    names = ", ".join(called(name) for name in unjudged)
    rest = f"; {len(unjudged)} {'was' if len(unjudged) == 1 else 'were'} not judged ({names})" if unjudged else ""
    sure = row[f"gate_{height}_stable_confidence"]
    close = f"; a close call, {percent(sure)} sure" if sure is not None and sure < SURE else ""
    if stable is None:
        return Verdict(height, "not judged", f"not judged at {height:,} ft")
    if stable:
        noun = "criterion" if judged == 1 else "criteria"
        return Verdict(height, "met", f"meets the {judged} {noun} the log can show at {height:,} ft{rest}{close}")
    return Verdict(
        height, "not met", f"at {height:,} ft not met: {', '.join(called(name) for name in failed)}{rest}{close}"
    )


def called(name: str) -> str:
    """Return a criterion's words."""
    return CRITERIA.get(name, name.replace("_", " "))

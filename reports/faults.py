"""Fault rows and shares in; sentences a pilot and a training captain can use out.

What is beyond doubt is named with what was measured, its limit and the published remedy; what cannot be told is said so.
Never a mark, a rank or a cause.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

import polars as pl

from pipeline.faults.judging import INTENDED
from pipeline.faults.rule import Beyond, Rule
from pipeline.faults.rules import FAULTS
from pipeline.measures.table import BY_NAME
from pipeline.statistics.fault_shares import ALL
from reports.words import counted, number, percent, quantity, reason

MOST_WORKED_ON = 3
"""Faults a pilot's page speaks of at most."""
RARE = 0.01
"""A fault with a smaller share has no row of its own."""
LEAST_SHARE = 0.02
"""A fault whose interval begins below this share is not spoken of."""


@dataclass(frozen=True)
class Seen:
    """One fault beyond doubt: what was seen, and what is published about it."""

    words: str
    remedy: str


@dataclass(frozen=True)
class Usual:
    """One of a pilot's commonest faults: how often, and what is published about it."""

    words: str
    remedy: str


def seen(faults: pl.DataFrame, landing_id: str) -> list[Seen]:
    """Return the faults of one landing that are beyond doubt, in the order of the landing."""
    rows = faults.filter(pl.col("landing_id") == landing_id, pl.col("verdict") == "seen")
    order = list(FAULTS)
    return [_seen(row) for row in sorted(rows.to_dicts(), key=lambda row: order.index(row["fault"]))]


def untold(faults: pl.DataFrame, row: Mapping[str, Any]) -> list[str]:
    """Return which faults of a landing (its row of the landing frame) cannot be told, and why, one sentence a reason.

    First those too near their limit for the log to tell, with both; then those without data, by reason; then those that
    were meant; last what is not judged on such a landing at all.
    """
    own = faults.filter(pl.col("landing_id") == row["landing_id"])
    open_ = own.filter(pl.col("verdict") == "cannot_tell").to_dicts()
    rows = sorted(open_, key=lambda line: list(FAULTS).index(line["fault"]))
    near = [_near(line) for line in rows if line["reason"] is None]
    said = [f"Too near the limit to tell: {'; '.join(near)}."] if near else []
    by_reason: dict[str, list[str]] = {}
    for line in rows:
        if line["reason"] is not None:
            by_reason.setdefault(line["reason"], []).append(FAULTS[line["fault"]].words)
    meant = by_reason.pop(INTENDED, [])
    said += [f"Cannot be told, {reason(code)}: {'; '.join(names)}." for code, names in by_reason.items()]
    said += [f"Meant, so no fault: {'; '.join(meant)}."] if meant else []
    return [*said, *_unjudged(own, row)]


def _near(row: Mapping[str, Any]) -> str:
    """Return a fault nobody can tell, with what was measured where that one number is all it is a matter of."""
    rule = FAULTS[row["fault"]]
    return f"{rule.words}{_measured(row) if len(rule.conditions) == 1 else ''}"


def _unjudged(own: pl.DataFrame, row: Mapping[str, Any]) -> list[str]:
    """Return what is not judged on such a landing, and why."""
    if row["landing_mode"] == "automatic":
        return ["An automatic landing: no fault is judged."]
    if row["landing_index"] is None or any(FAULTS[name].technique for name in own["fault"]):
        return []
    if (row["exercise"] or "normal") != "normal":
        return ["An exercise: technique is not judged."]
    if own.is_empty():
        return ["No fault is judged of this type's contact (tailwheel, ski or float)."]
    return ["Technique is not judged: the settings name no profile for this type."]


def usual(shares: pl.DataFrame, pilot: str) -> list[Usual]:
    """Return a pilot's commonest faults, ordered by what is sure of them."""
    own = shares.filter(pl.col("pilot") == pilot, pl.col("share_low") >= LEAST_SHARE, pl.col("seen") > 0)
    chosen = own.sort("share_low", "fault", descending=[True, False]).head(MOST_WORKED_ON)
    return [_usual(row) for row in chosen.to_dicts()]


def cohort_rest(shares: pl.DataFrame, kinds: Collection[str]) -> str:
    """Return which faults were seen and are too rare for the table, as a sentence, or nothing."""
    rows = _cohort(shares, kinds).filter(pl.col("share") < RARE)
    names = [FAULTS[name].words for name in FAULTS if name in set(rows["fault"])]
    return f"Seen too, each on fewer than one landing in a hundred: {'; '.join(names)}." if names else ""


def cohort_rows(shares: pl.DataFrame, kinds: Collection[str]) -> list[tuple[str, str, str, str]]:
    """Return type, fault, share with interval, and landings, of all pilots together.

    `kinds` are the types whose group is large enough to be shown. A fault is listed where any was seen beyond doubt and
    it is not rare.
    """
    rows = _cohort(shares, kinds).filter(pl.col("share") >= RARE)
    return [
        (row["aircraft_type"], FAULTS[row["fault"]].words, _share(row), number(row["n"]))
        for row in rows.sort("aircraft_type", "share", descending=[False, True]).to_dicts()
    ]


def _cohort(shares: pl.DataFrame, kinds: Collection[str]) -> pl.DataFrame:
    return shares.filter(pl.col("pilot") == ALL, pl.col("seen") > 0, pl.col("aircraft_type").is_in(list(kinds)))


def remedy(rule: Rule) -> str:
    """Return what is published about a fault, its source and its caution."""
    caution = f" {rule.caution}" if rule.caution else ""
    return f"{rule.remedy} ({rule.source}.){caution}"


def _seen(row: dict[str, Any]) -> Seen:
    rule = FAULTS[row["fault"]]
    return Seen(f"{rule.words[0].upper()}{rule.words[1:]}{_measured(row)}", remedy(rule))


def _measured(row: Mapping[str, Any]) -> str:
    """Return what was measured against which limit; nothing where the fault is no matter of one limit."""
    first = FAULTS[row["fault"]].conditions[0]
    if not isinstance(first, Beyond) or row["value"] is None or row["value_u"] is None or row["limit_value"] is None:
        return ""
    unit = _unit(first.measure)
    value = quantity(row["value"], row["value_u"], unit)
    limit = quantity(row["limit_value"], None, unit, default_decimals=1 if abs(row["limit_value"]) < 10 else 0)
    side = first.side if row["verdict"] == "seen" else "limit"
    return f": {value}, {side} {limit}"


def _unit(measure: str) -> str:
    name = measure.removeprefix("abs_")
    if name in BY_NAME:
        return BY_NAME[name].unit
    for ending, unit in (("_fpm", "ft/min"), ("_kt", "kt"), ("_deg", "deg"), ("_ft", "ft"), ("_pct", "%"), ("_g", "g")):
        if name.endswith(ending):
            return unit
    return ""


def _usual(row: dict[str, Any]) -> Usual:
    rule = FAULTS[row["fault"]]
    named = f"{rule.words[0].upper()}{rule.words[1:]}"
    return Usual(
        f"{named}: {_share(row)} of your last {counted(row['n'], 'routine landing')} in the {row['aircraft_type']} "
        f"that could be judged, {row['seen']} of them beyond doubt.",
        remedy(rule),
    )


def _share(row: dict[str, Any]) -> str:
    return f"{percent(row['share'])} ({percent(row['share_low'])} to {percent(row['share_high'])})"

"""Landings in; sentences on which of them the rates beside leave out, and why, so that nothing hides by exclusion."""

import polars as pl

from reports.words import counted, number, percent

Reasons = tuple[tuple[str, pl.Expr], ...]

_UNATTRIBUTED: Reasons = (
    ("disputed", pl.col("disputed")),
    ("without a known pilot", pl.col("pilot").is_null()),
    ("taken over, or that is not known", pl.col("takeover").fill_null("none") != "none"),
)
"""Why a landing is in nobody's record; it counts among all pilots' together."""
_APART: Reasons = (
    ("in a simulator", pl.col("device").fill_null("aircraft") != "aircraft"),
    ("of an exercise", pl.col("exercise").fill_null("normal") != "normal"),
    ("not logged by routine", pl.col("why_logged").fill_null("routine") != "routine"),
    ("flown by the automatics", pl.col("landing_mode").fill_null("unknown") == "automatic"),
)
"""Why a landing is compared with none of the others."""


def excluded_words(landings: pl.DataFrame) -> str:
    """Return how many landings count for a pilot and how many are left out, each by its first reason.

    `landings`: a landing frame with `disputed`; approaches without a landing do not count. Nothing without landings.
    """
    return _words(landings, (*_UNATTRIBUTED, *_APART), "count in rates and trends")


def excluded_of_all(landings: pl.DataFrame) -> str:
    """Return the same of all pilots together, and how many of those that count are in nobody's record."""
    said = _words(landings, _APART, "count in the rates of all pilots together")
    kept = landings.filter(~pl.any_horizontal(where for _, where in _APART))
    nobody = _counts(kept.filter(pl.col("landing_index").is_not_null()), _UNATTRIBUTED)
    parts = [f"{number(nobody[words])} {words}" for words, _ in _UNATTRIBUTED if words in nobody]
    return f"{said} In nobody's record are {'; '.join(parts)}." if said and parts else said


def _words(landings: pl.DataFrame, reasons: Reasons, where: str) -> str:
    landed = landings.filter(pl.col("landing_index").is_not_null())
    if landed.is_empty():
        return ""
    counts = _counts(landed, reasons)
    total = f"Of {counted(landed.height, 'landing')}, {number(landed.height - sum(counts.values()))} {where}."
    parts = [f"{number(counts[w])} ({percent(counts[w] / landed.height)}) {w}" for w, _ in reasons if w in counts]
    return f"{total} Left out, and never counted as good: {'; '.join(parts)}." if parts else total


def _counts(landed: pl.DataFrame, reasons: Reasons) -> dict[str, int]:
    """How many landings each reason leaves out, by the first that applies."""
    first = pl.coalesce(pl.when(where).then(pl.lit(words)) for words, where in reasons)
    return dict(landed.select(first.alias("why")).to_series().drop_nulls().value_counts().iter_rows())

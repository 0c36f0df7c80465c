"""Numbers, codes and instants in; the words a page prints out.

A number is printed as its uncertainty allows, with a true minus sign and its unit.
"""

import math
from datetime import date, timedelta

import polars as pl

from pipeline.measures.table import BY_NAME, Measure

MINUS, THIN, PLUS_MINUS = "\N{MINUS SIGN}", "\N{NO-BREAK SPACE}", "\N{PLUS-MINUS SIGN}"

REASON_WORDS = {
    "no_channel": "the log has no channel for it",
    "no_reference": "something it is judged against is not known (reference speed, runway, type, flap or gust)",
    "not_reported": "the weather report gives a wind and no gust",
    "untimed": "the log cannot tell when the wheels touched",
    "too_slow": "recorded too slowly to see it",
    "gap": "a gap in the log",
    "not_reached": "it did not happen, or the log does not show that part",
    "implausible": "a channel it needs failed a check",
    "out_of_range": "outside the range in which it can be told",
    "automation": "the automatics were flying it",
    "earlier_definition": "measured before this measure was there; measured again it will be",
}
"""Each reason of the measures' table in words; they end a sentence that begins "not shown:"."""

OUTCOME_WORDS = {
    "full_stop": "full stop",
    "touch_and_go": "touch-and-go",
    "rejected": "rejected landing",
    "go_around": "go-around",
    "unfinished": "log ends early",
}
"""How an approach ended, in words."""

OUTCOME_NOUNS = {
    "full_stop": ("full stop", "full stops"),
    "touch_and_go": ("touch-and-go", "touch-and-goes"),
    "rejected": ("rejected landing", "rejected landings"),
    "go_around": ("go-around", "go-arounds"),
    "unfinished": ("whose log ends early", "whose logs end early"),
}
"""The same, to be counted: one and several."""

MODE_WORDS = {
    "manual": "by hand",
    "manual with autothrust": "by hand with autothrust",
    "automatic": "automatic landing",
    "unknown": "hand or automatics not known",
}
"""How a landing was flown, in words."""


def number(value: float, *, decimals: int = 0) -> str:
    """Print a number with thousands separated and a true minus sign; a negative zero has no sign."""
    text = f"{value:,.{decimals}f}"
    return text.replace("-", "") if not any(digit in text for digit in "123456789") else text.replace("-", MINUS)


def decimals_for(uncertainty: float) -> int:
    """Decimals worth printing: two significant figures of an uncertainty that begins with 1 or 2, else one.

    0 or fewer means whole units: 24 is printed to the unit, 60 to the ten (-1).
    """
    exponent = math.floor(math.log10(uncertainty))
    leading = uncertainty / 10**exponent
    return -exponent + (1 if leading < 3 else 0)


def quantity(value: float, uncertainty: float | None, unit: str, *, default_decimals: int = 1) -> str:
    """Print a value with its standard uncertainty and unit, rounded as the uncertainty allows.

    Where the uncertainty is null or zero the value stands alone at `default_decimals`, with no sign of precision.
    """
    tail = f"{THIN}{unit}" if unit else ""
    if uncertainty is None or uncertainty <= 0:
        return f"{number(value, decimals=default_decimals)}{tail}"
    places = min(decimals_for(uncertainty), 3)
    shown, shown_u = round(value, places), round(uncertainty, places)
    decimals = max(places, 0)
    return f"{number(shown, decimals=decimals)}{THIN}{PLUS_MINUS}{THIN}{number(shown_u, decimals=decimals)}{tail}"


def measured(row: dict[str, object], name: str) -> str:
    """Print one measure of a landing row: its value, or "not shown" with the reason in words."""
    measure = BY_NAME[name]
    value = row[name]
    if value is None:
        return f"not shown: {reason(row[measure.reason])}"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value.replace("_", " ") if value else "none"
    if isinstance(value, int):
        return number(value)
    if isinstance(value, float):
        uncertainty = row[measure.quality]
        return quantity(value, uncertainty if isinstance(uncertainty, float) else None, measure.unit)
    message = f"{name}: found a {type(value).__name__}, needed a number, a flag or a text"
    raise TypeError(message)


def reason(code: object) -> str:
    """Return the words for a reason code; a code that is not in the table is printed as it is."""
    return REASON_WORDS.get(str(code), str(code).replace("_", " ")) if code is not None else "no reason was recorded"


def titled(measure: Measure) -> str:
    """Return a measure's title with its unit, as axes and table headings print it."""
    return f"{measure.title}, {measure.unit}" if measure.unit else measure.title


def percent(share: float, *, decimals: int = 0) -> str:
    """Print a share (0 to 1) in percent; one that would be rounded to nothing or to all says so."""
    step = 10.0**-decimals / 100
    if 0 < share < step / 2:
        return f"under {number(100 * step, decimals=decimals)}{THIN}%"
    return f"{number(100 * share, decimals=decimals)}{THIN}%"


def counted(count: int, one: str, many: str | None = None) -> str:
    """Print a count with its noun: "1 landing", "no landings", "5 landings"."""
    noun = one if count == 1 else (many or f"{one}s")
    return f"{'no' if count == 0 else number(count)} {noun}"


def listed(parts: list[str]) -> str:
    """Join parts as a sentence does: "a", "a and b", "a, b and c"."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}" if parts else ""


def week_dates(week: str) -> tuple[date, date]:
    """Return Monday and Sunday of an ISO week written "2026-W47".

    Raises
    ------
    ValueError
        The text is no ISO week.
    """
    monday = date.fromisoformat(f"{week}-1")
    return monday, monday + timedelta(days=6)


def week_words(week: str) -> str:
    """Print an ISO week: "week 47 of 2026 (16 to 22 November)"."""
    monday, sunday = week_dates(week)
    start = f"{monday.day}" if monday.month == sunday.month else f"{monday.day} {monday:%B}"
    year, count = week.split("-W")
    return f"week {int(count)} of {year} ({start} to {sunday.day} {sunday:%B})"


def local(instant: str, zone: str, pattern: str) -> pl.Expr:
    """Print the UTC instants of a column in a time zone; null stays null."""
    return pl.col(instant).dt.convert_time_zone(zone).dt.strftime(pattern)

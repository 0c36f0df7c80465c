"""A cell of a table written by people in, its value out; a ValueError says what was needed instead."""

import math
from collections.abc import Callable
from datetime import UTC, date, datetime


def text(cell: str) -> str:
    """A text as it is."""
    return cell


def number(low: float, high: float) -> Callable[[str], float]:
    """Reader of numbers from `low` to `high`."""

    def parse(cell: str) -> float:
        try:
            value = float(cell)
        except ValueError:
            value = math.nan
        if not low <= value <= high:
            raise ValueError(f"a number from {low:g} to {high:g}")
        return value

    return parse


def count(cell: str) -> int:
    """A whole number, 0 or more."""
    if not cell.isdecimal():
        raise ValueError("a whole number, 0 or more")
    return int(cell)


def choice(*allowed: str) -> Callable[[str], str]:
    """Reader of one of a few words, in any case."""

    def parse(cell: str) -> str:
        word = cell.casefold()
        if word not in allowed:
            raise ValueError(f"one of {', '.join(allowed)}")
        return word

    return parse


def instant(cell: str) -> datetime:
    """An ISO 8601 instant as UTC; without an offset it is taken as UTC."""
    try:
        at = datetime.fromisoformat(cell)
    except ValueError:
        raise ValueError("a time such as 2026-11-25T09:15:00Z") from None
    return at.replace(tzinfo=UTC) if at.tzinfo is None else at.astimezone(UTC)


def month(cell: str) -> date:
    """The first day of a month written 2026-11."""
    try:
        return date.fromisoformat(f"{cell}-01")
    except ValueError:
        raise ValueError("a month such as 2026-11") from None

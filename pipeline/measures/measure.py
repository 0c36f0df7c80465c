"""What a measure is: a name that ends in its unit, a kind, a title and its meaning in one sentence.

A number `m` stands beside `m_u` (standard uncertainty, same unit); a flag, count or text beside `m_confidence`
(0 to 1); each beside `m_reason`, which is null unless the measure is null.
"""

from dataclasses import dataclass
from typing import Literal

Kind = Literal["number", "flag", "count", "text"]


@dataclass(frozen=True)
class Measure:
    """One measure: name, unit for titles ("" where it has none), kind, and its meaning in one sentence."""

    name: str
    unit: str
    kind: Kind
    title: str
    meaning: str

    @property
    def quality(self) -> str:
        """Column that says how sure: `_u` for numbers, `_confidence` for the rest."""
        return f"{self.name}_u" if self.kind == "number" else f"{self.name}_confidence"

    @property
    def reason(self) -> str:
        """Column that says why the measure is null."""
        return f"{self.name}_reason"


def number(name: str, unit: str, title: str, meaning: str) -> Measure:
    """Return a measure that is a number in `unit`."""
    return Measure(name, unit, "number", title, meaning)


def flag(name: str, title: str, meaning: str) -> Measure:
    """Return a measure that is true or false."""
    return Measure(name, "", "flag", title, meaning)


def count(name: str, title: str, meaning: str) -> Measure:
    """Return a measure that counts."""
    return Measure(name, "", "count", title, meaning)


def text(name: str, title: str, meaning: str) -> Measure:
    """Return a measure in words."""
    return Measure(name, "", "text", title, meaning)

"""Two unit names in, the factor between them out: the only place where units are converted."""

import re
from functools import cache
from typing import TYPE_CHECKING

from pipeline.errors import MapError

if TYPE_CHECKING:
    from pint import Unit, UnitRegistry

_OWN = {
    "g": "standard_gravity",
    "kt": "knot",
    "fpm": "foot / minute",
    "%": "percent",
    "fraction": "dimensionless",
    "°": "degree",
}
"""Spellings of the trade that the units library reads as something else, or not at all."""
_DIMENSIONS = {
    "ft": "a length",
    "ft/min": "a speed",
    "kt": "a speed",
    "deg": "an angle",
    "g": "an acceleration",
    "%": "a share (% or fraction)",
    "kg/h": "a mass per time",
    "kg": "a mass",
}
_HUGE = re.compile(r"\*\*\s*-?(\d*\.?\d*\s*\*\*|\d\d)|\^.*\^")
"""Powers of powers and of two digits: no unit, but hours of arithmetic."""
_EXPONENT = re.compile(r"(?<=[A-Za-z])(?=-?\d)")


@cache
def convert(unit: str, to: str) -> float:
    """Factor that turns a value in `unit` into one in `to`.

    Examples
    --------
    >>> round(convert("m/s", "ft/min"), 4)
    196.8504
    >>> convert("fraction", "%")
    100.0

    Raises
    ------
    MapError
        `unit` is not known, or is of another dimension than `to`; the message names the dimension that was needed.
    """
    if unit == to:
        return 1.0
    needed = _DIMENSIONS.get(to, f"what {to} measures")
    if unit == "dots" or to == "dots":
        raise MapError(f"unit {unit!r} found where {needed} is needed; use {to!r} or a unit like it")
    here, there = _unit(unit), _unit(to)
    registry = _registry()
    from_root, to_root = registry.get_root_units(here), registry.get_root_units(there)
    if from_root[1] != to_root[1] or not isinstance(from_root[0], int | float):
        raise MapError(f"unit {unit!r} found where {needed} is needed; use {to!r} or a unit like it")
    return float(registry.Quantity(1.0, here).to(there).magnitude)


@cache
def _registry() -> "UnitRegistry[float]":
    import pint  # noqa: PLC0415 - a quarter of a second that only a map with other units should cost

    return pint.UnitRegistry()


def _unit(name: str) -> "Unit":
    spelt = _OWN.get(name.strip()) or _EXPONENT.sub("**", name.strip())
    try:
        if not spelt or spelt[0].isdigit() or _HUGE.search(spelt):
            raise ValueError  # the library reads "" and "1" as a pure number  # noqa: TRY301
        return _registry().parse_units(spelt)
    except Exception as error:  # the library's parser raises whatever its tokeniser does
        raise MapError(f"unit {name!r} is not known; write it like 'ft', 'm/s', 'kt', 'deg', 'g', '%'") from error

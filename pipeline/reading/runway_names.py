"""A runway end's painted name in, the direction it says and the name of the other end out."""

import re

_NUMBERED = re.compile(r"0*([1-9]|[12]\d|3[0-6])([A-Z]{0,2})")
_POINTS = {
    name: 22.5 * number
    for number, name in enumerate(
        ("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW")
    )
}
_OTHER_SIDE = {"L": "R", "R": "L"}


def written(name: str | None) -> str | None:
    """The name as this program writes it: two digits and capitals, "09L" for " 9l"; None where it is blank.

    >>> written(" 9l"), written("nw"), written("")
    ('09L', 'NW', None)
    """
    tidy = "".join((name or "").split()).upper()
    numbered = _NUMBERED.fullmatch(tidy)
    return f"{int(numbered[1]):02d}{numbered[2]}" if numbered else tidy or None


def said_heading_deg(name: str | None) -> float | None:
    """The direction a name says, deg, to about 10 deg and mostly magnetic; None where it says none.

    >>> said_heading_deg("09L"), said_heading_deg("NW"), said_heading_deg("ALL")
    (90.0, 315.0, None)
    """
    numbered = _NUMBERED.fullmatch(name or "")
    return 10.0 * int(numbered[1]) if numbered else _POINTS.get(name or "")


def reciprocal(name: str | None) -> str | None:
    """The name of the other end of the pavement; None where the name says no direction.

    >>> reciprocal("09L"), reciprocal("36"), reciprocal("NE"), reciprocal("ALL")
    ('27R', '18', 'SW', None)
    """
    numbered = _NUMBERED.fullmatch(name or "")
    if numbered:
        number = (int(numbered[1]) + 17) % 36 + 1
        return f"{number:02d}{_OTHER_SIDE.get(numbered[2], numbered[2])}"
    direction = _POINTS.get(name or "")
    if direction is None:
        return None
    return next(point for point, deg in _POINTS.items() if deg == (direction + 180.0) % 360.0)

"""A wrong factor in, the mistake that most likely made it in words out."""

import math

from pipeline.channels import CHANNELS

_FT_M, _KT_MS, _KT_KMH, _MPH = 0.3048, 1852.0 / 3600.0, 1.852, 1852.0 / 1609.344
_LB = 0.45359237

MISTAKES: dict[str, tuple[tuple[float, str], ...]] = {
    "ft": (
        (_FT_M, "metres read as feet"),
        (1.0 / _FT_M, "feet read as metres"),
        (1.0 / 3.0, "yards read as feet"),
        (3.0, "feet read as yards"),
        (0.01, "hundreds of feet read as feet"),
    ),
    "ft/min": (
        (0.00508, "metres a second read as feet a minute"),
        (1.0 / 0.00508, "feet a minute read as metres a second"),
        (1.0 / 60.0, "feet a second read as feet a minute"),
        (60.0, "feet a minute read as feet a second"),
        (0.3048, "metres a minute read as feet a minute"),
        (60.0 * 0.3048 / 1852.0, "knots read as feet a minute"),
        (1852.0 / 60.0 / 0.3048, "feet a minute read as knots"),
    ),
    "kt": (
        (_KT_MS, "metres a second read as knots"),
        (1.0 / _KT_MS, "knots read as metres a second"),
        (_KT_KMH, "kilometres an hour read as knots"),
        (1.0 / _KT_KMH, "knots read as kilometres an hour"),
        (_MPH, "statute miles an hour read as knots"),
        (1.0 / _MPH, "knots read as statute miles an hour"),
    ),
    "deg": ((math.pi / 180.0, "radians read as degrees"), (180.0 / math.pi, "degrees read as radians")),
    "g": ((9.80665, "metres a second squared read as g"), (1.0 / 9.80665, "g read as metres a second squared")),
    "%": ((0.01, "a fraction read as percent"), (100.0, "percent read as a fraction")),
    "kg": ((1.0 / _LB, "pounds read as kilograms"), (_LB, "kilograms read as pounds")),
    "kg/h": (
        (1.0 / _LB, "pounds an hour read as kilograms an hour"),
        (_LB, "kilograms an hour read as pounds an hour"),
    ),
}
"""Reading over truth of the usual mistakes, by the channel's unit."""
POSITIONS = "positions"
_NEAR, _NEAR_ANGLE = 0.12, 0.8
"""A factor this near, as a natural logarithm, is taken for the mistake; what attitudes do is known less well."""


def factor_words(channel: str, ratio: float, other: str) -> str:
    """Say that `channel` reads `ratio` times what `other` says, and what mistake that may be.

    Examples
    --------
    >>> factor_words("radio_height_ft", 0.3, "vertical speed")
    'reads 0.30 of what vertical speed says: metres read as feet?'
    """
    if not math.isfinite(ratio) or abs(ratio) < 1e-4:
        return f"does not move as {other} {'say' if other == POSITIONS else 'says'}"
    size = abs(ratio)
    words = f"reads {_figures(ratio)} of what {other} {'say' if other == POSITIONS else 'says'}"
    usual = MISTAKES.get(CHANNELS[channel].unit, ())
    apart = sorted((abs(math.log(size / factor)), said) for factor, said in usual)
    near = min(_NEAR_ANGLE if CHANNELS[channel].unit == "deg" else _NEAR, abs(math.log(size)))
    mistake = ", or ".join(said for off, said in apart[:2] if off < near)
    turned = "sign turned" if ratio < 0 else ""
    guess = " and ".join(part for part in (turned, mistake) if part)
    return f"{words}: {guess}?" if guess else words


def _figures(ratio: float) -> str:
    return f"{ratio:.2f}" if 0.095 <= abs(ratio) < 99.5 else f"{ratio:.2g}"

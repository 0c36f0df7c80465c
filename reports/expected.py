"""An approach's row of the frame of expected pitch and thrust in; how it differed, in words, out."""

import polars as pl

from reports.words import quantity

TITLES = {
    "approach_pitch_over_expected_deg": ("Pitch on the approach less what the type is expected to show", "deg"),
    "approach_thrust_over_expected_pct": ("Thrust lever on the approach less what the type is expected to show", "%"),
    "approach_engine_speed_over_expected_pct": (
        "Engine speed on the approach less what the type is expected to show",
        "%",
    ),
}
"""Each difference with its words and unit."""


def differences(expected: pl.DataFrame, landing_id: str) -> list[tuple[str, str]]:
    """Return title and value of each difference that can be told; nothing where the policy expects nothing.

    Positive is more than expected. It says what to look at on the approach, not what was done wrong: wind and a speed
    off the target move both.
    """
    rows = expected.filter(pl.col("landing_id") == landing_id).to_dicts()
    return [
        (title, quantity(row[name], row[f"{name}_u"], unit))
        for row in rows
        for name, (title, unit) in TITLES.items()
        if row[name] is not None
    ]

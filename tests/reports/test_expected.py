"""Differences from what a type is expected to show, in words."""

import polars as pl

from pipeline.approach_expected import DIFFERENCES, SCHEMA
from reports.expected import TITLES, differences


def test_what_can_be_told_is_printed_with_its_uncertainty():
    """A pitch 0.6 above the expected stands with its sign's words and unit; nulls are silent."""
    row = {"landing_id": "x", "approach_pitch_over_expected_deg": -0.63, "approach_pitch_over_expected_deg_u": 0.2}
    frame = pl.DataFrame([row | {"approach_thrust_over_expected_pct_reason": "no_reference"}], schema=SCHEMA)

    ((title, value),) = differences(frame, "x")

    assert title.startswith("Pitch on the approach less")
    assert value.replace("\N{NO-BREAK SPACE}", " ") == "\N{MINUS SIGN}0.63 ± 0.20 deg"
    assert differences(frame, "y") == []


def test_every_difference_has_its_words():
    """A difference that is measured can be printed."""
    assert set(TITLES) == set(DIFFERENCES)

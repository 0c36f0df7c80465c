"""Where a landing was made: worked examples of each verdict."""

import polars as pl
import pytest

from pipeline.statistics.expected import SCHEMA
from pipeline.statistics.where_made import AS_EXPECTED, where_made


@pytest.mark.parametrize(
    ("value", "expected", "verdict"),
    [
        (1700.0, 1650.0, "long already at the threshold"),
        (1000.0, 950.0, "short already at the threshold"),
        (1900.0, 1350.0, "long, made after the threshold"),
        (900.0, 1350.0, "short, made after the threshold"),
        (1400.0, 1350.0, AS_EXPECTED),
        (1250.0, 1650.0, AS_EXPECTED),
    ],
)
def test_verdicts(value: float, expected: float, verdict: str) -> None:
    """Usual is 1,300 ft and the interval reaches 400 ft to both sides of what is expected; 200 ft are half of the way."""
    row = ("a", "P", "touchdown_distance_ft", "threshold", value, 1300.0, expected, expected - 400.0, expected + 400.0)
    rows = pl.DataFrame([row, ("a", "P", "touchdown_distance_ft", "gate", *row[4:])], schema=SCHEMA, orient="row")

    found = where_made(rows)

    assert found["verdict"].to_list() == [verdict]
    assert found["by_threshold"][0] + found["after_threshold"][0] == pytest.approx(value - 1300.0)


def test_vertical_speed_reads_down_as_firm() -> None:
    """-420 ft/min where -200 -+ 120 was to be expected is firm, and was made in the flare."""
    row = ("a", "P", "vertical_speed_at_contact_fpm", "threshold", -420.0, -180.0, -200.0, -320.0, -80.0)

    found = where_made(pl.DataFrame([row], schema=SCHEMA, orient="row"))

    assert found["verdict"].to_list() == ["firm, made in the flare"]

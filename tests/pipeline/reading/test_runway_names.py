"""Painted runway names: one way of writing, the direction they say, the name of the other end."""

import pytest

from pipeline.reading.runway_names import reciprocal, said_heading_deg, written


@pytest.mark.parametrize(
    ("found", "name"), [("9", "09"), ("09l", "09L"), (" 27 R", "27R"), ("nw", "NW"), ("", None), (None, None)]
)
def test_a_name_is_written_one_way(found, name):
    """Two digits, capitals, no blanks; nothing stays nothing."""
    assert written(found) == name


@pytest.mark.parametrize(
    ("name", "deg", "other"),
    [
        ("09", 90.0, "27"),
        ("36", 360.0, "18"),
        ("18", 180.0, "36"),
        ("04L", 40.0, "22R"),
        ("13C", 130.0, "31C"),
        ("N", 0.0, "S"),
        ("WSW", 247.5, "ENE"),
        ("ALL", None, None),
        ("H1", None, None),
        ("37", None, None),
        (None, None, None),
    ],
)
def test_a_name_says_a_direction_and_its_reciprocal(name, deg, other):
    """Left is right from the other side; a name without a direction has no other end."""
    assert said_heading_deg(name) == deg
    assert reciprocal(name) == other


@pytest.mark.parametrize("number", range(1, 37))
def test_the_other_end_of_the_other_end_is_the_first(number):
    """Twice reciprocal is the same name, for every number and side."""
    for side in ("", "L", "C", "R"):
        assert reciprocal(reciprocal(f"{number:02d}{side}")) == f"{number:02d}{side}"

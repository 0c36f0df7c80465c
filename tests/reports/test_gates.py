"""Gate verdicts in words."""

import polars as pl

from pipeline.gate_frame import SCHEMA as GATE
from reports.gates import verdicts


def gates(*rows: dict[str, object]) -> pl.DataFrame:
    """Rows of the gate frame of landing x, the 500 ft gate where they do not say otherwise."""
    usual = {
        "landing_id": "x",
        "gate": "500 ft",
        "height_ft": 500.0,
        "reference": "threshold",
        "conditions": "any",
        "confidence": 0.99,
        "failed": "",
        "not_judged": "",
        "judged": 8,
    }
    return pl.DataFrame([usual | row for row in rows], schema=GATE)


def words(*rows: dict[str, object], conditions: str | None = "visual") -> list[str]:
    """What a page prints of them."""
    return [one.words for one in verdicts(gates(*rows), "x", conditions=conditions)]


def test_met_never_stands_without_what_was_not_judged():
    """Eight criteria, two not judged: six are met."""
    row = {"stable": True, "not_judged": "localiser flap", "judged": 6, "held_to_50ft": True}

    assert words(row) == [
        "meets the 6 criteria the log can show at 500 ft; 2 were not judged (localiser, landing flap)"
    ]


def test_criteria_the_gate_does_not_ask_for_are_neither_met_nor_missing():
    """A gate that asks for two criteria says two, not eight less what was not judged."""
    assert words({"stable": True, "judged": 2, "held_to_50ft": True}) == [
        "meets the 2 criteria the log can show at 500 ft"
    ]


def test_not_met_names_the_criteria():
    """In words, with the gate's height."""
    assert words({"stable": False, "failed": "speed sink"}) == ["at 500 ft not met: speed and sink"]


def test_a_verdict_that_is_not_sure_says_so():
    """Near a limit the uncertainty decides; the page says how sure."""
    (said,) = words({"stable": False, "failed": "speed", "confidence": 0.62})

    assert said.replace("\N{NO-BREAK SPACE}", " ").endswith("a close call, 62 % sure")


def test_every_gate_is_told_from_the_highest_down():
    """Any number of gates of any reference, each by its own words."""
    low = {"gate": "300 ft", "height_ft": 300.0, "stable": True, "judged": 1, "held_to_50ft": True}
    high = {
        "gate": "1000 ft above airport",
        "height_ft": 1000.0,
        "reference": "airport",
        "stable": False,
        "failed": "sink",
    }

    assert words(low, high) == [
        "at 1,000 ft above the airport not met: sink",
        "meets the 1 criterion the log can show at 300 ft",
    ]


def test_a_gate_of_conditions_that_are_not_stated_says_so():
    """Without stated conditions both kinds of gate are judged, and neither is called the approach's own."""
    row = {"conditions": "instrument", "stable": False, "failed": "sink"}

    assert words(row, conditions=None) == [
        "at 500 ft (were it flown in instrument conditions, which is not stated) not met: sink"
    ]
    assert words(row, conditions="instrument") == ["at 500 ft not met: sink"]


def test_the_first_break_below_a_gate_that_was_met_is_named():
    """What was broken, from which height and for how long."""
    row = {
        "stable": True,
        "held_to_50ft": False,
        "first_break": "speed",
        "first_break_height_ft": 321.4,
        "first_break_duration_s": 4.2,
    }

    assert words(row) == [
        "meets the 8 criteria the log can show at 500 ft; not held to 50 ft, first speed from 321 ft for 4 s"
    ]


def test_no_verdict_is_no_failure():
    """Null is "not judged", with its reason."""
    (found,) = verdicts(gates({"stable": None, "reason": "no_reference"}), "x", conditions="visual")

    assert found.state == "not judged"
    assert found.words.startswith("not judged at 500 ft: something it is judged against is not known")

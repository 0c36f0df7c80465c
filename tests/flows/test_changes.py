"""What became another between two measurements of the same approaches: literal rows in, counted changes out."""

from typing import Any

import polars as pl
import pytest

from flows.changes import FOUND, Change, State, changes, summary
from pipeline.measures.table import MEASURES, schema

SPEED = "contact_speed_over_vref_kt"
FLAG = next(measure.name for measure in MEASURES if measure.kind == "flag")


def state(
    *rows: dict[str, Any], gates: dict[str, bool | None] | None = None, faults: dict[str, str] | None = None
) -> State:
    """Landings L0, L1 ... with the given cells; verdicts are of L0."""
    landings = [{"landing_id": f"L{number}", "outcome": "full_stop", **row} for number, row in enumerate(rows)]
    columns = {"landing_id": pl.String, **dict.fromkeys(FOUND, pl.String), **schema()}
    said = [("L0", name, stable) for name, stable in (gates or {}).items()]
    judged = [("L0", name, verdict) for name, verdict in (faults or {}).items()]
    return State(
        pl.DataFrame(landings, schema=columns),
        pl.DataFrame(said, schema={"landing_id": pl.String, "gate": pl.String, "stable": pl.Boolean}, orient="row"),
        pl.DataFrame(judged, schema={"landing_id": pl.String, "fault": pl.String, "verdict": pl.String}, orient="row"),
    )


def speed(value: float | None, u: float | None) -> dict[str, float | None]:
    return {SPEED: value, f"{SPEED}_u": u}


@pytest.mark.parametrize(
    ("was", "now", "moved"),
    [
        (speed(5.0, 1.0), speed(6.1, 0.5), True),
        (speed(5.0, 0.5), speed(3.9, 1.0), True),
        (speed(5.0, 1.0), speed(5.9, 0.5), False),
        (speed(5.0, 0.5), speed(5.9, 1.0), False),
        (speed(5.0, 1.0), speed(5.0, 1.0), False),
        (speed(None, None), speed(None, None), False),
    ],
)
def test_a_number_moves_beyond_the_greater_uncertainty(
    was: dict[str, float],
    now: dict[str, float],
    moved: bool,  # noqa: FBT001
) -> None:
    """A difference within the greater standard uncertainty of the two is no change."""
    found = changes(state(was), state(now))

    assert found["name"].to_list() == ([SPEED] if moved else [])


def test_shifts_are_counted_with_their_median() -> None:
    """Landings that moved are counted by measure; values that came or went are counted apart, without a shift."""
    was = state(speed(5.0, 1.0), speed(5.0, 1.0), speed(5.0, 1.0), speed(None, None), speed(7.0, 1.0))
    now = state(speed(7.0, 1.0), speed(8.0, 1.0), speed(12.0, 1.0), speed(4.0, 1.0), speed(None, None))

    assert summary([changes(was, now)]) == (
        Change("measure", SPEED, "a value", "a value", 3, 3.0),
        Change("measure", SPEED, "a value", "none", 1),
        Change("measure", SPEED, "none", "a value", 1),
    )


def test_verdicts_flip_by_name() -> None:
    """Gates and faults are told by name with both verdicts; a gate that is new or gone was or is not judged."""
    was = state({}, gates={"1000 ft": True, "500 ft": True, "300 ft": None}, faults={"long": "seen", "hard": "seen"})
    now = state(
        {}, gates={"1000 ft": False, "500 ft": True, "200 ft": True}, faults={"long": "cannot_tell", "hard": "seen"}
    )

    assert summary([changes(was, now)]) == (
        Change("gate", "1000 ft", "stable", "not stable", 1),
        Change("gate", "200 ft", "not judged", "stable", 1),
        Change("fault", "long", "seen", "cannot tell", 1),
    )


def test_yes_and_no_are_told_as_they_are() -> None:
    """A flag that turned is told with both values."""
    assert summary([changes(state({FLAG: True}), state({FLAG: False}))]) == (
        Change("measure", FLAG, "true", "false", 1),
    )


def test_approaches_come_and_go() -> None:
    """An approach found only before or only now is told so, and nothing of it is compared; outcomes are told too."""
    was = state({"outcome": "full_stop"}, speed(5.0, 1.0))
    now = state({"outcome": "touch_and_go"})

    assert summary([changes(was, now)]) == (
        Change("approach", "found", "there", "not there", 1),
        Change("approach", "outcome", "full_stop", "touch_and_go", 1),
    )

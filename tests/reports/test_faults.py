"""What a page says of faults: what is beyond doubt with its limit and remedy, what cannot be told, and how often."""

import polars as pl
import pytest

from pipeline.faults.judging import SCHEMA as FAULT
from pipeline.faults.rules import FAULTS
from pipeline.statistics.fault_shares import ALL
from pipeline.statistics.fault_shares import SCHEMA as SHARE
from reports.faults import MOST_WORKED_ON, cohort_rest, cohort_rows, seen, untold, usual


def row(fault: str, verdict: str, **changes: object) -> dict[str, object]:
    """One fault row of landing x."""
    return {"landing_id": "x", "fault": fault, "verdict": verdict, "probability": 0.99, **changes}


def share(fault: str, low: float, **changes: object) -> dict[str, object]:
    """One share of a pilot."""
    counts = {"n": 80, "sessions": 30, "seen": 9, "untold": 2}
    shares = {"share": low + 0.05, "share_low": low, "share_high": low + 0.1}
    return {"pilot": "P-1", "aircraft_type": "Tovik L2", "fault": fault, **counts, **shares, **changes}


def test_a_fault_is_named_with_what_was_measured_and_its_limit() -> None:
    """Value with uncertainty, side, limit and remedy stand together, in the order of the landing."""
    frame = pl.DataFrame(
        [row("hard", "seen"), row("float", "seen", value=7.24, value_u=0.4, limit_value=6.0), row("long", "not_seen")],
        schema=FAULT,
    )
    first, second = seen(frame, "x")
    assert first.words.replace("\N{NO-BREAK SPACE}", " ") == "Floated: 7.2 ± 0.4 s, above 6.0 s"
    assert FAULTS["float"].remedy in first.remedy
    assert second.words == "Firmer than the training limit"


def flown(**changes: object) -> dict[str, object]:
    """What of a landing's row the sentences ask for."""
    usual_row = {"landing_id": "x", "landing_index": 0, "landing_mode": "manual", "exercise": "normal"}
    return usual_row | changes


def test_what_cannot_be_told_is_listed_by_reason() -> None:
    """Near a limit with value and limit, without data by reason, and what was meant; another landing has nothing."""
    rows = [
        row("float", "cannot_tell", probability=0.6, value=6.2, value_u=0.9, limit_value=6.0),
        row("high_flare", "cannot_tell", probability=None, reason="too_slow"),
        row("late_flare", "cannot_tell", probability=None, reason="too_slow"),
        row("long", "cannot_tell", probability=None, reason="intended"),
    ]
    said = untold(pl.DataFrame(rows, schema=FAULT), flown())
    assert [sentence.replace("\N{NO-BREAK SPACE}", " ") for sentence in said] == [
        "Too near the limit to tell: floated: 6.2 ± 0.9 s, limit 6.0 s.",
        "Cannot be told, recorded too slowly to see it: flare begun high; flare begun late.",
        "Meant, so no fault: beyond the touchdown zone.",
    ]


@pytest.mark.parametrize(
    ("changes", "rows", "begins"),
    [
        ({"landing_mode": "automatic"}, [], "An automatic landing"),
        ({"exercise": "engine_out"}, [row("hard", "not_seen")], "An exercise"),
        ({}, [row("hard", "not_seen")], "Technique is not judged"),
        ({}, [], "No fault is judged"),
    ],
)
def test_what_is_not_judged_says_so(changes: dict[str, object], rows: list[dict[str, object]], begins: str) -> None:
    """Automatic landings, exercises, types without a profile and tailwheels each say what is left out."""
    (said,) = untold(pl.DataFrame(rows, schema=FAULT), flown(**changes))
    assert said.startswith(begins)


def test_a_go_around_says_nothing_of_technique() -> None:
    """An approach without contact has no sentence of what is left out."""
    assert untold(pl.DataFrame([row("low_on_approach", "not_seen")], schema=FAULT), flown(landing_index=None)) == []


def test_at_most_three_and_the_surest_first() -> None:
    """A pilot reads of three faults at most, ordered by the lower end of the interval; rare ones are left out."""
    shares = pl.DataFrame(
        [
            share("float", 0.1),
            share("bounce", 0.3),
            share("late_flare", 0.05),
            share("no_flare", 0.04),
            share("hard", 0.01),
        ],
        schema=SHARE,
    )
    found = usual(shares, "P-1")
    assert len(found) == MOST_WORKED_ON
    assert found[0].words.startswith("Bounced: ")
    assert "9 of them beyond doubt" in found[0].words


def test_training_sees_types_that_are_shown_and_no_pilot() -> None:
    """Rows of one pilot never reach the training page, nor types whose group is too small."""
    shares = pl.DataFrame(
        [
            share("float", 0.1),
            share("float", 0.2, pilot=ALL),
            share("bounce", 0.2, pilot=ALL, aircraft_type="Sarnel J4"),
        ],
        schema=SHARE,
    )
    assert [line[:2] for line in cohort_rows(shares, ["Tovik L2"])] == [("Tovik L2", "floated")]
    assert cohort_rows(shares, []) == []


def test_rare_faults_are_named_without_figures() -> None:
    """A fault on one landing in 500 has no row, and is named."""
    rare = share("hard", 0.0, pilot=ALL) | {"share": 0.002}
    shares = pl.DataFrame([share("float", 0.2, pilot=ALL), rare], schema=SHARE)
    assert [line[1] for line in cohort_rows(shares, ["Tovik L2"])] == ["floated"]
    assert cohort_rest(shares, ["Tovik L2"]).endswith(": firmer than the training limit.")
    assert cohort_rest(shares, []) == ""


@pytest.mark.parametrize("name", FAULTS)
def test_every_fault_can_be_said(name: str) -> None:
    """Each fault has words, a remedy and a source, and no word that praises softness."""
    frame = pl.DataFrame([row(name, "seen", value=1.0, value_u=0.1, limit_value=0.5)], schema=FAULT)
    (said,) = seen(frame, "x")
    assert said.words[0].isupper()
    assert FAULTS[name].source in said.remedy
    assert not any(word in said.remedy.lower() for word in ("smoothest", "greaser", "perfect"))

"""Gate verdicts in words."""

from reports.gates import verdicts


def row(
    *, stable: bool | None, failed: str = "", unjudged: str = "", sure: float = 0.99, conditions: str | None = "visual"
):
    gates = {
        f"gate_{height}_{name}": value
        for height in (1000, 500)
        for name, value in (
            ("stable", stable),
            ("failed", failed),
            ("not_judged", unjudged),
            ("stable_confidence", sure),
        )
    }
    return gates | {"conditions": conditions}


def test_met_never_stands_without_what_was_not_judged():
    """Eight criteria, two not judged: six are met."""
    (verdict,) = verdicts(row(stable=True, unjudged="localiser flap"))

    assert verdict.state == "met"
    assert verdict.words == (
        "meets the 6 criteria the log can show at 500 ft; 2 were not judged (localiser, landing flap)"
    )


def test_not_met_names_the_criteria():
    """In words, with the gate's height."""
    (verdict,) = verdicts(row(stable=False, failed="speed sink"))

    assert verdict.state == "not met"
    assert verdict.words == "at 500 ft not met: speed, sink"


def test_a_verdict_that_is_not_sure_says_so():
    """Near a limit the uncertainty decides; the page says how sure."""
    (verdict,) = verdicts(row(stable=False, failed="speed", sure=0.62))

    assert "62" in verdict.words
    assert "sure" in verdict.words


def test_the_gate_follows_the_conditions():
    """Visual 500 ft, instrument 1,000 ft, unknown both."""
    heights = [[v.height_ft for v in verdicts(row(stable=True, conditions=c))] for c in ("visual", "instrument", None)]

    assert heights == [[500], [1000], [1000, 500]]


def test_no_verdict_is_no_failure():
    """Null is "not judged"."""
    assert [v.state for v in verdicts(row(stable=None))] == ["not judged"]

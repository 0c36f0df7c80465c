"""Shares that met each gate, go-arounds as the good outcome, recorders side by side."""

from datetime import UTC, datetime, timedelta

import polars as pl
import pytest

from pipeline.gate_frame import SCHEMA as GATE
from reports import gate_shares
from reports.withholding import FEWEST_PILOTS

START = datetime(2026, 3, 1, 12, tzinfo=UTC)


def flown(n: int, *, pilots: int = 8, rate: float = 8.0, outcome: str = "full_stop", start: int = 0) -> pl.DataFrame:
    """Approaches on a day each, the pilots in turn."""
    return pl.DataFrame(
        {
            "landing_id": [f"a{start + i}" for i in range(n)],
            "pilot": [f"P-{i % pilots}" for i in range(n)],
            "aircraft": ["SJ-1"] * n,
            "flown": [START + timedelta(days=i) for i in range(n)],
            "recorder_rate_hz": [rate] * n,
            "outcome": [outcome] * n,
        }
    )


def verdicts(approaches: pl.DataFrame, *, stable: bool | None, gate: str = "500 ft", **changes: object) -> pl.DataFrame:
    """The same verdict at one gate for each."""
    height, _, rest = gate.partition(" ft")
    usual = {
        "gate": gate,
        "height_ft": float(height),
        "reference": "airport" if "airport" in rest else "threshold",
        "conditions": "any",
        "stable": stable,
        "confidence": 0.99,
        "failed": "" if stable else "speed",
        "not_judged": "localiser",
        "judged": 7,
        "held_to_50ft": stable,
    }
    return pl.DataFrame([{"landing_id": i, **usual, **changes} for i in approaches["landing_id"]], schema=GATE)


def plain(rows: list[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """With ordinary blanks."""
    return [tuple(cell.replace("\N{NO-BREAK SPACE}", " ") for cell in row) for row in rows]


@pytest.fixture
def mixed() -> pl.DataFrame:
    """Sixty approaches met the 500 ft gate; forty did not: thirty were gone around, ten landed from."""
    parts = [flown(60), flown(30, outcome="go_around", start=60), flown(10, start=90)]
    gates = [verdicts(parts[0], stable=True), verdicts(parts[1], stable=False), verdicts(parts[2], stable=False)]
    return gate_shares.judged(pl.concat(parts), pl.concat(gates))


def test_each_gate_has_its_share_and_what_became_of_the_others(mixed):
    """60 of 100 met; all 60 were held; 30 of 40 were gone around."""
    ((gate, count, met, held, around),) = plain(gate_shares.gate_rows(mixed))

    assert (gate, count) == ("500 ft", "100")
    assert met.startswith("60 % (")
    assert met.endswith("n = 100)")
    assert held.startswith("100 % (")
    assert around.startswith("75 % (")
    assert around.endswith("n = 40)")


def test_going_around_is_said_to_be_the_good_outcome(mixed):
    """The sentence gives the share with its interval and never calls for fewer go-arounds."""
    words = gate_shares.gone_around_words(mixed).replace("\N{NO-BREAK SPACE}", " ")

    assert "75 % (90 % interval" in words
    assert "were gone around: the good outcome" in words


def test_a_log_that_ends_on_the_approach_counts_on_neither_side():
    """Whether it was gone around is not known."""
    parts = [flown(30), flown(30, outcome="go_around", start=30), flown(40, outcome="unfinished", start=60)]
    rows = gate_shares.judged(pl.concat(parts), verdicts(pl.concat(parts), stable=False))

    assert plain(gate_shares.gate_rows(rows))[0][4].startswith("50 % (")


def test_every_gate_has_its_row_from_the_highest_down():
    """Three gates of the policy, three rows."""
    some = flown(40)
    names = ("300 ft", "1000 ft above airport, instrument", "500 ft")
    rows = gate_shares.judged(some, pl.concat([verdicts(some, stable=True, gate=name) for name in names]))

    called = [row[0] for row in gate_shares.gate_rows(rows)]
    assert called == ["1,000 ft above the airport, instrument approaches", "500 ft", "300 ft"]


def test_small_groups_are_withheld():
    """Twenty approaches by fewer pilots than a group needs give no share."""
    some = flown(40, pilots=FEWEST_PILOTS - 1)
    rows = gate_shares.judged(some, verdicts(some, stable=True))

    assert gate_shares.gate_rows(rows)[0][1:3] == ("withheld", "withheld")
    assert gate_shares.gone_around_words(gate_shares.judged(some, verdicts(some, stable=False))) == ""


def test_a_slow_recorder_is_neither_clean_nor_dirty():
    """Both fly alike; half of the slow one's verdicts are in doubt, and stand on neither side."""
    quick, slow = flown(200), flown(200, rate=1.0, start=200)
    gates = [
        verdicts(quick.head(160), stable=True),
        verdicts(quick.tail(40), stable=False),
        verdicts(slow.head(80), stable=True),
        verdicts(slow.slice(80, 90), stable=True, confidence=0.7),
        verdicts(slow.slice(170, 10), stable=False, confidence=0.6),
        verdicts(slow.tail(20), stable=False),
    ]
    first, second = plain(gate_shares.rate_rows(gate_shares.judged(pl.concat([quick, slow]), pl.concat(gates))))

    assert (first[1], second[1]) == ("8 Hz and more", "slower than 4 Hz")
    assert (first[3][:4], second[3][:4]) == ("80 %", "85 %")
    assert first[4:] == ("80 %", "0 %", "20 %")
    assert second[4:] == ("40 %", "50 %", "10 %")


def test_what_may_have_met_its_gate_is_not_counted_as_continued():
    """Forty in doubt are left out of what became of those that missed: thirty of thirty were gone around."""
    parts = [flown(30, outcome="go_around"), flown(40, start=30)]
    gates = [verdicts(parts[0], stable=False), verdicts(parts[1], stable=False, confidence=0.6)]
    rows = gate_shares.judged(pl.concat(parts), pl.concat(gates))

    assert plain(gate_shares.gate_rows(rows))[0][4].startswith("100 % (")
    assert "n = 30)" in gate_shares.gone_around_words(rows)


def test_one_rate_alone_is_compared_with_nothing(mixed):
    """Without a second rate there is no table."""
    assert gate_shares.rate_rows(mixed) == []


def test_criteria_missed_are_counted_among_those_judged_by_them():
    """Thirty of the hundred miss speed; forty could not be judged by it: half of sixty."""
    some = flown(100)
    gates = [
        verdicts(some.head(30), stable=False, not_judged=""),
        verdicts(some.slice(30, 30), stable=True, not_judged=""),
        verdicts(some.tail(40), stable=True, not_judged="speed"),
    ]
    ((gate, criterion, count, share),) = plain(gate_shares.criterion_rows(gate_shares.judged(some, pl.concat(gates))))

    assert (gate, criterion, count, share) == ("500 ft", "speed", "30", "50.0 %")


def test_the_office_reads_what_could_be_judged_and_not_how_it_was_flown(mixed):
    """Share without a verdict, in doubt, and criteria seldom judged; no share met."""
    some = flown(20)
    gates = [
        verdicts(some.head(15), stable=True, confidence=0.7),
        verdicts(some.tail(5), stable=None, reason="no_reference"),
    ]
    rows = plain(gate_shares.coverage_rows(gate_shares.judged(some, pl.concat(gates))))

    assert rows == [("500 ft", "8 Hz and more", "20", "25 %", "100 %", "localiser")]


def test_a_pilot_reads_his_own_shares_and_his_go_arounds(mixed):
    """Own approaches that missed a gate, and how many of them were gone around."""
    mine = mixed.filter(pl.col("pilot") == "P-0")
    missed = mine.filter(~pl.col("stable"))
    around = int(missed["gone_around"].sum())

    assert gate_shares.own_words(mine)[0].startswith("The criteria the logs can show at 500 ft were met in ")
    assert f"({missed.height}), {around} were gone around" in gate_shares.own_gone_around(mine)
    assert gate_shares.own_gone_around(mine.filter("stable")) == ""


def test_no_gates_is_no_page_section():
    """A policy without gates leaves every table empty."""
    rows = gate_shares.judged(flown(10), pl.DataFrame(schema=GATE))

    assert gate_shares.gate_rows(rows) == []
    assert gate_shares.gone_around_words(rows) == ""
    assert gate_shares.coverage_rows(rows) == []

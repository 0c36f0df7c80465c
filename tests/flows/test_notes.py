"""Notes on landings: kept for good; a dispute takes a landing out of its pilot's figures at once."""

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from flows.command_line import main
from flows.ingest import ingest
from flows.notes import keep_note
from flows.workspace import Workspace
from pipeline.errors import SettingsError
from warehouse.database import reader
from warehouse.marts import read


@pytest.fixture
def held(workspace: Workspace, fill: Callable[[Path], None], at: datetime) -> Workspace:
    """A workspace that holds three landings of two pilots."""
    fill(workspace.inbox)
    ingest(workspace, at=at)
    return workspace


def counting(workspace: Workspace) -> list[str]:
    """Logs of the landings that count for a pilot."""
    with reader(workspace.database) as con:
        return sorted(read(con, "eligible_landing")["log_file"])


def test_a_dispute_takes_a_landing_out_at_once_and_settling_brings_it_back(held: Workspace, at: datetime) -> None:
    """Between the two it is in nobody's figures, says why, and the other landings stay."""
    everything = counting(held)
    assert "first.csv" in everything
    keep_note(held, "first.csv", "the captain took it", kind="dispute", at=at)
    assert counting(held) == [name for name in everything if name != "first.csv"]
    with reader(held.database) as con:
        row = read(con, "approaches", where={"log_file": "first.csv"}).row(0, named=True)
    assert (row["disputed"], row["unattributed"]) == (True, "disputed")
    keep_note(held, "first.csv", "no, it was him", kind="settled", at=at + timedelta(hours=1))
    assert counting(held) == everything


def test_notes_are_kept_in_the_order_they_were_made(held: Workspace, at: datetime) -> None:
    """Each stands with its landing, what it is, and when it was made."""
    landing = keep_note(held, "first.csv", "gusty", at=at)
    keep_note(held, landing, "not mine", kind="dispute", at=at + timedelta(minutes=1))
    with reader(held.database) as con:
        notes = read(con, "notes").select("landing_id", "kind", "note", "noted_at").rows()
    assert [row[:3] for row in notes] == [(landing, "remark", "gusty"), (landing, "dispute", "not mine")]


def test_a_landing_may_be_disputed_again(held: Workspace, at: datetime) -> None:
    """The last word counts."""
    for minute, kind in enumerate(("dispute", "settled", "dispute")):
        keep_note(held, "first.csv", "again", kind=kind, at=at + timedelta(minutes=minute))
    assert "first.csv" not in counting(held)


@pytest.mark.parametrize(
    ("called", "text", "kind", "said"),
    [
        ("fourth.csv", "x", "remark", "fourth.csv"),
        ("first.csv", " ", "remark", "the note is empty"),
        ("first.csv", "x", "settled", "nothing to settle"),
    ],
)
def test_what_cannot_be_noted_is_said(
    held: Workspace, at: datetime, called: str, text: str, kind: str, said: str
) -> None:
    """An unknown landing, an empty note and a dispute that is none are refused in a sentence, and nothing is kept."""
    with pytest.raises(SettingsError, match=said):
        keep_note(held, called, text, kind=kind, at=at)
    with reader(held.database) as con:
        assert read(con, "notes").is_empty()


def test_the_command_says_what_became_of_the_landing(held: Workspace, capsys: pytest.CaptureFixture[str]) -> None:
    """A dispute by the command line ends with 0 and a sentence; both options at once are wrong usage."""
    place = ["--workspace", str(held.root)]
    assert main(["note", "first.csv", "I was not flying", "--dispute", *place]) == 0
    assert "in nobody's figures" in capsys.readouterr().out
    assert main(["note", "first.csv", "x", "--dispute", "--settle", *place]) == 2
    assert main(["note", "nothing.csv", "x", *place]) == 2

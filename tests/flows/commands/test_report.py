"""`roundout report` and the options it shares: an edition again from what is held, and dates as they may be written."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from flows.workspace import Workspace

Run = Callable[..., tuple[int, str, str]]


def test_an_edition_again(ingested: Workspace, run: Run) -> None:
    """The edition is written from the warehouse: the same pages twice, and the inbox is left alone."""
    (ingested.inbox / "later.csv").write_text("t_s\n")
    status, out, _ = run("report", "--as-of", "2026-11-25")
    before = {path: path.read_bytes() for path in ingested.reports.rglob("*.html")}
    again, _, _ = run("report", "--as-of", "2026-11-25")

    assert (status, again) == (0, 0)
    assert out.startswith("Edition 2026-W47: ")
    assert {path: path.read_bytes() for path in ingested.reports.rglob("*.html")} == before
    assert (ingested.inbox / "later.csv").exists()


def test_nothing_held(workspace: Workspace, run: Run) -> None:
    """There is no edition of nothing, and no warehouse is made."""
    assert run("report")[0] == 2
    assert not workspace.database.exists()


@pytest.mark.parametrize("command", ["week", "report"])
@pytest.mark.parametrize(
    ("day", "said"),
    [
        ("2026-W47", "is no date; write it as 2026-11-25"),
        ("20261125", "is no date; write it as 2026-11-25"),
        ("2026-02-30", "--as-of"),
        ((datetime.now(UTC).date() + timedelta(days=1)).isoformat(), "is to come"),
    ],
    ids=["week", "no dashes", "no such day", "tomorrow"],
)
def test_as_of(workspace: Workspace, run: Run, command: str, day: str, said: str) -> None:
    """A week, another way of writing or a date to come ends in one line and exit status 2; nothing is written."""
    status, out, err = run(command, "--as-of", day)

    assert (status, out, err.count("\n")) == (2, "", 1)
    assert said in err
    assert not workspace.database.exists()


@pytest.mark.parametrize("arguments", [("status", "--workspace", ""), ("init", ""), ("demo", "--workspace", " ")])
def test_a_blank_folder(workspace: Workspace, run: Run, arguments: tuple[str, ...]) -> None:
    """A blank name of a folder is refused, since it would mean the folder one is in."""
    status, out, err = run(*arguments)

    assert (status, out) == (2, "")
    assert "no folder is named" in err

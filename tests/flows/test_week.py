"""The week: one date, one edition, always the same; nothing after it counts."""

import hashlib
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from flows.week import last_whole_week, week
from flows.workspace import Workspace
from pipeline.errors import SettingsError
from warehouse.database import reader
from warehouse.marts import read

Fill = Callable[[Path], None]


@pytest.mark.parametrize(
    ("as_of", "name", "sunday"),
    [
        ("2026-11-25", "2026-W47", "2026-11-22"),
        ("2026-11-22", "2026-W47", "2026-11-22"),
        ("2026-11-21", "2026-W46", "2026-11-15"),
        ("2027-01-03", "2026-W53", "2027-01-03"),
        ("2027-01-04", "2026-W53", "2027-01-03"),
        ("2025-01-05", "2025-W01", "2025-01-05"),
    ],
)
def test_last_whole_week(as_of: str, name: str, sunday: str) -> None:
    """A week counts from its Sunday on, by the ISO calendar also where the year turns."""
    assert last_whole_week(date.fromisoformat(as_of)) == (name, date.fromisoformat(sunday))


def pages(workspace: Workspace) -> dict[str, str]:
    return {
        path.relative_to(workspace.reports).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(workspace.reports.rglob("*.html"))
    }


def test_edition_of_three_landings(workspace: Workspace, fill: Fill, at: datetime) -> None:
    """Each pilot has a page, training and office have theirs; none holds a name, and each pilot's folder is its own."""
    fill(workspace.inbox)
    edition = week(workspace, date(2026, 11, 25), at=at)
    with reader(workspace.database) as con:
        pilots = read(con, "landing")["pilot"].unique().sort().to_list()
        editions = read(con, "editions")

    assert edition.week == "2026-W47"
    assert list(pages(workspace)) == [
        "2026-W47/office/index.html",
        *(f"2026-W47/pilots/{pilot}/index.html" for pilot in pilots),
        "2026-W47/training/index.html",
    ]
    assert editions.select("as_of", "week").rows() == [(date(2026, 11, 22), "2026-W47")]
    for path in workspace.reports.rglob("*.html"):
        text = path.read_text()
        assert not any(name in text for name in ("Quill", "Fen"))
    assert pilots[0] not in (workspace.reports / "2026-W47" / "pilots" / pilots[1] / "index.html").read_text()


def test_same_date_same_pages(workspace: Workspace, fill: Fill, flight: Any, at: datetime) -> None:
    """Run again later, with newer landings in the warehouse, the edition of a date is the same to the byte."""
    fill(workspace.inbox)
    week(workspace, date(2026, 11, 25), at=at)
    before = pages(workspace)
    next_week = datetime(2026, 11, 24, 9, tzinfo=UTC)
    flight(contact_s=101.0, started_at=next_week).stamped().write_csv(workspace.inbox / "later.csv")
    workspace.manifest_file.write_text("log_file,pilot\nlater.csv,Ada Quill\n")
    edition = week(workspace, date(2026, 11, 25), at=at + timedelta(days=3))

    assert edition.ingested.landings == 1
    assert {name: page for name, page in pages(workspace).items() if "office" not in name} == {
        name: page for name, page in before.items() if "office" not in name
    }


def test_empty_workspace_has_an_edition(workspace: Workspace, at: datetime) -> None:
    """Without any landing there is a training and an office page, and no pilot's."""
    edition = week(workspace, date(2026, 11, 25), at=at)

    assert [page.parent.name for page in edition.pages] == ["training", "office"]


def test_old_editions_are_kept_by_setting(workspace: Workspace, at: datetime) -> None:
    """Of four weeks two are kept, and what is no edition stays."""
    workspace.settings_file.write_text("[keep]\neditions = 2\n")
    (workspace.reports / "notes").mkdir()
    for days in (21, 14, 7, 0):
        week(workspace, date(2026, 11, 25) - timedelta(days=days), at=at)

    assert sorted(path.name for path in workspace.reports.iterdir()) == ["2026-W46", "2026-W47", "notes"]


def test_a_date_before_any_log_is_refused() -> None:
    """No traceback at the calendar's edge."""
    with pytest.raises(SettingsError, match="no log is that old"):
        last_whole_week(date(1, 1, 1))

"""Discovery: every file below a place is a log, a table, a map, or listed as left aside."""

import os
from datetime import UTC, datetime
from pathlib import Path

import pytest

from flows.discovery import as_text, discover, is_log
from pipeline.errors import SettingsError


def _touch(*files: Path) -> None:
    for file in files:
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text("x")


@pytest.mark.parametrize(
    ("name", "log"),
    [
        ("a.csv", True),
        ("A.CSV", True),
        ("a.b.parquet", True),
        ("a.csv.gz", True),
        ("a.txt.zst", True),
        ("a.tsv", True),
        ("a.gz", False),
        ("a.xlsx", False),
        ("csv", False),
        ("a.csv.part", False),
    ],
)
def test_names_of_logs(name: str, *, log: bool) -> None:
    """A log is told by its ending, packed or not."""
    assert is_log(Path(name)) is log


def test_folder_is_looked_through(tmp_path: Path) -> None:
    """Logs keep their path below the folder as their name; what is neither log nor table is listed."""
    inbox = tmp_path / "data" / "inbox"
    folder = tmp_path / "flights"
    _touch(
        folder / "b.csv",
        folder / "week 1" / "a.parquet",
        folder / "manifest.csv",
        folder / "week 1" / "manifest.csv",
        folder / "maps" / "one.toml",
        folder / ".hidden.csv",
        folder / ".git" / "c.csv",
        folder / "notes.docx",
    )

    found = discover(inbox, [folder])

    assert [log.name for log in found.logs] == ["b.csv", "week 1/a.parquet", "week 1/manifest.csv"]
    assert not any(log.owned for log in found.logs)
    assert found.named("manifest.csv") == (folder / "manifest.csv",)
    assert found.maps == (folder / "maps" / "one.toml",)
    assert found.left_aside == (folder / ".git" / "c.csv", folder / ".hidden.csv", folder / "notes.docx")


def test_inbox_is_the_default_and_owned(tmp_path: Path) -> None:
    """Without a path the inbox is looked through, and its logs may be moved; so they are when one is named itself."""
    inbox = tmp_path / "data" / "inbox"
    _touch(inbox / "a.csv")

    assert [(log.name, log.owned) for log in discover(inbox, ()).logs] == [("a.csv", True)]
    assert [(log.name, log.owned) for log in discover(inbox, [inbox / "a.csv"]).logs] == [("a.csv", True)]


def test_a_log_named_twice_is_one(tmp_path: Path) -> None:
    """A folder and a log in it bring that log once."""
    _touch(tmp_path / "f" / "a.csv")

    assert len(discover(tmp_path / "data" / "inbox", [tmp_path / "f", tmp_path / "f" / "a.csv"]).logs) == 1


def test_the_workspace_is_not_its_own_input(tmp_path: Path) -> None:
    """Accepted logs, reports and quarantine are not taken for new logs when the workspace's own folder is named."""
    data = tmp_path / "data"
    _touch(data / "inbox" / "a.csv", data / "logs" / "b.parquet", data / "quarantine" / "c.csv", data / "names.csv")

    assert [log.name for log in discover(data / "inbox", [data]).logs] == ["inbox/a.csv"]


def test_links_to_folders_are_not_followed(tmp_path: Path) -> None:
    """A link that leads back up does not make the search endless."""
    _touch(tmp_path / "f" / "a.csv")
    (tmp_path / "f" / "ring").symlink_to(tmp_path / "f")

    assert len(discover(tmp_path / "data" / "inbox", [tmp_path / "f"]).logs) == 1


def test_missing_path_is_named(tmp_path: Path) -> None:
    """A path that is not there is a mistake of the caller."""
    with pytest.raises(SettingsError, match="nowhere"):
        discover(tmp_path, [tmp_path / "nowhere"])


def test_files_still_growing_wait(tmp_path: Path) -> None:
    """A log written to after the given instant is left for the next run."""
    _touch(tmp_path / "old.csv", tmp_path / "new.csv")
    noon = datetime(2026, 11, 25, 12, tzinfo=UTC)
    os.utime(tmp_path / "old.csv", (noon.timestamp() - 60, noon.timestamp() - 60))
    os.utime(tmp_path / "new.csv", (noon.timestamp() + 1, noon.timestamp() + 1))

    assert [log.name for log in discover(tmp_path, [tmp_path]).settled(noon).logs] == ["old.csv"]
    assert len(discover(tmp_path, [tmp_path]).settled(None).logs) == 2


def test_names_that_are_no_text_become_text() -> None:
    """A file name with bytes that are no text can still be stored and printed."""
    assert as_text(os.fsdecode(b"a\xff.csv")) == "a?.csv"


def test_what_is_no_regular_file_is_left_aside(tmp_path: Path) -> None:
    """A link to nothing and a pipe stop nobody; they are listed."""
    _touch(tmp_path / "in" / "good.csv")
    (tmp_path / "in" / "gone.csv").symlink_to(tmp_path / "nowhere.csv")
    os.mkfifo(tmp_path / "in" / "pipe.csv")

    found = discover(tmp_path / "data" / "inbox", [tmp_path / "in"])

    assert [log.name for log in found.logs] == ["good.csv"]
    assert [path.name for path in found.left_aside] == ["gone.csv", "pipe.csv"]


def test_tables_named_one_by_one_are_tables(tmp_path: Path) -> None:
    """What a shell makes of a star is read as the folder would be."""
    _touch(tmp_path / "a.csv", tmp_path / "manifest.csv", tmp_path / "runways.csv")

    found = discover(tmp_path / "inbox", sorted(tmp_path.glob("*.csv")))

    assert [log.name for log in found.logs] == ["a.csv"]
    assert [path.name for path in found.tables] == ["manifest.csv", "runways.csv"]

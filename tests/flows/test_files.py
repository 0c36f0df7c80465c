"""Files: whole or not at all, and names that any disk takes."""

import errno
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flows.files import copy_atomically, move, safe_name, write_atomically


def test_written_whole_with_its_mode(tmp_path: Path) -> None:
    """The content and the mode are there, nothing else is."""
    write_atomically(tmp_path / "key", b"secret", mode=0o600)
    write_atomically(tmp_path / "key", b"newer", mode=0o600)

    assert (tmp_path / "key").read_bytes() == b"newer"
    assert (tmp_path / "key").stat().st_mode & 0o777 == 0o600
    assert [path.name for path in tmp_path.iterdir()] == ["key"]


def test_copy_leaves_the_source(tmp_path: Path) -> None:
    """A copy is the same bytes; the source is only read."""
    (tmp_path / "a").write_bytes(b"12345")
    (tmp_path / "a").chmod(0o400)

    copy_atomically(tmp_path / "a", tmp_path / "b")

    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes() == b"12345"


def test_move_crosses_disks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a rename is refused because the disks differ, the file is copied and then removed."""
    (tmp_path / "a").write_bytes(b"12345")
    rename = Path.replace

    def refused(self: Path, target: Path) -> Path:
        if self.name == "a":
            raise OSError(errno.EXDEV, "Invalid cross-device link")
        return rename(self, target)

    monkeypatch.setattr(Path, "replace", refused)
    move(tmp_path / "a", tmp_path / "b")

    assert not (tmp_path / "a").exists()
    assert (tmp_path / "b").read_bytes() == b"12345"


@given(st.text(max_size=300))
def test_safe_names_stay_in_their_folder(name: str) -> None:
    """Whatever a file is called, its safe name is one plain part of a path that a disk takes."""
    safe = safe_name(name)

    assert Path(safe).name == safe
    assert safe not in {"", ".", ".."}
    assert not safe.startswith((".", "-"))
    assert len(safe.encode()) <= 120
    assert all(letter.isalnum() or letter in "._-" for letter in safe)


def test_safe_name_keeps_the_ending() -> None:
    """The ending tells what a file is, so it stays."""
    assert safe_name("../" + "x" * 200 + " <b>'.csv.gz").endswith(".csv.gz")

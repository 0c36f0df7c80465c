"""What manifests say: a row is a statement once, and the newest statement of a log or landing stands."""

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import polars as pl
import pytest

from flows.ingest import ingest
from flows.manifests import KEPT, News, Statements, source_of
from flows.preparing import Given
from flows.workspace import Workspace
from warehouse.database import reader
from warehouse.marts import read

Fill = Callable[[Path], None]
A, B = "a" * 64, "b" * 64
NAMES = {"a.csv": A, "b.csv": B}


@pytest.fixture
def statements(tmp_path: Path) -> Statements:
    return Statements(tmp_path / "manifest.parquet", tmp_path / "said.parquet")


@pytest.fixture
def say(statements: Statements, at: datetime) -> Callable[..., News]:
    """Let a manifest say rows (log_file, landing_index, pilot, vref_kt)."""

    def said(source: str, *rows: tuple[str, int | None, str | None, float | None]) -> News:
        names = ["log_file", "landing_index", "pilot", "vref_kt"]
        frame = pl.DataFrame(rows, schema=names, orient="row")
        blank = [pl.lit(None, kind).alias(name) for name, kind in KEPT.items() if name not in (*names, "log_sha256")]
        return statements.add(frame.with_columns(blank), NAMES, source=source, at=at)

    return said


def standing(statements: Statements, sha256: str = A) -> list[tuple[Any, ...]]:
    rows = statements.of([sha256]).select("landing_index", "pilot", "vref_kt").rows()
    return sorted(rows, key=lambda row: -1 if row[0] is None else row[0])


def test_an_unchanged_row_says_nothing_new(statements: Statements, say: Callable[..., News]) -> None:
    """A correction from another manifest stands though the older row is read again, and that row is said to be older."""
    say("inbox", ("a.csv", None, "P-2", 120.0))
    changed = say("fix", ("a.csv", None, "P-3", 120.0))
    again = say("inbox", ("a.csv", None, "P-2", 120.0))

    assert changed == News(frozenset({A}), frozenset())
    assert again == News(frozenset(), frozenset({A}))
    assert standing(statements) == [(None, "P-3", 120.0)]


def test_a_changed_row_is_the_newest_statement(statements: Statements, say: Callable[..., News]) -> None:
    """The same file may say something else later, also what it or another said at first."""
    say("inbox", ("a.csv", None, "P-2", 120.0))
    say("fix", ("a.csv", None, "P-3", 120.0))
    say("inbox", ("a.csv", None, "P-4", 120.0))
    assert standing(statements) == [(None, "P-4", 120.0)]

    say("inbox", ("a.csv", None, "P-2", 120.0))
    assert standing(statements) == [(None, "P-2", 120.0)]


def test_one_row_corrects_one_landing(statements: Statements, say: Callable[..., News]) -> None:
    """A row of one landing leaves the log's row and the other landings' rows; a new row of the log takes all."""
    say("inbox", ("a.csv", None, "P-2", 120.0), ("a.csv", 0, "P-2", None), ("a.csv", 1, "P-2", None))
    say("fix", ("a.csv", 1, "P-3", None))
    assert standing(statements) == [(None, "P-2", 120.0), (0, "P-2", None), (1, "P-3", None)]

    say("inbox", ("a.csv", None, "P-2", 120.0), ("a.csv", 0, "P-5", None), ("a.csv", 1, "P-2", None))
    assert standing(statements) == [(None, "P-2", 120.0), (0, "P-5", None), (1, "P-3", None)]

    say("late", ("a.csv", None, "P-6", 125.0))
    assert standing(statements) == [(None, "P-6", 125.0)]


def test_a_row_taken_out_is_withdrawn(statements: Statements, say: Callable[..., News]) -> None:
    """A manifest that still speaks of a log withdraws the row it lacks; one that does not speak of it withdraws none."""
    say("inbox", ("a.csv", None, "P-2", 120.0), ("a.csv", 0, "P-3", None), ("b.csv", None, "P-2", None))
    news = say("inbox", ("a.csv", None, "P-2", 120.0))

    assert news.changed == {A}
    assert standing(statements) == [(None, "P-2", 120.0)]
    assert standing(statements, B) == [(None, "P-2", None)]


def test_what_was_said_is_kept(statements: Statements, say: Callable[..., News], tmp_path: Path, at: datetime) -> None:
    """Rows and what each manifest said last outlive the run, with the instant; logs that are not known are dropped."""
    say("inbox", ("a.csv", None, "P-2", 120.0), ("b.csv", None, "P-2", None))
    statements.save([A])
    later = Statements(tmp_path / "manifest.parquet", tmp_path / "said.parquet")
    rows = pl.DataFrame({"log_file": ["a.csv"], "pilot": ["P-2"], "vref_kt": [120.0]})
    blank = [pl.lit(None, kind).alias(n) for n, kind in KEPT.items() if n not in (*rows.columns, "log_sha256")]
    news = later.add(rows.with_columns(blank), NAMES, source="inbox", at=at + timedelta(days=1))
    later.save([A])

    assert news == News(frozenset(), frozenset())
    assert later.of([A, B]).height == 1
    assert pl.read_parquet(tmp_path / "said.parquet")["said_at"].to_list() == [at]


def test_a_moved_workspace_reads_the_same_manifest(tmp_path: Path) -> None:
    """A manifest of the workspace is known by its place in it, another by its path."""
    one, other = tmp_path / "one", tmp_path / "other"

    assert source_of(one / "inbox" / "m.csv", one) == source_of(other / "inbox" / "m.csv", other)
    assert source_of(tmp_path / "m.csv", one) != source_of(one / "m.csv", one)


def pilots(workspace: Workspace) -> list[str]:
    with reader(workspace.database) as con:
        return read(con, "landing")["pilot"].to_list()


def test_a_correction_is_not_undone_by_the_inbox(
    workspace: Workspace, fill: Fill, at: datetime, tmp_path: Path
) -> None:
    """A pilot corrected by --manifest stays corrected at the next run, which names the log whose row is older."""
    fill(workspace.inbox)
    ingest(workspace, at=at)
    before = pilots(workspace)
    fix = tmp_path / "fix.csv"
    fix.write_text(workspace.manifest_file.read_text().splitlines()[0] + "\nfirst.csv,,Cy Reed,A-1,Gull 2,120\n")
    corrected = ingest(workspace, at=at, given=Given(manifest=fix))
    after = pilots(workspace)
    again = ingest(workspace, at=at)

    assert corrected.remeasured == ["first.csv"]
    assert after[0] not in before
    assert (again.remeasured, again.overruled) == ([], ["first.csv"])
    assert pilots(workspace) == after

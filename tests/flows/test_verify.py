"""The proof that all is there: whatever is taken away or altered is found, named, and mended as it is said."""

import gzip
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import polars as pl
import pytest

from flows.ingest import ingest
from flows.remeasure import Asked, remeasure
from flows.verify import verify
from flows.workspace import Workspace
from warehouse.database import writer

Run = Callable[..., tuple[int, str, str]]
Spoil = Callable[[Workspace], Path]


def _of(workspace: Workspace, original: str) -> Path:
    """The table of the log that came as `original`."""
    (copy,) = workspace.originals.glob(f"*-{original}")
    (table,) = workspace.logs.glob(f"{copy.name[:16]}*.parquet")
    return table


def _gone(path: Path) -> Path:
    path.unlink()
    return path


def _one_value_altered(workspace: Workspace) -> Path:
    table = _of(workspace, "first.csv")
    log = pl.read_parquet(table)
    log.with_columns(
        pl.when(pl.int_range(pl.len()) == 7).then(pl.lit("9")).otherwise("pitch_deg").alias("pitch_deg")
    ).write_parquet(table)
    return table


def _a_byte_altered(path: Path) -> Path:
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 1
    path.write_bytes(content)
    return path


def _copy_altered(workspace: Workspace) -> Path:
    (copy,) = workspace.originals.glob("*-third.csv.gz")
    text = gzip.decompress(copy.read_bytes())
    copy.write_bytes(gzip.compress(text.replace(b"1", b"2", 1)))
    return copy


def _traces_altered(workspace: Workspace) -> Path:
    (path,) = workspace.traces.iterdir()
    pl.read_parquet(path, glob=False).with_columns(pl.col("pitch_deg") + 0.01).write_parquet(path)
    return path


def _parquet_log(workspace: Workspace) -> Path:
    copies = {path.name[:16] for path in workspace.originals.iterdir()}
    (table,) = (p for p in workspace.logs.glob("?" * 64 + ".parquet") if p.stem[:16] not in copies)
    return table


SPOILT: dict[str, tuple[Spoil, str]] = {
    "table gone": (lambda w: _gone(_of(w, "first.csv")), "first.csv is gone"),
    "table altered": (_one_value_altered, "first.csv: is not what was accepted"),
    "Parquet log altered": (lambda w: _a_byte_altered(_parquet_log(w)), "second.parquet: is not what was accepted"),
    "copy altered": (_copy_altered, "third.csv.gz as it came was altered"),
    "traces gone": (lambda w: _gone(next(w.traces.iterdir())), "the traces of 3 landings are gone"),
    "traces altered": (_traces_altered, "was altered since it was written"),
    "map gone": (lambda w: _gone(next(w.kept_maps.iterdir())), "is gone"),
}


@pytest.mark.parametrize("kind", SPOILT)
def test_what_was_spoilt_is_found(ingested: Workspace, kind: str) -> None:
    """One file gone or altered is one fault that names the file, what was found and a way to mend it."""
    assert verify(ingested).faults == []
    spoil, found = SPOILT[kind]
    path = spoil(ingested)
    (fault,) = verify(ingested).faults

    assert fault.what == str(path)
    assert found in fault.found
    assert fault.mend


def test_what_is_proved(ingested: Workspace) -> None:
    """Logs are proved by the hash noted; without it by their copy or as Parquet; without either by their rows alone."""
    done = verify(ingested)
    assert (done.logs, done.by_content, done.by_rows, done.landings, done.traces) == (3, 3, 0, 3, 1)

    ingested.table_hashes_file.unlink()
    done = verify(ingested)
    assert (done.by_content, done.by_rows, done.faults) == (3, 0, [])

    for copy in ingested.originals.iterdir():
        copy.unlink()
    done = verify(ingested)
    assert (done.by_content, done.by_rows, done.faults) == (1, 2, [])


def test_a_table_is_held_against_its_copy(ingested: Workspace) -> None:
    """Where no hash was noted, one value altered in a table is found all the same."""
    ingested.table_hashes_file.unlink()
    table = _one_value_altered(ingested)

    assert [fault.what for fault in verify(ingested).faults] == [str(table)]


def test_mended_as_it_says(ingested: Workspace, at: datetime) -> None:
    """Bringing the copy again puts a lost table back; measuring again puts lost traces back."""
    table = _of(ingested, "first.csv")
    table.unlink()
    next(ingested.traces.iterdir()).unlink()
    lost = {fault.what: fault.mend for fault in verify(ingested).faults}
    command, verb, path = lost[str(table)].split(" ", 2)
    assert (command, verb) == ("roundout", "ingest")
    ingest(ingested, [Path(path)], at=at)
    remeasure(ingested, Asked(again=True), at=at)

    assert verify(ingested).faults == []


def test_the_warehouse_and_the_quarantine(workspace: Workspace, flight: Any, at: datetime) -> None:
    """A refused log that is gone, a table nobody knows, and rows that a check finds are told."""
    flight().canonical().write_csv(workspace.inbox / "a.csv")
    (workspace.inbox / "empty.csv").write_bytes(b"")
    ingest(workspace, at=at)
    for path in workspace.quarantine.iterdir():
        path.unlink()
    (workspace.logs / f"{'0' * 64}.parquet").write_bytes(b"")
    with writer(workspace.database) as con:
        con.execute("update approach set landing_index = 1")
    told = {fault.what.rsplit("/", 1)[-1]: fault.found for fault in verify(workspace).faults}

    assert "the refused log empty.csv is gone" in told.values()
    assert told[f"{'0' * 64}.parquet"] == "the warehouse holds no such log"
    assert told["check landing_index_gap"] == "1 rows it should not find"


def test_command(ingested: Workspace, run: Run) -> None:
    """Whole is exit status 0; anything wrong is 3, with the file and how to mend it; nothing held is 2."""
    status, out, _ = run("verify")
    assert status == 0
    assert "All of it is there and whole." in out

    table = _gone(_of(ingested, "first.csv"))
    status, out, _ = run("verify")
    assert status == 3
    assert f"{table}: the accepted log first.csv is gone; to mend it: roundout ingest {ingested.originals}" in out
    ingested.database.unlink()
    assert run("verify")[0] == 2

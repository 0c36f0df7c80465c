"""Kill -9 at any moment of an ingest: nothing acknowledged is lost, nothing stays half done, the next run finishes."""

import hashlib
import multiprocessing
import os
import signal
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import polars as pl
import pytest
from polars.testing import assert_frame_equal

from flows.ingest import ingest
from flows.workspace import Workspace
from warehouse.checks import failed, run_checks
from warehouse.database import reader
from warehouse.marts import read

TOUCHING = {"os.rename", "os.remove", "os.rmdir", "os.mkdir", "shutil.rmtree", "shutil.copyfile"}
EVERY = 6
"""A kill before every sixth of the some eighty calls of a run that touch the disk."""


def _run_until(root: Path, at: datetime, last: int, told: Any) -> None:
    """Ingest in this process, which kills itself at the `last`-th call that changes a file or opens one to write."""
    done = 0

    def watch(event: str, details: tuple[Any, ...]) -> None:
        nonlocal done
        writing = event == "open" and isinstance(details[2], int) and details[2] & (os.O_WRONLY | os.O_RDWR)
        if writing or event in TOUCHING:
            if done == last:
                os.kill(os.getpid(), signal.SIGKILL)
            done += 1

    sys.addaudithook(watch)
    ingest(Workspace(root), at=at)
    told.send(done)


def _killed(root: Path, at: datetime, last: int) -> int | None:
    """Run until the `last`-th call; return how many calls a run makes that was not killed."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(["flows.ingest"])
    here, there = context.Pipe(duplex=False)
    child = context.Process(target=_run_until, args=(root, at, last, there))
    child.start()
    there.close()
    child.join(120)
    try:
        return int(here.recv()) if child.exitcode == 0 else None
    except EOFError:
        return None
    finally:
        here.close()


def _contents(root: Path) -> set[str]:
    return {hashlib.sha256(path.read_bytes()).hexdigest() for path in root.rglob("*") if path.is_file()}


def _state(workspace: Workspace) -> tuple[pl.DataFrame, list[str], list[str], list[str]]:
    """What a finished run leaves: rows, and the names of files in the folders that logs go through."""
    with reader(workspace.database) as con:
        assert failed(run_checks(con)) == {}
        rows = read(con, "approaches")
    folders = (workspace.logs, workspace.quarantine, workspace.inbox)
    return rows, *(sorted(path.relative_to(f).as_posix() for path in f.rglob("*")) for f in folders)  # type: ignore[return-value]


@pytest.mark.slow
def test_kill_sweep(
    tmp_path: Path, fill: Callable[[Path], None], make_workspace: Callable[[Path], Workspace], at: datetime
) -> None:
    """Wherever the run is killed, every log is still there, what the warehouse says is whole, and a rerun ends it."""

    def fresh(name: str) -> Workspace:
        workspace = make_workspace(tmp_path / name)
        fill(workspace.inbox)
        (workspace.inbox / "empty.csv").write_bytes(b"")
        (workspace.root / "pseudonyms.key").write_text("ab" * 32)
        return workspace

    whole = fresh("whole")
    brought = {
        hashlib.sha256(path.read_bytes()).hexdigest()
        for path in whole.inbox.iterdir()
        if path.is_file() and path.name != "manifest.csv"
    }
    calls = _killed(whole.root, at, 10**9)
    assert calls is not None
    expected = _state(whole)
    killed = 0
    for last in range(0, calls, EVERY):
        workspace = fresh(f"at {last}")
        killed += _killed(workspace.root, at, last) is None
        assert brought <= _contents(workspace.root), last
        if workspace.database.exists():
            _held_is_whole(workspace)
        ingest(workspace, at=at)
        rows, *folders = _state(workspace)
        assert_frame_equal(rows, expected[0], abs_tol=1e-3)
        assert folders == list(expected[1:]), last
    assert killed == len(range(0, calls, EVERY))


def _held_is_whole(workspace: Workspace) -> None:
    """Every log the warehouse speaks of has its table and, but for the Parquet one, its original or its inbox file."""
    with reader(workspace.database) as con:
        logs = read(con, "logs")
        landings = read(con, "landing")
    assert landings.height in {0, logs.height}
    originals = {path.name.split("-", 1)[1] for path in workspace.originals.iterdir()}
    for row in logs.rows(named=True):
        assert (workspace.logs / f"{row['log_sha256']}.parquet").is_file()
        waiting = (workspace.inbox / row["log_file"]).exists()
        assert waiting or row["log_file"] in originals or row["log_file"].endswith(".parquet")

"""Killing the process at any moment: what was acknowledged is all there, nothing is half done."""

import shutil
import signal
import subprocess
import sys
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest

from warehouse import database, marts, migrate
from warehouse.checks import failed, run_checks
from warehouse.load import load_batch

ROOT = Path(__file__).parents[2]
TABLES = ("log", "approach", "measurement", "contact", "gate", "fault", "trace_file")
FRAMES = ("logs", "landings", "contacts", "gates", "expected", "faults", "traces", "channel_quality")

COMMON = """
import os, signal, sys
from datetime import UTC, datetime
from pathlib import Path
import polars as pl
from warehouse import database
from warehouse.batch import Batch
from warehouse.load import load_batch

class Killed:
    # a connection that kills this process before its n-th statement, begin or commit
    def __init__(self, con, n):
        self.con, self.n = con, n
    def __getattr__(self, name):
        held = getattr(self.con, name)
        if name in ("execute", "begin", "commit"):
            self.n -= 1
            if self.n == 0:
                os.kill(os.getpid(), signal.SIGKILL)
        return held

def batch(name):
    frames = ("logs", "landings", "contacts", "gates", "expected", "faults", "traces", "channel_quality")
    return Batch(*(pl.read_parquet(f"{name}-{frame}.parquet") for frame in frames))

at = datetime(2026, 11, 25, tzinfo=UTC)
path = Path("x.duckdb")
"""

LOAD = f"""{COMMON}
with database.writer(path) as con:
    load_batch(Killed(con, int(sys.argv[1])), batch("new"), at=at)
    print("new", flush=True)
    if sys.argv[2:] == ["end"]:
        os.kill(os.getpid(), signal.SIGKILL)
"""

MAKE = f"""{COMMON}
connect = database._connect
database._connect = lambda *given, **named: Killed(connect(*given, **named), int(sys.argv[1]))
with database.writer(path):
    print("made", flush=True)
"""

MANY = f"""{COMMON}
given = batch("new")
for number in range(1000):
    logs = [frame.with_columns(pl.col("log_sha256") + f"-{{number}}") for frame in (given.logs, given.landings, given.channel_quality)]
    rows = (logs[1], given.contacts, given.gates, given.expected, given.faults, given.traces)
    ids = [frame.with_columns(pl.col("landing_id") + f"-{{number}}") for frame in rows]
    with database.writer(path) as con:
        load_batch(con, Batch(logs[0], *ids, logs[2]), at=at)
    print(number + 1, flush=True)
"""


@pytest.fixture(scope="module")
def template(tmp_path_factory, landing, batch):
    """A folder with a warehouse that holds a batch, and with a new one that corrects a landing of it and adds a log."""
    place = tmp_path_factory.mktemp("template")
    below = {"vertical_speed_at_contact_fpm": -150.0}
    with database.writer(place / "x.duckdb") as con:
        old = batch([landing("a", 0, below), landing("b", 0, below)])
        load_batch(con, old, at=datetime(2026, 11, 24, tzinfo=UTC))
    new = batch([landing("b", 0, below | {"pilot": "P-BBBB2", "peak_g": 1.9}), landing("c", 0, below)])
    for frame in FRAMES:
        getattr(new, frame).write_parquet(place / f"new-{frame}.parquet")
    return place


@pytest.fixture
def folder(template, tmp_path):
    """A copy of that folder."""
    return shutil.copytree(template, tmp_path / "copy")


def _run(script, folder, *arguments):
    return subprocess.run(
        [sys.executable, "-c", script, *arguments],
        cwd=folder,
        env={"PYTHONPATH": str(ROOT)},
        capture_output=True,
        check=False,
        text=True,
        timeout=60,
    )


def _seen(con):
    landings = marts.read(con, "landing").select("log_file", "pilot", "peak_g").rows()
    superseded = con.execute("select count(*) from measurement where superseded_at is not null").fetchall()[0][0]
    return landings, superseded, failed(run_checks(con))


OLD = ([("a.csv", "P-AAAA1", 1.5), ("b.csv", "P-AAAA1", 1.5)], 0, {})
NEW = ([("a.csv", "P-AAAA1", 1.5), ("b.csv", "P-BBBB2", 1.9), ("c.csv", "P-AAAA1", 1.5)], 1, {})
STATEMENTS = 15
"""Statements of a load, begin and commit counted; the load that is not killed proves that there are no more."""


@pytest.mark.parametrize("n", range(1, STATEMENTS + 1))
def test_a_load_killed_before_any_statement_left_nothing(folder, n):
    """Killed before any of its statements, its commit too, a load is not there and the one before it is whole."""
    child = _run(LOAD, folder, str(n))

    assert (child.returncode, child.stdout) == (-signal.SIGKILL, ""), child.stderr
    for opener in (database.reader, database.writer):
        with opener(folder / "x.duckdb") as con:
            assert _seen(con) == OLD


def test_a_load_killed_after_its_commit_is_there(folder):
    """Once a load is acknowledged it is there, though the process is killed before it closes the warehouse."""
    child = _run(LOAD, folder, str(STATEMENTS + 1), "end")

    assert (child.returncode, child.stdout) == (-signal.SIGKILL, "new\n"), child.stderr
    for opener in (database.reader, database.writer):
        with opener(folder / "x.duckdb") as con:
            assert _seen(con) == NEW


@pytest.mark.parametrize("n", [1, 2, 6, 7, 8, 30, 53])
def test_a_warehouse_killed_while_it_is_made_can_be_made_again(folder, n):
    """Killed at a statement of its making, there is no warehouse or a whole one, and the next run goes on."""
    (folder / "x.duckdb").unlink()

    child = _run(MAKE, folder, str(n))

    assert (child.returncode, child.stdout) == (-signal.SIGKILL, ""), child.stderr
    assert not (folder / "x.duckdb").exists()
    with database.writer(folder / "x.duckdb") as con:
        assert marts.read(con, "status")["schema_version"].to_list() == [len(migrate.steps())]


@pytest.mark.parametrize(("loads", "delay_s"), [(1, 0.0), (2, 0.011), (4, 0.023), (3, 0.037), (5, 0.05)])
def test_killed_at_any_time_nothing_acknowledged_is_lost(folder, held, loads, delay_s):
    """Killed from outside some time after a load was acknowledged, that load and only whole ones are there."""
    (folder / "x.duckdb").unlink()
    child = subprocess.Popen(
        [sys.executable, "-c", MANY], cwd=folder, env={"PYTHONPATH": str(ROOT)}, stdout=subprocess.PIPE, text=True
    )
    for _ in range(loads):
        child.stdout.readline()
    time.sleep(delay_s)
    child.kill()
    further = child.stdout.read().split()
    child.wait()
    child.stdout.close()
    acknowledged = int(further[-1]) if further else loads

    with database.writer(folder / "x.duckdb") as con:
        assert failed(run_checks(con)) == {}
        rows = {table: len(held(con)[table]) for table in TABLES}
    assert rows in (dict.fromkeys(TABLES, 2 * acknowledged), dict.fromkeys(TABLES, 2 * (acknowledged + 1)))

"""Opening: one writer, many readers, and every trouble a sentence."""

import subprocess
import sys
from pathlib import Path

import duckdb
import pytest

from pipeline.errors import SettingsError, StoreError
from warehouse import database, marts

ROOT = Path(__file__).parents[2]

HOLD = """
import sys
from pathlib import Path
from warehouse import database
with getattr(database, sys.argv[2])(Path(sys.argv[1])):
    print("open", flush=True)
    sys.stdin.read()
"""


@pytest.fixture
def path(tmp_path):
    return tmp_path / "a place with 'quotes' & ünïcode.duckdb"


@pytest.fixture
def holder(path):
    """Return what starts a process that holds the database, as a writer or a reader, until it is ended."""
    started = []

    def hold(how):
        child = subprocess.Popen(
            [sys.executable, "-c", HOLD, str(path), how],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            cwd=ROOT,
            text=True,
        )
        started.append(child)
        assert child.stdout.readline() == "open\n"
        return child

    yield hold
    for child in started:
        child.stdin.close()
        child.wait(timeout=20)
        child.stdout.close()


def _logs(con):
    return marts.read(con, "status").select("logs").rows()


def test_a_written_database_can_be_read(path):
    """What a writer leaves, a reader opens, and nothing stays locked."""
    with database.writer(path) as con:
        assert _logs(con) == [(0,)]

    with database.reader(path) as con:
        assert _logs(con) == [(0,)]
        with pytest.raises(duckdb.InvalidInputException, match="read-only"):
            con.execute("delete from log")


def test_a_missing_database_is_said(path):
    """Reading where nothing was ingested is a sentence with the way out, and makes no file."""
    with pytest.raises(SettingsError, match="ingest some logs first"), database.reader(path):
        pass

    assert not path.exists()


def test_a_second_writer_is_told_who_holds_it(path, holder):
    """While one process writes, another gives up after its wait and names the process that holds the warehouse."""
    child = holder("writer")

    for opener in (database.writer, database.reader):
        said = pytest.raises(StoreError, match=rf"process {child.pid}\) holds the warehouse")
        with said, opener(path, wait_s=0.2):
            pass


def test_a_writer_waits_for_the_other(path, holder):
    """A writer that comes while another is at work gets its turn when that one ends."""
    child = holder("writer")
    child.stdin.close()

    with database.writer(path, wait_s=20) as con:
        assert _logs(con) == [(0,)]


def test_readers_share_and_keep_a_writer_out(path, holder):
    """Two processes read at once; a writer meanwhile is refused with a sentence."""
    with database.writer(path):
        pass
    holder("reader")

    with database.reader(path) as con:
        assert _logs(con) == [(0,)]
    with pytest.raises(StoreError, match="holds the warehouse"), database.writer(path, wait_s=0.2):
        pass


def test_a_writer_that_was_killed_holds_nothing(path, holder):
    """The lock of a killed process is free at once."""
    child = holder("writer")
    child.kill()
    child.wait()

    with database.writer(path, wait_s=0.5) as con:
        assert _logs(con) == [(0,)]


def test_a_file_that_is_no_database_is_said(path):
    """A file of another kind is refused with a sentence and stays as it is."""
    path.write_text("landing,notes\n" * 2000)
    before = path.read_bytes()

    for opener in (database.writer, database.reader):
        with pytest.raises(StoreError, match="is not a database this version can read"), opener(path):
            pass

    assert before == path.read_bytes()


def test_a_database_of_somebody_else_is_said(path):
    """A database with other tables is refused and gets none of ours."""
    with duckdb.connect(str(path)) as other:
        other.execute("create table recipe (name varchar)")

    with pytest.raises(StoreError, match="not one of ours"), database.writer(path):
        pass
    with duckdb.connect(str(path)) as other:
        assert other.execute("select table_name from duckdb_tables()").fetchall() == [("recipe",)]


def test_errors_that_are_not_the_databases_pass_through(path):
    """A mistake in the caller's own block is not dressed up as trouble of the disk."""
    with pytest.raises(FileNotFoundError), database.writer(path):
        raise FileNotFoundError
    with pytest.raises(duckdb.CatalogException), database.writer(path) as con:
        con.execute("select * from nowhere")


def test_nothing_outside_the_database_can_be_reached(tmp_path, path):
    """No SQL text can read or write another file."""
    (tmp_path / "other.csv").write_text("a\n1\n")

    with database.writer(path) as con, pytest.raises(duckdb.PermissionException):
        con.execute(f"from read_csv('{tmp_path / 'other.csv'}')")


FILL = """
import resource, sys
from pathlib import Path
from warehouse import database
from pipeline.errors import StoreError
from warehouse.statements import transaction
path, limit = Path(sys.argv[1]), int(sys.argv[2])
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
done = 0
try:
    with database.writer(path) as con:
        while done < 400:
            with transaction(con):
                con.execute("insert into refusal select 's' || i, 'f', repeat(md5(i::varchar), 40), now() "
                            "from range($from, $from + 200) t(i)", {"from": 200 * done})
            done += 1
            print(done, flush=True)
except StoreError as error:
    print(error)
    sys.exit(error.exit_status)
"""


@pytest.mark.parametrize("limit", [1, 300_000, 1_000_000, 3_000_000, 9_000_000])
def test_a_full_disk_loses_nothing(path, limit):
    """A disk that takes no more ends in a sentence and exit status 4; what was acknowledged is there, whole."""
    if limit > 1:
        with database.writer(path):
            pass

    child = subprocess.run(
        [sys.executable, "-c", FILL, str(path), str(limit)],
        capture_output=True,
        check=False,
        text=True,
        cwd=ROOT,
        timeout=120,
    )

    *acknowledged, last = child.stdout.splitlines()
    assert (child.returncode, child.stderr) == (4, "")
    assert "disk full; nothing was lost; free space and run again" in last
    with database.writer(path) as con:
        held = con.execute("select count(*) from refusal").fetchone()[0]
    assert len(acknowledged) * 200 == held

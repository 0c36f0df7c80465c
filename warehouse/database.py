"""A path in, an open connection out: one writer at a time, any number of readers, errors a person can act on."""

import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import duckdb
from duckdb import DuckDBPyConnection

from pipeline.errors import SettingsError, StoreError
from warehouse import migrate
from warehouse.lock import alone, held_by
from warehouse.trouble import database_trouble, file_trouble, is_held

WAIT_S = 2.0
"""How long a run waits for another to close the database before it gives up."""
_POLL_S = 0.05
_CONFIG: dict[str, str | bool | int | float | list[str]] = {
    "autoinstall_known_extensions": False,
    "autoload_known_extensions": False,
    "enable_external_access": False,
    "memory_limit": "512MB",
}
"""Nothing is fetched from the network, and no SQL text reaches another file."""


@contextmanager
def writer(path: Path, *, wait_s: float = WAIT_S) -> Iterator[DuckDBPyConnection]:
    """Open the database at `path` for writing, alone; it is made or brought up to date first, and closed after.

    Parameters
    ----------
    path : the database; its folder must be there. `<path>.lock` beside it holds the writer's process number.
    wait_s : how long to wait for another writer or reader, s.

    Raises
    ------
    StoreError
        Another run holds the database, the disk refused, or the file is not a database of this version.
    """
    with database_trouble(path), alone(path, wait_s=wait_s):
        if not path.exists():
            _make(path)
        with _opened(path, read_only=False, wait_s=wait_s) as con:
            migrate.migrate(con, name=str(path))
            yield con


@contextmanager
def reader(path: Path, *, wait_s: float = WAIT_S) -> Iterator[DuckDBPyConnection]:
    """Open the database at `path` for reading; several readers may have it open at once.

    Raises
    ------
    SettingsError
        There is no database at `path`.
    StoreError
        A writer holds it, or it was made by another version.
    """
    if not path.is_file():
        message = f"{path}: there is no warehouse here yet; ingest some logs first, or name another workspace"
        raise SettingsError(message)
    with database_trouble(path), _opened(path, read_only=True, wait_s=wait_s) as con:
        migrate.require_current(con, name=str(path))
        yield con


@contextmanager
def in_memory() -> Iterator[DuckDBPyConnection]:
    """Open an empty database that holds nothing after the block."""
    con = _connect(":memory:", read_only=False)
    try:
        migrate.migrate(con, name="memory")
        yield con
    finally:
        con.close()


def _connect(path: str, *, read_only: bool) -> DuckDBPyConnection:
    con = duckdb.connect(path, read_only=read_only, config=_CONFIG)
    con.execute("set timezone = 'UTC'")
    return con


def _make(path: Path) -> None:
    """Make an empty warehouse beside `path` and move it there, so that no half-made one is ever found."""
    partial = path.with_name(path.name + ".partial")
    with file_trouble(path):
        for old in (partial, partial.with_name(partial.name + ".wal")):
            old.unlink(missing_ok=True)
        with closing(_connect(str(partial), read_only=False)) as con:
            migrate.migrate(con, name=str(path))
            con.execute("checkpoint")
        partial.replace(path)


@contextmanager
def _opened(path: Path, *, read_only: bool, wait_s: float) -> Iterator[DuckDBPyConnection]:
    con = _patiently(path, read_only=read_only, wait_s=wait_s)
    try:
        yield con
    finally:
        con.close()


def _patiently(path: Path, *, read_only: bool, wait_s: float) -> DuckDBPyConnection:
    """Open as soon as nobody else has the database open otherwise."""
    give_up = time.monotonic() + wait_s
    while True:
        try:
            return _connect(str(path), read_only=read_only)
        except (duckdb.IOException, duckdb.ConnectionException) as error:
            if not is_held(error):
                raise
            if time.monotonic() >= give_up:
                raise StoreError(held_by(path)) from error
        time.sleep(_POLL_S)

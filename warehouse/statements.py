"""A connection in; out: whole transactions, frames that SQL can see, results that never stay open."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from typing import Any

import duckdb
import polars as pl
from duckdb import DuckDBPyConnection


@contextmanager
def transaction(con: DuckDBPyConnection) -> Iterator[None]:
    """Do everything in the block or nothing of it."""
    con.begin()
    try:
        yield
        con.commit()
    except BaseException:
        with suppress(duckdb.Error):  # a commit that failed has rolled back already
            con.rollback()
        raise


@contextmanager
def registered(con: DuckDBPyConnection, rows: Mapping[str, pl.DataFrame]) -> Iterator[None]:
    """Let SQL see each frame as incoming_<name> inside the block; a transaction goes inside it, not round it."""
    for name, frame in rows.items():
        con.register(f"incoming_{name}", frame)
    try:
        yield
    finally:
        for name in rows:
            con.unregister(f"incoming_{name}")


def fetch(
    con: DuckDBPyConnection, sql: str, parameters: Sequence[Any] | Mapping[str, Any] | None = None
) -> list[tuple[Any, ...]]:
    """Return all rows of a statement, so that no result stays open."""
    return con.execute(sql, parameters).fetchall()

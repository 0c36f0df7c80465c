"""The name of a table in, a file out: CSV, Parquet or Arrow by the file's ending, whole or not at all."""

import os
from collections.abc import Callable
from pathlib import Path

import polars as pl
import pyarrow.parquet
from duckdb import DuckDBPyConnection

from pipeline.errors import SettingsError
from warehouse import marts
from warehouse.catalogue import EXPORTS, MARTS
from warehouse.statements import fetch
from warehouse.trouble import file_trouble

_FORMULA = r"^[=+\-@\t\r\n\x{FF1D}\x{FF0B}\x{FF0D}\x{FF20}]"
"""Beginnings that a spreadsheet may take for a formula; the last four are the full-width forms of = + - @."""
_INSTANT = "%Y-%m-%dT%H:%M:%S%.6fZ"


def export(con: DuckDBPyConnection, table: str, out: Path) -> int:
    """Write the rows of `table` to `out`; return how many. An older file there is replaced only by a whole new one.

    In CSV, instants are UTC in ISO form, lists are joined by "; ", and a text that a spreadsheet could run as a formula
    has an apostrophe before it. Parquet and Arrow hold every value as it is.

    Raises
    ------
    SettingsError
        There is no such table, file ending or folder.
    StoreError
        The disk refused.
    """
    if table not in EXPORTS:
        message = f"{table}: no such table; there are {', '.join(sorted(EXPORTS))}"
        raise SettingsError(message)
    write = _WRITERS.get(out.suffix.lower())
    if write is None:
        message = f"{out}: the ending says the format; use one of {', '.join(_WRITERS)}"
        raise SettingsError(message)
    if not out.parent.is_dir():
        message = f"{out}: there is no folder {out.parent}; make it first"
        raise SettingsError(message)
    frame = _rows(con, EXPORTS[table])
    with file_trouble(out):
        _write_whole(frame, out, write)
    return frame.height


def _rows(con: DuckDBPyConnection, mart: str) -> pl.DataFrame:
    if not MARTS[mart].dated:
        return marts.read(con, mart)
    ((last,),) = fetch(con, "select max(as_of) from result_set")
    return marts.read(con, mart, where={"as_of": last})


def _write_whole(frame: pl.DataFrame, out: Path, write: Callable[[pl.DataFrame, Path], None]) -> None:
    partial = out.with_name(out.name + ".partial")
    try:
        write(frame, partial)
        with partial.open("rb+") as file:
            os.fsync(file.fileno())
        partial.replace(out)
    finally:
        partial.unlink(missing_ok=True)


def _write_csv(frame: pl.DataFrame, path: Path) -> None:
    lists = [name for name, dtype in frame.schema.items() if isinstance(dtype, pl.List)]
    flat = frame.with_columns(pl.col(lists).list.join("; "))
    texts = [name for name, dtype in flat.schema.items() if dtype == pl.String]
    harmless = [
        pl.when(pl.col(name).str.contains(_FORMULA)).then("'" + pl.col(name)).otherwise(pl.col(name)).alias(name)
        for name in texts
    ]
    flat.with_columns(harmless).write_csv(path, datetime_format=_INSTANT)


def _write_parquet(frame: pl.DataFrame, path: Path) -> None:
    pyarrow.parquet.write_table(frame.to_arrow(compat_level=pl.CompatLevel.oldest()), path, compression="zstd")


def _write_arrow(frame: pl.DataFrame, path: Path) -> None:
    frame.write_ipc(path, compat_level=pl.CompatLevel.oldest())


_WRITERS: dict[str, Callable[[pl.DataFrame, Path], None]] = {
    ".csv": _write_csv,
    ".parquet": _write_parquet,
    ".arrow": _write_arrow,
}

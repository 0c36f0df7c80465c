"""Accepted logs' tables in; out: the hash each had when it was accepted, kept beside them so that it can be proved."""

import hashlib
from collections.abc import Iterable
from pathlib import Path

import polars as pl

from flows.files import write_table_atomically
from flows.workspace import Workspace

HASHES: dict[str, type[pl.DataType]] = {"log_sha256": pl.String, "table_sha256": pl.String}


def hashes_kept(workspace: Workspace) -> dict[str, str]:
    """Return the hash of each table by its log's; a log that came before they were noted has none."""
    return dict(_kept(workspace).iter_rows())


def keep_hashes(workspace: Workspace, log_sha256s: Iterable[str]) -> None:
    """Note the hashes of the tables of logs that were just accepted."""
    tables = {sha256: workspace.logs / f"{sha256}.parquet" for sha256 in log_sha256s}
    rows = [(sha256, file_sha256(table)) for sha256, table in tables.items() if table.is_file()]
    new = pl.DataFrame(rows, schema=HASHES, orient="row")
    old = _kept(workspace)
    if new.join(old, on=list(HASHES), how="anti").height:
        others = old.join(new, on="log_sha256", how="anti", maintain_order="left")
        write_table_atomically(pl.concat([others, new]), workspace.table_hashes_file)


def file_sha256(path: Path) -> str:
    """Return the hash of a file's bytes."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _kept(workspace: Workspace) -> pl.DataFrame:
    file = workspace.table_hashes_file
    return pl.read_parquet(file, glob=False) if file.is_file() else pl.DataFrame(schema=HASHES)

"""Runway tables in; out: the one a run measures with, kept in the workspace for the runs and pages after it."""

from collections.abc import Sequence
from pathlib import Path

import polars as pl

from flows.discovery import Found
from flows.files import write_atomically, write_table_atomically
from flows.workspace import Workspace
from pipeline.reading.runways import RUNWAY, read_runways
from pipeline.reading.worldwide_runways import WorldwideRunways, read_worldwide_runways
from pipeline.runway_tables import one_table


def runway_table(workspace: Workspace, given: Path | None, found: Found) -> pl.DataFrame:
    """Return the runways of a run: those of the table given, or found beside the logs, and the workspace's others.

    Raises
    ------
    ManifestError
        A table that cannot be used.
    """
    brought = (given,) if given is not None else found.named("runways.csv")
    tables = [read_runways(file) for file in dict.fromkeys(file.absolute() for file in brought)]
    own = pl.concat([*tables, _own_runways(workspace)]).unique("runway", keep="first", maintain_order=True)
    return one_table(own, _imported_runways(workspace))


def kept_runways(workspace: Workspace) -> pl.DataFrame:
    """Return the runways the workspace has, its own before imported ones; an empty frame where it has none."""
    return one_table(_own_runways(workspace), _imported_runways(workspace))


def keep_runways(workspace: Workspace, runways: pl.DataFrame) -> None:
    """Keep the runways of a run that are not imported; a table that has them already stays as it was written."""
    imported = _imported_runways(workspace)
    own = runways.join(imported, on=list(RUNWAY), how="anti", nulls_equal=True, maintain_order="left")
    if not own.sort("runway").equals(_own_runways(workspace).sort("runway")):
        write_atomically(workspace.runways_file, own.write_csv().encode())


def import_runways(workspace: Workspace, table: Path, *, only: Sequence[str] = ()) -> WorldwideRunways:
    """Take runways from the worldwide table into the workspace; they stand in place of those imported before.

    With `only`, runways of other airports that were imported before stay.

    Raises
    ------
    ManifestError
        The table cannot be used, or lacks an airport of `only`.
    StoreError
        Another run holds the workspace.
    """
    taken = read_worldwide_runways(table, only=only)
    with workspace.held():
        before = _imported_runways(workspace) if only else taken.runways.clear()
        airport = pl.col("runway").str.split(" ").list.first()
        others = before.filter(~airport.is_in([name.strip().upper() for name in only]))
        write_table_atomically(pl.concat([others, taken.runways]).sort("runway"), workspace.imported_runways_file)
    return taken


def _own_runways(workspace: Workspace) -> pl.DataFrame:
    file = workspace.runways_file
    return read_runways(file) if file.is_file() else pl.DataFrame(schema=RUNWAY)


def _imported_runways(workspace: Workspace) -> pl.DataFrame:
    file = workspace.imported_runways_file
    return pl.read_parquet(file, glob=False) if file.is_file() else pl.DataFrame(schema=RUNWAY)

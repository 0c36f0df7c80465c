"""`roundout export`: a table of the warehouse to a file."""

from pathlib import Path

from flows.commands.terminal import WorkspaceOption, say
from flows.workspace import Workspace
from warehouse import export as warehouse_export
from warehouse.database import reader


def export(table: str, /, *, out: Path, workspace: WorkspaceOption = None) -> int:
    """Write a table to a file: CSV, Parquet or Arrow, by the file's ending. Units are in the column names.

    Parameters
    ----------
    table
        landings, approaches, contacts, pilots, drift, flags, styles, refusals ...; another name lists them all.
    out
        The file, ending in .csv, .parquet or .arrow.
    """
    place = Workspace.at(workspace)
    with reader(place.database) as con:
        rows = warehouse_export.export(con, table, out)
    say(f"{out}: {rows} rows of {table}.")
    return 0

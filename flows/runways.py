"""Runway tables in; out: the one a run measures with, kept in the workspace for the runs and pages after it."""

from pathlib import Path

import polars as pl

from flows.discovery import Found
from flows.files import write_atomically
from flows.workspace import Workspace
from pipeline.reading.runways import RUNWAY, read_runways


def runway_table(workspace: Workspace, given: Path | None, found: Found) -> pl.DataFrame:
    """Return the runways of a run: those of the table given, or found beside the logs, and the workspace's others.

    Raises
    ------
    ManifestError
        A table that cannot be used.
    """
    brought = (given,) if given is not None else found.named("runways.csv")
    tables = [read_runways(file) for file in dict.fromkeys(file.absolute() for file in brought)]
    return pl.concat([*tables, kept_runways(workspace)]).unique("runway", keep="first", maintain_order=True)


def kept_runways(workspace: Workspace) -> pl.DataFrame:
    """Return the runways the workspace has; an empty frame where it has no table of them."""
    file = workspace.runways_file
    return read_runways(file) if file.is_file() else pl.DataFrame(schema=RUNWAY)


def keep_runways(workspace: Workspace, runways: pl.DataFrame) -> None:
    """Keep the runways of a run; a table that has them all already stays as it was written."""
    if not runways.sort("runway").equals(kept_runways(workspace).sort("runway")):
        write_atomically(workspace.runways_file, runways.write_csv().encode())

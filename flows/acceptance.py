"""A staged batch in; out: its logs, traces and rows in the workspace, and the inbox's files moved on.

The order makes a kill harmless: what a row speaks of is on the disk before the row, and a log leaves the inbox only
after its row is there. A run after a kill does the same again, and what is there already stays.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import polars as pl

from flows.batches import Staged
from flows.discovery import stamp
from flows.files import copy_atomically, move, safe_name, sync_folder, write_table_atomically
from flows.intake import Tabled
from flows.maps import Maps
from flows.quarantine import release
from flows.table_hashes import keep_hashes
from flows.workspace import Workspace
from warehouse.batch import Batch
from warehouse.database import writer
from warehouse.frames import TRACE_FILE
from warehouse.keys import frame_sha256
from warehouse.load import Loaded, load_batch

PARQUET = b"PAR1"
"""How a Parquet file begins."""


@dataclass(frozen=True)
class Accepting:
    """What accepting needs beside the batch: the workspace, the run's maps, and whether originals are kept."""

    workspace: Workspace
    maps: Maps
    keep_originals: bool


def accept(batch: Staged, given: Accepting, *, at: datetime) -> Loaded:
    """Load `batch`, and move its inbox files on."""
    workspace = given.workspace
    fresh = [log.log_sha256 for log in batch.read if _keep(log, given)]
    for folder in (workspace.logs, workspace.originals):
        sync_folder(folder)
    keep_hashes(workspace, fresh)
    traces = _keep_traces(workspace, batch.frame("traces"))
    names = ("logs", "landings", "contacts", "gates", "expected", "faults", "channel_quality")
    frames = Batch(**{name: batch.frame(name) for name in names}, traces=traces)
    with writer(workspace.database) as con:
        loaded = load_batch(con, frames, at=at)
    move_on(batch.read, given)
    return loaded


def move_on(logs: Iterable[Tabled], given: Accepting) -> None:
    """Take loaded logs out of the inbox: into the originals, or away where the accepted log is all there is to keep.

    A file that was written to since it was found stays: it is another log now, for the next run.
    """
    for log in logs:
        release(given.workspace, log.log_sha256)
        path = log.log.path
        if not log.log.owned or not path.exists() or stamp(path) != log.log.stamp:
            continue
        if _has_original(path, given):
            move(path, original(given.workspace, log))
        else:
            path.unlink()
    sync_folder(given.workspace.originals)


def original(workspace: Workspace, log: Tabled) -> Path:
    """Return where an accepted log is kept as it came."""
    return workspace.originals / f"{log.log_sha256[:16]}-{safe_name(log.original_name)}"


def _keep(log: Tabled, given: Accepting) -> bool:
    """Put the raw table, the map and, for a log that stays where it is, a copy of the original into the workspace.

    False where the table is that of a held log, which is there already.
    """
    kept = given.workspace.logs / f"{log.log_sha256}.parquet"
    given.maps.keep(log.channel_map.sha256)
    if log.table.path == kept:
        return False
    move(log.table.path, kept)
    target = original(given.workspace, log)
    if not log.log.owned and _has_original(log.log.path, given) and not target.exists():
        copy_atomically(log.log.path, target)
    return True


def _has_original(path: Path, given: Accepting) -> bool:
    """Whether the log as it came is kept too; a plain Parquet log is the accepted log itself."""
    if not given.keep_originals:
        return False
    with path.open("rb") as file:
        return file.read(len(PARQUET)) != PARQUET


def _keep_traces(workspace: Workspace, traces: pl.DataFrame) -> pl.DataFrame:
    """Write the traces to a file named by their content; return which landing is in which file."""
    if traces.is_empty():
        return pl.DataFrame(schema=TRACE_FILE)
    target: Path = workspace.traces / f"{frame_sha256([traces])[:16]}.parquet"
    if not target.exists():
        write_table_atomically(traces, target)
    return traces.select("landing_id").unique(maintain_order=True).with_columns(pl.lit(target.name).alias("trace_file"))

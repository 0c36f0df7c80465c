"""The name of a held landing in; the page of its traces, with the numbers as they are held, written to a file, out."""

from dataclasses import dataclass
from pathlib import Path

import polars as pl

from flows.files import write_atomically
from flows.held import Held
from flows.landing_names import landing_named
from flows.maps import Maps
from flows.standing import CAUSES, standing
from flows.trace_pages import debrief_page_of
from flows.workspace import Workspace
from pipeline.errors import MapError, StoreError
from pipeline.trace_frame import trace_schema
from reports.trace_data import TraceData
from warehouse.database import reader
from warehouse.marts import read

FOLDER = "debriefs"
"""Folder of the pages, beside the editions."""


@dataclass(frozen=True)
class Debrief:
    """The page of a landing; `older`: the rules it rests on that are older than the present ones."""

    landing_id: str
    log_file: str
    page: Path
    older: tuple[str, ...]


def debrief(workspace: Workspace, name: str, landing_index: int | None = None, *, page: Path | None = None) -> Debrief:
    """Write the page of a held landing, or of an approach without contact.

    Parameters
    ----------
    name, landing_index : as `landing_named` reads them.
    page : the file; else one named by the landing's id in the workspace's folder of debriefs.

    Raises
    ------
    SettingsError
        The name means no landing that is held, or may mean several.
    StoreError
        The landing's log or its map is gone.
    """
    with reader(workspace.database) as con:
        approaches = read(con, "approaches")
        row = approaches.row(
            by_predicate=pl.col("landing_id") == landing_named(approaches, name, landing_index), named=True
        )
        of_landing, of_log = {"landing_id": row["landing_id"]}, {"log_sha256": row["log_sha256"]}
        gates = read(con, "gate_verdicts", where=of_landing)
        faults = read(con, "faults", where=of_landing)
        channels = read(con, "channel_quality", where=of_log).filter(pl.col("suspect").is_not_null())
        files = read(con, "trace_files", where=of_landing)["trace_file"].to_list()
    held = Held.seen(workspace)
    log = held.again(row["log_sha256"], workspace.logs, Maps((), kept=workspace.kept_maps))
    if log is None:
        raise StoreError(held.missing(row["log_sha256"], workspace.logs).reason)
    data = TraceData(
        log_file=row["log_file"],
        map_name=log.channel_map.name,
        traced=(),
        approaches_in_all=approaches.filter(log_sha256=row["log_sha256"]).height,
        gate_heights_ft=tuple(gates["height_ft"].unique().sort(descending=True)),
        policy_sha256=row["policy_sha256"],
        suspect=dict(channels.select("channel", "suspect").iter_rows()),
        notes=log.table.notes,
        faults=faults,
    )
    target = (page or workspace.reports / FOLDER / f"{row['landing_id']}.html").absolute()
    target.parent.mkdir(parents=True, exist_ok=True)
    write_atomically(
        target, debrief_page_of(log, row, _course(workspace, files, row["landing_id"]), data=data).encode()
    )
    return Debrief(row["landing_id"], row["log_file"], target, _older(workspace, row["landing_id"]))


def _course(workspace: Workspace, files: list[str], landing_id: str) -> pl.DataFrame:
    there = [workspace.traces / name for name in files if (workspace.traces / name).is_file()]
    parts = [pl.read_parquet(file, glob=False).filter(landing_id=landing_id) for file in there]
    return pl.concat([pl.DataFrame(schema=trace_schema()), *parts])


def _older(workspace: Workspace, landing_id: str) -> tuple[str, ...]:
    """Older rules the landing rests on; none are told where a map of the inbox is amid being mended."""
    try:
        (row,) = standing(workspace).filter(landing_id=landing_id).rows(named=True)
    except MapError:
        return ()
    return tuple(cause for cause in CAUSES if row[cause])

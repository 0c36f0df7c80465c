"""One log in; out: what was recognised in it, what it can and cannot support, what is wrong with it.

Writes nothing but the page of traces that is asked for.
"""

import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

import polars as pl

from flows.channel_look import ChannelSeen, Look, look
from flows.discovery import LogFile
from flows.intake import Refused, Tabled, take_in
from flows.measured_logs import Known, Part, measure
from flows.proposing import as_map
from flows.trace_pages import trace_page_of
from pipeline.channels import CHANNELS
from pipeline.measures.table import MEASURES
from pipeline.reading.channel_map import ChannelMap
from pipeline.reading.proposal.propose import Proposal, propose
from pipeline.reading.record import recordings
from pipeline.reading.tabulate import RawTable
from pipeline.recording import Artefact


@dataclass(frozen=True)
class ApproachSeen:
    """One approach: what became of it, and when the wheels touched, in s from the log's start with its uncertainty."""

    outcome: str
    contact_t_s: float | None
    contact_u_s: float | None
    evidence: str | None


@dataclass(frozen=True)
class Inspection:
    """What is in a log. `refused` says why it cannot be read; the rest is then empty.

    `no_map` says why no map reads it; it was then read by the sure lines of the map proposed, as far as they go.
    `supported` has each measure that the log shows in at least one of its approaches; `not_supported` the others with
    the reason most often found, as the table of measures codes it. `proposal` speaks of the columns no map reads.
    """

    log_file: str
    refused: str | None = None
    no_map: str | None = None
    map_name: str | None = None
    rows: int = 0
    duration_s: float = 0.0
    started_at: datetime | None = None
    columns_unused: tuple[str, ...] = ()
    channels: tuple[ChannelSeen, ...] = ()
    channels_missing: tuple[str, ...] = ()
    approaches: tuple[ApproachSeen, ...] = ()
    supported: tuple[str, ...] = ()
    not_supported: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()
    artefacts: tuple[Artefact, ...] = ()
    proposal: Proposal | None = None
    columns: tuple[str, ...] = ()
    page: Path | None = None


def inspect_log(
    log: LogFile, known: Known, *, named: ChannelMap | None, maps: Sequence[ChannelMap], page: Path | None = None
) -> Inspection:
    """Read and measure one log as ingest would; where no map reads it, as the map proposed for it would.

    Parameters
    ----------
    known : runways and policy to measure with.
    named : the map named for the log, or None to take the one of `maps` that fits.
    page : where to write the log's traces as a page, or None.

    Raises
    ------
    MapError
        The map named does not fit the log.
    """
    with tempfile.TemporaryDirectory(prefix="roundout-") as folder:
        taken = take_in(log, Path(folder), named=named, maps=maps)
        if isinstance(taken, Tabled):
            proposal = _proposal(taken.table, taken.channel_map, log.name)
            return _read(taken, known, proposal=proposal, no_map=None, page=page)
        table = _tabled(taken, Path(folder), maps)
        if table is None:
            return Inspection(log.name, refused=taken.reason)
        proposal = _proposal(table, None, log.name)
        channel_map = None if proposal is None else as_map(proposal, Path(folder), log_file=log.name)
        if channel_map is None:
            return Inspection(log.name, refused=taken.reason, rows=table.rows, proposal=proposal, columns=table.columns)
        made = Tabled(log, log.path.name, taken.log_sha256, table, channel_map)
        return _read(made, known, proposal=proposal, no_map=taken.reason, page=page)


def _proposal(table: RawTable, known: ChannelMap | None, log_file: str) -> Proposal | None:
    """What is proposed; None where looking for it fails, since the rest of the log can be told all the same."""
    try:
        return propose(table.path, log_file=log_file, known=known)
    except Exception:  # a proposal is a help, and a log that nobody foresaw must not stop the rest
        return None


def _tabled(refused: Refused, folder: Path, maps: Sequence[ChannelMap]) -> RawTable | None:
    """The table of a log that is refused only because no map reads it; None of any other."""
    path = folder / f"{refused.log_sha256}.parquet"
    if not path.exists():
        return None
    columns = tuple(pl.read_parquet_schema(path))
    if any(set(one.columns) <= set(columns) for one in maps):
        return None
    return RawTable(path, columns, pl.scan_parquet(path).select(pl.len()).collect().item(), ())


def _read(log: Tabled, known: Known, *, proposal: Proposal | None, no_map: str | None, page: Path | None) -> Inspection:
    (part,) = measure([log], known)
    if isinstance(part, Refused):
        return Inspection(
            log.log.name, refused=part.reason, no_map=no_map, map_name=log.channel_map.name, proposal=proposal
        )
    seen, notes = _looked(log)
    if page is not None:
        try:
            trace_page_of(log, part, seen, policy=known.policy, page=page)
        except OSError:
            raise
        except Exception as error:  # the rest of what was seen is told all the same
            notes, page = (*notes, f"its traces could not be drawn ({_named(error)}); please report it"), None
    told = _told(log, part, seen)
    return replace(told, proposal=proposal, no_map=no_map, page=page, notes=(*told.notes, *notes))


def _looked(log: Tabled) -> tuple[Look, tuple[str, ...]]:
    """Look at the channels; a look that fails is a note, since ingest measures the log all the same."""
    try:
        stretches = recordings(log.table.path, log.channel_map, log_sha256=log.log_sha256, log_file=log.log.name)
        return look(stretches), ()
    except Exception as error:  # one that nobody foresaw must not hide the rest
        return Look((), ()), (f"its channels could not be looked at ({_named(error)}); please report it",)


def _named(error: Exception) -> str:
    return f"{type(error).__name__}: {error}"


def _told(log: Tabled, part: Part, look: Look) -> Inspection:
    (seen,) = part.seen
    landings = part.measured.landings
    present = {channel.channel for channel in look.channels}
    used = set(log.channel_map.columns)
    return Inspection(
        log.log.name,
        map_name=log.channel_map.name,
        rows=log.table.rows,
        duration_s=round(seen.duration_s, 3),
        started_at=seen.started_at,
        columns_unused=tuple(column for column in log.table.columns if column not in used),
        channels=look.channels,
        channels_missing=tuple(n for n, c in CHANNELS.items() if n not in present and c.becomes is None),
        approaches=tuple(
            ApproachSeen(*row)
            for row in landings.select("outcome", "contact_t_s", "contact_u_s", "contact_evidence").iter_rows()
        ),
        supported=tuple(m.name for m in MEASURES if landings[m.name].count()),
        not_supported=tuple((m.name, _why(landings[m.reason])) for m in MEASURES if not landings[m.name].count()),
        notes=seen.notes,
        artefacts=look.artefacts,
        columns=log.table.columns,
    )


def _why(reasons: pl.Series) -> str:
    """Return the reason most often found; a log without an approach reaches no measure."""
    return str(reasons.drop_nulls().mode().sort()[0]) if reasons.count() else "not_reached"

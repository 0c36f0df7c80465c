"""Jobs of some hundred logs in, staged files out: the two pieces of work that any process can take."""

from dataclasses import dataclass
from pathlib import Path

import polars as pl

from flows.discovery import LogFile
from flows.files import write_table
from flows.intake import Refused, Tabled, take_in
from flows.measured_logs import Known, Part, Seen, measure
from pipeline.measuring import measure_batch
from pipeline.policy import Policy
from pipeline.reading.channel_map import ChannelMap
from warehouse.frames import LOG

FRAMES = ("landings", "contacts", "gates", "expected", "faults", "traces", "channel_quality")


@dataclass(frozen=True)
class Tabulating:
    """Logs to be made raw tables in `folder`; `named` has the map named for each log, or None."""

    logs: tuple[LogFile, ...]
    named: tuple[ChannelMap | None, ...]
    tried: tuple[ChannelMap, ...]
    folder: Path


@dataclass(frozen=True)
class Measuring:
    """Raw tables to be measured into `folder`; context, runways and constants are Parquet files all jobs share."""

    logs: tuple[Tabled, ...]
    context: Path
    runways: Path
    policy: Policy
    constants: Path
    folder: Path


@dataclass(frozen=True)
class Staged:
    """What a batch gave: its logs that were read, the refused ones, and a folder with its frames as Parquet."""

    read: tuple[Tabled, ...]
    refused: tuple[Refused, ...]
    folder: Path

    def frame(self, name: str) -> pl.DataFrame:
        """Return the frame `name`: logs, landings, contacts, traces or channel_quality."""
        return pl.read_parquet(self.folder / f"{name}.parquet", glob=False)


def tabulate_logs(job: Tabulating) -> list[Tabled | Refused]:
    """Make each log a raw table; a log that cannot be one is refused, and the rest go on."""
    job.folder.mkdir(parents=True, exist_ok=True)
    pairs = zip(job.logs, job.named, strict=True)
    return [take_in(log, job.folder, named=named, maps=job.tried) for log, named in pairs]


def measure_logs(job: Measuring) -> Staged:
    """Read and measure the logs of a batch; a log that cannot be read is refused, and the rest go on."""
    job.folder.mkdir(parents=True, exist_ok=True)
    context, runways, constants = (
        pl.read_parquet(file, glob=False) for file in (job.context, job.runways, job.constants)
    )
    known = Known(context, runways, job.policy, constants)
    outcomes = measure(job.logs, known)
    parts = [outcome for outcome in outcomes if isinstance(outcome, Part)]
    nothing = measure_batch((), known.context, runways=known.runways, policy=known.policy)
    all_measured = [nothing, *(part.measured for part in parts)]
    seen = [log for part in parts for log in part.seen]
    write_table(_log_rows(seen), job.folder / "logs.parquet")
    for name in FRAMES:
        write_table(pl.concat([getattr(each, name) for each in all_measured]), job.folder / f"{name}.parquet")
    refused = tuple(outcome for outcome in outcomes if isinstance(outcome, Refused))
    return Staged(tuple(log.log for log in seen), refused, job.folder)


def _log_rows(seen: list[Seen]) -> pl.DataFrame:
    rows = [
        {
            "log_sha256": one.log.log_sha256,
            "log_file": one.log.log.name,
            "original_name": one.log.original_name,
            "map_sha256": one.log.channel_map.sha256,
            "map_name": one.log.channel_map.name,
            "rows": one.log.table.rows,
            "duration_s": one.duration_s,
            "started_at": one.started_at,
            "channels": list(one.channels),
            "notes": list(one.notes),
        }
        for one in seen
    ]
    return pl.DataFrame(rows, schema=LOG)

"""Raw tables with their maps in, measured frames out; what one log does wrong is that log's alone."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

import polars as pl

from flows.intake import Refused, Tabled, unforeseen
from pipeline import prepared
from pipeline.errors import LogError, MapError, StoreError
from pipeline.measuring import Measured, measure_batch
from pipeline.policy import Policy
from pipeline.reading.record import recordings
from pipeline.recording import Recording


@dataclass(frozen=True)
class Known(prepared.Known):
    """What measuring knows beside the logs: context rows of the manifest, runways, policy, constants if any."""

    constants: pl.DataFrame | None = None

    @classmethod
    def without_context(cls, runways: pl.DataFrame, policy: Policy) -> "Known":
        """Return what is known where no manifest speaks of the logs."""
        return cls(pl.DataFrame(schema={"log_sha256": pl.String, "landing_index": pl.Int64}), runways, policy)

    def dates(self) -> dict[str, datetime]:
        """The UTC instant a manifest states for a log's first row, by the log's hash."""
        if "flown_at" not in self.context.columns:
            return {}
        return dict(
            self.context.drop_nulls("flown_at")
            .select("log_sha256", "flown_at")
            .unique("log_sha256", keep="first")
            .rows()
        )


@dataclass(frozen=True)
class Seen:
    """What reading a log told about it beside its channels."""

    log: Tabled
    duration_s: float
    started_at: datetime | None
    channels: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class Part:
    """Logs measured together: what was seen of each, and their frames."""

    seen: tuple[Seen, ...]
    measured: Measured


def measure(logs: Sequence[Tabled], known: Known) -> list[Part | Refused]:
    """Read and measure `logs` together; where that fails, each half by itself, down to the log that is at fault.

    Raises
    ------
    StoreError
        The disk refused.
    """
    if not logs:
        return []
    try:
        return [_together(logs, known)]
    except StoreError:
        raise
    except Exception as error:  # one log that nobody foresaw must not stop the others
        if len(logs) == 1:
            return [Refused(logs[0].log, logs[0].log_sha256, _reason(logs[0], error))]
    half = len(logs) // 2
    return [*measure(logs[:half], known), *measure(logs[half:], known)]


def recordings_of(log: Tabled, dates: Mapping[str, datetime]) -> Iterator[Recording]:
    """Read a raw table by its map; `dates` has the UTC instants a manifest states, by the logs' hashes."""
    return recordings(
        log.table.path,
        log.channel_map,
        log_sha256=log.log_sha256,
        log_file=log.log.name,
        flown_at=dates.get(log.log_sha256),
    )


def _together(logs: Sequence[Tabled], known: Known) -> Part:
    seen: list[Seen] = []
    dates = known.dates()

    def read() -> Iterator[Recording]:
        for log in logs:
            stretches: list[Seen] = []
            for recording in recordings_of(log, dates):
                stretches.append(_seen(log, recording))
                yield recording
            seen.append(_whole(log, stretches))

    measured = measure_batch(
        read(), known.context, runways=known.runways, policy=known.policy, constants=known.constants
    )
    return Part(tuple(seen), measured)


def _seen(log: Tabled, recording: Recording) -> Seen:
    ends = (float(samples.t[-1]) for samples in recording.channels.values())
    return Seen(
        log,
        duration_s=max(ends, default=recording.duration_s),
        started_at=recording.started_at,
        channels=tuple(recording.channels),
        notes=recording.notes,
    )


def _whole(log: Tabled, stretches: Sequence[Seen]) -> Seen:
    """Put together what the stretches of one log told; each thing is said once."""
    return Seen(
        log,
        duration_s=max(stretch.duration_s for stretch in stretches),
        started_at=stretches[0].started_at,
        channels=tuple(dict.fromkeys(name for stretch in stretches for name in stretch.channels)),
        notes=tuple(dict.fromkeys((*log.table.notes, *(note for stretch in stretches for note in stretch.notes)))),
    )


def _reason(log: Tabled, error: Exception) -> str:
    return str(error) if isinstance(error, LogError | MapError) else unforeseen(log.log.name, error)

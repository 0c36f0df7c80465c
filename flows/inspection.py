"""One log in; out: what was recognised in it, what it can and cannot support, what is wrong with it. Writes nothing."""

import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

import numpy as np
import polars as pl

from flows.discovery import LogFile
from flows.intake import Refused, Tabled, take_in
from flows.measured_logs import Known, Part, measure
from pipeline.channels import CHANNELS
from pipeline.measures.table import MEASURES
from pipeline.reading.channel_map import ChannelMap
from pipeline.reading.record import recordings
from pipeline.recording import Recording, Samples


@dataclass(frozen=True)
class ChannelSeen:
    """One channel: samples, usual rate, smallest step between different values, and range, in the channel's unit."""

    channel: str
    unit: str
    samples: int
    rate_hz: float | None
    resolution: float | None
    low: float
    high: float


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

    `supported` has each measure that the log shows in at least one of its approaches; `not_supported` the others with
    the reason most often found, as the table of measures codes it.
    """

    log_file: str
    refused: str | None = None
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


def inspect_log(log: LogFile, known: Known, *, named: ChannelMap | None, maps: Sequence[ChannelMap]) -> Inspection:
    """Read and measure one log as ingest would.

    Parameters
    ----------
    known : runways and policy to measure with.
    named : the map named for the log, or None to take the one of `maps` that fits.

    Raises
    ------
    MapError
        The map named does not fit the log.
    """
    with tempfile.TemporaryDirectory(prefix="roundout-") as folder:
        taken = take_in(log, Path(folder), named=named, maps=maps)
        if isinstance(taken, Refused):
            return Inspection(log.name, refused=taken.reason)
        (part,) = measure([taken], known)
        if isinstance(part, Refused):
            return Inspection(log.name, refused=part.reason, map_name=taken.channel_map.name)
        return _told(taken, part, _channels(taken))


def _channels(log: Tabled) -> tuple[ChannelSeen, ...]:
    """Look at each channel, stretch by stretch."""
    seen: dict[str, ChannelSeen] = {}
    for stretch in recordings(log.table.path, log.channel_map, log_sha256=log.log_sha256, log_file=log.log.name):
        for name, samples in stretch.channels.items():
            one = _channel(name, samples, stretch)
            seen[name] = _joined(seen[name], one) if name in seen else one
    return tuple(seen.values())


def _channel(name: str, samples: Samples, stretch: Recording) -> ChannelSeen:
    values = np.unique(samples.value)
    apart = np.diff(values)
    real = apart[apart > 1e-9 * max(1.0, float(np.abs(values).max()))]
    return ChannelSeen(
        name,
        CHANNELS[name].unit,
        samples=int(((samples.t >= stretch.own_from_s) & (samples.t < stretch.own_to_s)).sum()),
        rate_hz=round(1.0 / float(np.median(np.diff(samples.t))), 3) if len(samples.t) > 1 else None,
        resolution=float(f"{real.min():.3g}") if len(real) else None,
        low=float(f"{values[0]:.6g}"),
        high=float(f"{values[-1]:.6g}"),
    )


def _joined(one: ChannelSeen, next_one: ChannelSeen) -> ChannelSeen:
    """Put two stretches of a channel together; the rate is that of the first."""
    steps = [step for step in (one.resolution, next_one.resolution) if step is not None]
    return replace(
        one,
        samples=one.samples + next_one.samples,
        resolution=min(steps, default=None),
        low=min(one.low, next_one.low),
        high=max(one.high, next_one.high),
    )


def _told(log: Tabled, part: Part, channels: tuple[ChannelSeen, ...]) -> Inspection:
    (seen,) = part.seen
    landings = part.measured.landings
    present = {channel.channel for channel in channels}
    used = set(log.channel_map.columns)
    return Inspection(
        log.log.name,
        map_name=log.channel_map.name,
        rows=log.table.rows,
        duration_s=round(seen.duration_s, 3),
        started_at=seen.started_at,
        columns_unused=tuple(column for column in log.table.columns if column not in used),
        channels=channels,
        channels_missing=tuple(name for name in CHANNELS if name not in present),
        approaches=tuple(
            ApproachSeen(*row)
            for row in landings.select("outcome", "contact_t_s", "contact_u_s", "contact_evidence").iter_rows()
        ),
        supported=tuple(m.name for m in MEASURES if landings[m.name].count()),
        not_supported=tuple((m.name, _why(landings[m.reason])) for m in MEASURES if not landings[m.name].count()),
        notes=seen.notes,
    )


def _why(reasons: pl.Series) -> str:
    """Return the reason most often found; a log without an approach reaches no measure."""
    return str(reasons.drop_nulls().mode().sort()[0]) if reasons.count() else "not_reached"

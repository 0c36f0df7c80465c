"""A raw table and its channel map in, recordings in canonical channels out: one a log, stretches of a long one."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.channels import BY_KEY, CHANNELS
from pipeline.errors import LogError
from pipeline.reading.cells import Place
from pipeline.reading.channel_map import ChannelMap, require_columns
from pipeline.reading.channel_samples import channel_samples, repair_notes
from pipeline.reading.channel_values import channel_values
from pipeline.reading.csv_rows import DECIMAL_KEY
from pipeline.reading.magnetic import true_directions
from pipeline.reading.repeated_rows import repeated_rows
from pipeline.reading.stretches import LONG_ROWS, STRETCH_ROWS, Stretch, column_pieces, pieces, row_windows, stretches
from pipeline.reading.timebase import Timebase, read_timebase
from pipeline.recording import Floats, Recording, Repair, Samples

if TYPE_CHECKING:
    from pyarrow.parquet import FileMetaData


@dataclass(frozen=True)
class _Log:
    """What all stretches of one log share."""

    name: str
    sha256: str
    channel_map: ChannelMap
    decimal_mark: str
    flown_at: datetime | None

    def place(self, column: str, first_row: int = 1) -> Place:
        """Where a column of this log stands, for words about a value in it."""
        return Place(self.name, column, first_row, self.decimal_mark)


def recordings(  # noqa: PLR0913 - the log's three facts and the two sizes
    table: Path,
    channel_map: ChannelMap,
    *,
    log_sha256: str,
    log_file: str,
    flown_at: datetime | None = None,
    long_rows: int = LONG_ROWS,
    stretch_rows: int = STRETCH_ROWS,
) -> Iterator[Recording]:
    """Read a raw table as its map says; only the columns the map names are read.

    A log of more than `long_rows` rows comes in stretches that own `stretch_rows` rows each and also hold the 600 s
    before and the 180 s after them, so that memory does not grow with the log. An error may come after some stretches
    were given out: it refuses the whole log. `flown_at` is the date for logs whose stamps tell none: magnetic
    directions become true ones by it.

    Raises
    ------
    MapError
        The map names a column the log does not have.
    LogError
        The time column cannot be read, or none of the channels; or the table is damaged. A single channel that cannot
        be read is left out and named in `suspect`.
    """
    try:
        footer = _footer(table)
        names = footer.schema.to_arrow_schema().names
        require_columns(channel_map, names, log_file=log_file)
        mark = (footer.metadata or {}).get(DECIMAL_KEY.encode(), b".").decode()
        log = _Log(log_file, log_sha256, channel_map, mark, flown_at)
        if footer.num_rows > long_rows:
            yield from _long(table, log, stretch_rows=stretch_rows)
        else:
            yield _short(table, log)
    except (OSError, pl.exceptions.PolarsError) as error:
        raise LogError(f"{log_file}: its table is damaged ({error}); bring the log again") from error


def _footer(table: Path) -> "FileMetaData":
    import pyarrow.parquet as pq  # noqa: PLC0415 - as in opening

    return pq.read_metadata(table)


def _short(table: Path, log: _Log) -> Recording:
    frame = pl.read_parquet(table, columns=list(log.channel_map.columns), glob=False)
    time = log.channel_map.time
    base = read_timebase(
        [frame[time.column]], time.unit, log.place(time.column), repeated=lambda: repeated_rows([frame])
    )
    whole = Stretch(0, len(base.t), -np.inf, np.inf)
    first, end = int(base.row[0]), int(base.row[-1]) + 1
    return _recording(frame.slice(first, end - first), log, base=base, stretch=whole)


def _long(table: Path, log: _Log, *, stretch_rows: int) -> Iterator[Recording]:
    time = log.channel_map.time
    base = read_timebase(
        column_pieces(table, time.column),
        time.unit,
        log.place(time.column),
        repeated=lambda: repeated_rows(pieces(table, log.channel_map.columns)),
    )
    parts = stretches(base.t, stretch_rows=stretch_rows)
    spans = [(int(base.row[part.first]), int(base.row[part.end - 1]) + 1) for part in parts]
    windows = row_windows(table, log.channel_map.columns, spans)
    for part, frame in zip(parts, windows, strict=True):
        yield _recording(frame, log, base=base, stretch=part)


@dataclass
class _Read:
    """What was read of a log's rows so far: channels, what was repaired in each, those that could not be read."""

    channels: dict[str, Samples] = field(default_factory=dict)
    repairs: dict[str, Repair] = field(default_factory=dict)
    unread: dict[str, LogError] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)


def _recording(frame: pl.DataFrame, log: _Log, *, base: Timebase, stretch: Stretch) -> Recording:
    """Recording of the rows of `frame`, which begins at the table's row of the stretch's first time."""
    t = base.t[stretch.first : stretch.end]
    read = _channels(frame, log, t=t, row=base.row[stretch.first : stretch.end])
    if read.unread and not read.channels:
        raise next(iter(read.unread.values()))
    suspect = {name: str(error).removeprefix(f"{log.name}: ") for name, error in read.unread.items()}
    left_out = (f"{CHANNELS[name].key} left out: {why}" for name, why in suspect.items())
    channels, turned = true_directions(read.channels, base.started_at or log.flown_at)
    return Recording(
        log_sha256=log.sha256,
        log_file=log.name,
        map_sha256=log.channel_map.sha256,
        channels=channels,
        started_at=base.started_at,
        rows=len(t),
        duration_s=float(t[-1] - t[0]),
        own_from_s=stretch.own_from_s,
        own_to_s=stretch.own_to_s,
        notes=(*base.notes, *read.notes, *left_out, *turned),
        repairs=read.repairs,
        suspect=suspect,
    )


def _channels(frame: pl.DataFrame, log: _Log, *, t: Floats, row: NDArray[np.int32]) -> _Read:
    """Every channel of the map, at times `t` (n,) s of the table's rows `row` (n,)."""
    read, first = _Read(), int(row[0])
    used = None if len(row) == len(frame) else row - first
    for key, rule in log.channel_map.rules.items():
        channel, line = BY_KEY[key], log.channel_map.scalings[key]
        if line.missing is not None:
            read.notes.append(f"{key} left out: the map must state {line.missing}")
            continue
        places = [log.place(column, first + 1) for column in rule.sources]
        columns = [frame[column] for column in rule.sources]
        try:
            values, said, outside = channel_values(columns, channel, rule=rule, scaling=line, places=places)
        except LogError as error:
            read.unread[channel.name] = error
            continue
        samples, repair = channel_samples(t, values if used is None else values[used], channel, outside=outside)
        read.repairs[channel.name] = repair
        read.notes += [*(f"{key}: {note}" for note in said), *repair_notes(key, repair)]
        if samples is None:
            read.notes.append(f"{key} left out: column {', '.join(rule.sources)} holds no value")
            continue
        read.channels[channel.name] = Samples(samples.t - rule.lag_s, samples.value) if rule.lag_s else samples
    return read

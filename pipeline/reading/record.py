"""A raw table and its channel map in, recordings in canonical channels out: one a log, stretches of a long one."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from pipeline.channels import BY_KEY
from pipeline.errors import LogError
from pipeline.reading.cells import Place
from pipeline.reading.channel_map import ChannelMap, require_columns
from pipeline.reading.channel_values import channel_values
from pipeline.reading.csv_rows import DECIMAL_KEY
from pipeline.reading.stretches import LONG_ROWS, STRETCH_ROWS, Stretch, column_pieces, row_windows, stretches
from pipeline.reading.timebase import Timebase, read_timebase
from pipeline.recording import Recording, Samples

if TYPE_CHECKING:
    from pyarrow.parquet import FileMetaData


@dataclass(frozen=True)
class _Log:
    """What all stretches of one log share."""

    name: str
    sha256: str
    channel_map: ChannelMap
    decimal_mark: str

    def place(self, column: str, first_row: int = 1) -> Place:
        return Place(self.name, column, first_row, self.decimal_mark)


def recordings(
    table: Path,
    channel_map: ChannelMap,
    *,
    log_sha256: str,
    log_file: str,
    long_rows: int = LONG_ROWS,
    stretch_rows: int = STRETCH_ROWS,
) -> Iterator[Recording]:
    """Read a raw table as its map says; only the columns the map names are read.

    A log of more than `long_rows` rows comes in stretches that own `stretch_rows` rows each and also hold the 600 s
    before and the 180 s after them, so that memory does not grow with the log. An error may come after some stretches
    were given out: it refuses the whole log.

    Raises
    ------
    MapError
        The map names a column the log does not have.
    LogError
        The time column, or a column that should hold numbers, cannot be read; or the table is damaged.
    """
    try:
        footer = _footer(table)
        names = footer.schema.to_arrow_schema().names
        require_columns(channel_map, names, log_file=log_file)
        mark = (footer.metadata or {}).get(DECIMAL_KEY.encode(), b".").decode()
        log = _Log(log_file, log_sha256, channel_map, mark)
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
    base = read_timebase([frame[time.column]], time.unit, log.place(time.column))
    whole = Stretch(0, len(base.t), -np.inf, np.inf)
    first, end = int(base.row[0]), int(base.row[-1]) + 1
    return _recording(frame.slice(first, end - first), log, base=base, stretch=whole)


def _long(table: Path, log: _Log, *, stretch_rows: int) -> Iterator[Recording]:
    time = log.channel_map.time
    base = read_timebase(column_pieces(table, time.column), time.unit, log.place(time.column))
    parts = stretches(base.t, stretch_rows=stretch_rows)
    spans = [(int(base.row[part.first]), int(base.row[part.end - 1]) + 1) for part in parts]
    windows = row_windows(table, log.channel_map.columns, spans)
    for part, frame in zip(parts, windows, strict=True):
        yield _recording(frame, log, base=base, stretch=part)


def _recording(frame: pl.DataFrame, log: _Log, *, base: Timebase, stretch: Stretch) -> Recording:
    """Recording of the rows of `frame`, which begins at the table's row of the stretch's first time."""
    t = base.t[stretch.first : stretch.end]
    row = base.row[stretch.first : stretch.end]
    first = int(row[0])
    used = None if len(row) == len(frame) else row - first
    channels: dict[str, Samples] = {}
    notes = list(base.notes)
    for key, rule in log.channel_map.rules.items():
        channel, line = BY_KEY[key], log.channel_map.scalings[key]
        if line.missing is not None:
            notes.append(f"{key} left out: the map must state {line.missing}")
            continue
        places = [log.place(column, first + 1) for column in rule.sources]
        columns = [frame[column] for column in rule.sources]
        values, said = channel_values(columns, channel, rule=rule, scaling=line, places=places)
        notes += (f"{key}: {note}" for note in said)
        values = values if used is None else values[used]
        present = ~np.isnan(values)
        if not present.any():
            notes.append(f"{key} left out: column {', '.join(rule.sources)} holds no value")
            continue
        at, values = (t, values) if present.all() else (t[present], values[present])
        channels[channel.name] = Samples(at - rule.lag_s if rule.lag_s else at, values)
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
        notes=tuple(notes),
    )

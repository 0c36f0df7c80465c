"""A long log's times in, the overlapping stretches it is measured in out; and its table read window by window."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import numpy as np
import polars as pl

from pipeline.recording import Floats

LONG_ROWS = 500_000
STRETCH_ROWS = 60_000
BEFORE_S = 600.0
"""An approach from 1,500 ft takes some 2 min; ten are ample (our own choice)."""
AFTER_S = 180.0
"""A rollout takes under a minute (our own choice)."""
_PIECE_ROWS = 1 << 15


@dataclass(frozen=True)
class Stretch:
    """Usable rows [first, end) of a log, which own the contacts of [own_from_s, own_to_s)."""

    first: int
    end: int
    own_from_s: float
    own_to_s: float


def stretches(t: Floats, *, stretch_rows: int = STRETCH_ROWS) -> list[Stretch]:
    """Cut times `t` (n,) into stretches that own `stretch_rows` rows each, and together all of time, once."""
    begins = list(range(0, len(t), stretch_rows))
    bounds = [-np.inf, *(float(t[begin]) for begin in begins[1:]), np.inf]
    parts = []
    for own_from, own_to in pairwise(bounds):
        first = int(np.searchsorted(t, own_from - BEFORE_S))
        end = int(np.searchsorted(t, own_to + AFTER_S, side="right"))
        parts.append(Stretch(first, end, own_from, own_to))
    return parts


def column_pieces(table: Path, column: str) -> Iterator[pl.Series]:
    """One column of a table, piece by piece."""
    for frame in pieces(table, [column]):
        yield frame[column]


def row_windows(table: Path, columns: Sequence[str], spans: Sequence[tuple[int, int]]) -> Iterator[pl.DataFrame]:
    """Rows [first, end) of a table for each of `spans`, whose beginnings and ends must not fall."""
    read = pieces(table, columns)
    held, start = next(read), 0
    for first, end in spans:
        parts, rows = [held], held.height
        while start + rows < end:
            parts.append(next(read))
            rows += parts[-1].height
        held = pl.concat(parts, rechunk=False).slice(first - start)
        start = first
        yield held.head(end - first)


def pieces(table: Path, columns: Sequence[str]) -> Iterator[pl.DataFrame]:
    """Every row once, in order; row groups of any size are decoded a piece at a time."""
    import pyarrow.parquet as pq  # noqa: PLC0415 - as in opening

    with pq.ParquetFile(table, pre_buffer=False) as file:
        for batch in file.iter_batches(batch_size=_PIECE_ROWS, columns=list(columns), use_threads=False):
            frame = pl.from_arrow(batch)
            if isinstance(frame, pl.DataFrame):
                yield frame

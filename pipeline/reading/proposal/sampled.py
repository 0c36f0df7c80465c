"""A raw table in; every column as numbers, yes/no states or text, with the rows it was looked at, out."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl

from pipeline.reading.cells import BLANKS
from pipeline.reading.csv_rows import DECIMAL_KEY
from pipeline.reading.proposal.names import unit_of
from pipeline.recording import Floats

MOST_ROWS, MOST_CELLS = 200_000, 8_000_000
"""Rows and cells looked at, the last of the log: a flight ends with its landing (our own choice)."""
_MOSTLY = 0.95
_FEWEST_UNITS = 3
_MOST_STATES = 6
_LARGEST = 1e13
"""Milliseconds since 1970 are about 2e12; nothing else is as large."""

if TYPE_CHECKING:
    import pyarrow.parquet as pq

Kind = Literal["number", "states", "text", "blank"]


@dataclass(frozen=True)
class Column:
    """One column as written.

    `cells` (rows,) as the table has them; `kind`; `value` (rows,) numbers with NaN where there is none, or the number
    of the state in `states`; `unit_below`: the unit a row of units under the header gives it.
    """

    name: str
    cells: pl.Series
    kind: Kind
    value: Floats
    states: tuple[str, ...]
    unit_below: str | None


def read_columns(table: Path) -> tuple[Column, ...]:
    """Read the last rows of a raw table; memory stays bounded however long the log is."""
    import pyarrow.parquet as pq  # noqa: PLC0415 - as in opening

    with pq.ParquetFile(table, pre_buffer=False) as file:
        names = file.schema_arrow.names
        comma = (file.schema_arrow.metadata or {}).get(DECIMAL_KEY.encode()) == b","
        rows = min(MOST_ROWS, MOST_CELLS // max(len(names), 1))
        frame = _last_rows(file, rows)
        head = _first_rows(file)
    units = _row_of_units(head)
    if units and len(frame) >= 2 and head.row(0) == frame.row(0):
        frame = frame.slice(1)
    return tuple(_column(frame[name], units.get(name), comma=comma) for name in names)


def _last_rows(file: "pq.ParquetFile", rows: int) -> pl.DataFrame:
    """The last rows, reading only the row groups that hold them, a piece at a time."""
    groups: list[int] = []
    held = 0
    for group in reversed(range(file.num_row_groups)):
        groups.insert(0, group)
        held += file.metadata.row_group(group).num_rows
        if held >= rows:
            break
    kept: list[pl.DataFrame] = []
    to_skip = held - rows
    for batch in file.iter_batches(batch_size=1 << 15, row_groups=groups, use_threads=False):
        piece = pl.DataFrame(pl.from_arrow(batch))
        if to_skip >= len(piece):
            to_skip -= len(piece)
            continue
        kept.append(piece.slice(max(to_skip, 0)))
        to_skip = 0
    return pl.concat(kept) if kept else pl.DataFrame(schema=dict.fromkeys(file.schema_arrow.names, pl.String))


def _first_rows(file: "pq.ParquetFile") -> pl.DataFrame:
    (batch,) = islice(file.iter_batches(batch_size=2, use_threads=False), 1)
    return pl.DataFrame(pl.from_arrow(batch))


def _row_of_units(head: pl.DataFrame) -> dict[str, str]:
    """Units by column where the first row holds units in place of values."""
    found = {name: unit_of(cell) for name, cell in head.row(0, named=True).items() if isinstance(cell, str)}
    units = {name: unit for name, unit in found.items() if unit is not None}
    return units if len(units) >= _FEWEST_UNITS else {}


def _column(cells: pl.Series, unit: str | None, *, comma: bool) -> Column:
    if cells.dtype.is_numeric():
        value = _bounded(cells.cast(pl.Float64).to_numpy(writable=True))
        return Column(cells.name, cells, _kind(value), value, (), unit)
    if cells.dtype == pl.Boolean:
        value = cells.cast(pl.Float64).to_numpy(writable=True)
        return Column(cells.name, cells, "states", value, ("false", "true"), unit)
    if isinstance(cells.dtype, pl.String | pl.Categorical | pl.Enum):
        return _written(cells, unit, comma=comma)
    return Column(cells.name, cells, "text", np.full(len(cells), np.nan), (), unit)


def _written(cells: pl.Series, unit: str | None, *, comma: bool) -> Column:
    """A column of text: numbers where nearly all of it reads as such, states where it holds few words."""
    text = cells.cast(pl.String).str.strip_chars()
    number = text.str.replace(",", ".", literal=True) if comma else text
    value = _bounded(number.cast(pl.Float64, strict=False).to_numpy(writable=True))
    blank = text.is_null().to_numpy() | text.str.to_lowercase().is_in(list(BLANKS)).fill_null(value=True).to_numpy()
    held = int((~blank).sum())
    if not held or np.isfinite(value).sum() >= _MOSTLY * held:
        return Column(cells.name, cells, _kind(value), value, (), unit)
    states = _states(text.filter(~blank).to_list())
    if not states:
        return Column(cells.name, cells, "text", value, (), unit)
    number_of = {state: float(place) for place, state in enumerate(states)}
    coded = text.replace_strict(number_of, default=None, return_dtype=pl.Float64).to_numpy(writable=True)
    return Column(cells.name, cells, "states", coded, states, unit)


def _bounded(value: Floats) -> Floats:
    """Values no channel has in any unit become NaN, in place."""
    value[~(np.abs(value) < _LARGEST)] = np.nan
    return value


def _states(words: Sequence[str]) -> tuple[str, ...]:
    """The words of a column that holds few different ones, in order of the alphabet; none where it holds many."""
    counted = Counter(words)
    return tuple(sorted(counted)) if len(counted) <= _MOST_STATES else ()


def _kind(value: Floats) -> Kind:
    return "number" if np.isfinite(value).any() else "blank"

"""The time column as it is written in, seconds (NaN where there is none) and the instant of second 0 out."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import numpy as np
import polars as pl

from pipeline.errors import LogError
from pipeline.reading.cells import BLANKS, TEXT_SHARE, Place, Read, numbers
from pipeline.recording import Floats

_DAY_S = 86400.0
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_YEAR_FIRST = r"^\d{4}-?\d\d-?\d\d[T ]"
_OFFSET = r"(?i)(z|[+-]\d\d:?(\d\d)?)$"

NAIVE = "the time stamps carry no offset from UTC; taken as UTC"


@dataclass(frozen=True)
class Stamps:
    """Seconds of each row (rows,), NaN where the row has no time; `zero_at` is their instant 0, None where unknown."""

    seconds: Floats
    zero_at: datetime | None
    notes: tuple[str, ...]


def read_stamps(chunks: Iterable[pl.Series], unit: str, place: Place) -> Stamps:
    """Seconds of a time column in `unit` ("s", "ms", "iso8601" or "clock"), given in one or more pieces.

    Raises
    ------
    LogError
        More than 5 % of the stamps of a piece cannot be read, or there is none; names the column, a row and its text.
    """
    pieces: list[Floats] = []
    notes: dict[str, None] = {}
    for cells in chunks:
        here = replace(place, first_row=place.first_row + sum(map(len, pieces)))
        piece, said = _WRITTEN[unit](cells, here)
        pieces.append(piece)
        notes |= dict.fromkeys(said)
    written = np.concatenate(pieces) if len(pieces) > 1 else pieces[0].copy()
    pieces.clear()
    timed = np.isfinite(written)
    if not timed.any():
        raise LogError(f"{place.log_file}: time column {place.column!r} holds no value; map the column with the time")
    if unit == "clock":
        return Stamps(_past_midnight(written), None, tuple(notes))
    if unit == "iso8601":
        zero = float(written[np.argmax(timed)])
        written -= zero
        written /= 1e6
        return Stamps(written, _EPOCH + timedelta(microseconds=zero), tuple(notes))
    if unit == "ms":
        written /= 1000.0
    return Stamps(written, None, tuple(notes))


def _microseconds(cells: pl.Series, place: Place) -> Read:
    """Microseconds since 1970 of ISO 8601 stamps; whole numbers that a float holds exactly."""
    naive = False
    if isinstance(cells.dtype, pl.Datetime):
        naive = cells.dtype.time_zone is None
        at = cells.dt.replace_time_zone("UTC") if naive else cells.dt.convert_time_zone("UTC")
    elif cells.dtype == pl.String:
        text = cells.str.strip_chars().str.replace(",", ".", literal=True)
        iso = text.str.contains(_YEAR_FIRST).fill_null(value=False)
        at = text.set(~iso, None).str.to_datetime(time_unit="us", time_zone="UTC", strict=False)
        naive = not text.filter(at.is_not_null()).head(1).str.slice(10).str.contains(_OFFSET).all()
    else:
        at = pl.Series([None] * len(cells), dtype=pl.Datetime("us", "UTC"))
    values = at.dt.epoch("us").cast(pl.Float64).to_numpy()
    _require(values, cells, place, needed="ISO 8601 stamps such as 2026-11-25T09:15:02.5Z")
    return values, (NAIVE,) * naive


def _seconds_of_day(cells: pl.Series, place: Place) -> Read:
    """Seconds of the day of clock times."""
    if cells.dtype == pl.Time:
        return cells.cast(pl.Int64).cast(pl.Float64).to_numpy() / 1e9, ()
    values = _clock(cells) if cells.dtype == pl.String else np.full(len(cells), np.nan)
    _require(values, cells, place, needed="clock time such as 09:15:02.5")
    return values, ()


def _clock(cells: pl.Series) -> Floats:
    parts = cells.str.strip_chars().str.replace(",", ".", literal=True).str.split_exact(":", 2).struct.unnest()
    hour, minute, second = (part.cast(pl.Float64, strict=False).to_numpy() for part in parts)
    valid = (hour >= 0) & (hour < 24) & (minute >= 0) & (minute < 60) & (second >= 0) & (second < 61)
    return np.where(valid, hour * 3600.0 + minute * 60.0 + second, np.nan)


def _past_midnight(seconds: Floats) -> Floats:
    """Carry on counting over midnight: a fall by more than half a day is the next day, a rise by as much the last."""
    timed = np.flatnonzero(np.isfinite(seconds))
    steps = np.diff(seconds[timed], prepend=seconds[timed[0]])
    days = np.cumsum((steps < -_DAY_S / 2).astype(float) - (steps > _DAY_S / 2))
    carried = seconds.copy()
    carried[timed] += days * _DAY_S
    return carried


def _require(values: Floats, cells: pl.Series, place: Place, *, needed: str) -> None:
    """Refuse a column where more than a few of the values that are no blanks could not be read."""
    missing = np.isnan(values) & cells.is_not_null().to_numpy()
    if cells.dtype == pl.String and missing.any():
        missing &= ~cells.str.strip_chars().str.to_lowercase().is_in(list(BLANKS)).fill_null(value=True).to_numpy()
    wrong = np.flatnonzero(missing)
    held = len(wrong) + int(np.isfinite(values).sum())
    if len(wrong) > TEXT_SHARE * held:
        row = int(wrong[0])
        raise LogError(
            f"{place.log_file}: time column {place.column!r}: {len(wrong)} of {held} values are not {needed}:"
            f" row {place.first_row + row} holds {cells[row]!r}; state the unit of the time column in the map"
        )


_WRITTEN: dict[str, Callable[[pl.Series, Place], Read]] = {
    "s": numbers,
    "ms": numbers,
    "iso8601": _microseconds,
    "clock": _seconds_of_day,
}

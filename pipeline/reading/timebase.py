"""The time column in, one strictly increasing time a usable row out: held stamps spread, short faults repaired."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.errors import LogError
from pipeline.reading.cells import Place
from pipeline.reading.stamps import read_stamps
from pipeline.recording import Floats

BACKWARD_SHARE = 0.05
"""Up to this share of rows may stand behind the time already reached and be left out (our own choice)."""
_GAP = 1.5
"""A stamp followed by more than this many usual stamp intervals is followed by a gap."""


@dataclass(frozen=True)
class Timebase:
    """Times of the usable rows.

    `t` (n,): seconds from the first of them, strictly increasing; `row` (n,): their row numbers in the table from 0;
    `started_at`: UTC instant of t = 0, or None.
    """

    t: Floats
    row: NDArray[np.int32]
    started_at: datetime | None
    notes: tuple[str, ...]


def read_timebase(chunks: Iterable[pl.Series], unit: str, place: Place) -> Timebase:
    """Time of every usable row of a log from its time column, given in one or more pieces.

    Raises
    ------
    LogError
        The column cannot be read, stands still, or runs backward over more than 5 % of the rows.
    """
    stamps = read_stamps(chunks, unit, place)
    notes, seconds = list(stamps.notes), stamps.seconds
    timed = np.isfinite(seconds)
    row = np.flatnonzero(timed).astype(np.int32)
    if len(row) < len(seconds):
        notes.append(f"{len(seconds) - len(row)} rows without time left out")
        seconds = seconds[timed]
    if (seconds[1:] < seconds[:-1]).any():
        forward = _forward(seconds)
        _refuse_backward(seconds, forward, row, place)
        notes.append(f"{len(row) - int(forward.sum())} rows whose time runs backward left out")
        row, seconds = row[forward], seconds[forward]
    if not (seconds[1:] > seconds[:-1]).any():
        raise LogError(f"{place.log_file}: time column {place.column!r} never moves; map the column with the time")
    held = int((seconds[1:] == seconds[:-1]).sum())
    if held:
        notes.append(f"{held} rows that share the time stamp of the row before spread evenly up to the next stamp")
        seconds = spread_held(seconds)
    started_at = None if stamps.zero_at is None else stamps.zero_at + timedelta(seconds=float(seconds[0]))
    seconds -= seconds[0]
    return Timebase(seconds, row, started_at, tuple(notes))


def spread_held(seconds: Floats) -> Floats:
    """Spread rows that share a stamp evenly up to the next stamp; `seconds` (n,) must not fall.

    Rows of the first stamp end where the second begins, as many logs start amid a stamp; rows before a gap and of the
    last stamp go on at the usual row interval.

    Examples
    --------
    >>> spread_held(np.array([0.0, 0.0, 1.0, 1.0, 2.0, 2.0])).tolist()
    [0.0, 0.5, 1.0, 1.5, 2.0, 2.5]
    """
    begins = np.flatnonzero(np.diff(seconds, prepend=-np.inf) > 0)
    rows = np.diff(begins, append=len(seconds))
    stamp = seconds[begins]
    interval = np.diff(stamp)
    usual_interval = float(np.median(interval))
    usual_step = float(np.median((interval / rows[:-1])[1 if len(interval) > 1 else 0 :]))
    step = np.append(np.where(interval > _GAP * usual_interval, 0.0, interval / rows[:-1]), 0.0)
    after_gap = step == 0.0
    step[after_gap] = np.minimum(usual_step, np.append(interval, np.inf)[after_gap] / rows[after_gap])
    late = interval[0] - rows[0] * usual_step
    if not after_gap[0] and late > 0:
        step[0] = usual_step
        stamp[0] += late
    place = np.arange(len(seconds)) - np.repeat(begins, rows)
    return np.repeat(stamp, rows) + place * np.repeat(step, rows)


def _forward(seconds: Floats) -> NDArray[np.bool_]:
    """Rows that do not stand behind the time already reached; a lone stamp ahead of its neighbours reaches nothing."""
    ahead = np.zeros(len(seconds), dtype=bool)
    ahead[:-1] = seconds[:-1] > seconds[1:]
    ahead[1:-1] &= seconds[2:] >= seconds[:-2]
    reached = np.maximum.accumulate(np.where(ahead, -np.inf, seconds))
    return ~ahead & (seconds >= reached)


def _refuse_backward(seconds: Floats, forward: NDArray[np.bool_], row: NDArray[np.int32], place: Place) -> None:
    behind = int((~forward).sum())
    if behind <= max(1.0, BACKWARD_SHARE * len(seconds)):
        return
    first = int(np.flatnonzero(np.diff(seconds) < 0)[0])
    raise LogError(
        f"{place.log_file}: time column {place.column!r} runs backward: {behind} of {len(seconds)} rows stand behind"
        f" the time already reached, first at row {place.first_row + int(row[first + 1])}, where it falls by"
        f" {seconds[first] - seconds[first + 1]:g} s; split the log there, or map the right column"
    )

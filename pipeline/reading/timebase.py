"""The time column in, one strictly increasing time a usable row out: held stamps spread, short faults repaired."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.errors import LogError
from pipeline.reading.cells import Place
from pipeline.reading.stamps import read_stamps
from pipeline.recording import Floats

Bools = NDArray[np.bool_]

BACKWARD_SHARE = 0.05
"""Up to this share of rows may stand behind the time already reached and be left out (our own choice)."""
_HELD_SHARE = 0.02
_JUMP_S, _JUMP_STEPS = 5.0, 10.0
_UNEVEN, _FEWEST_STEPS = 2.0, 100
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


def read_timebase(
    chunks: Iterable[pl.Series], unit: str, place: Place, *, repeated: Callable[[], Bools] | None = None
) -> Timebase:
    """Time of every usable row of a log from its time column, given in one or more pieces.

    `repeated` tells which rows (rows,) of the table repeat the row before in every column; it is asked only where
    rows share a stamp. Such copies are left out, unless stamps are held over several rows anyway.

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
    if repeated is not None and (seconds[1:] == seconds[:-1]).any():
        copies = _copies(seconds, repeated()[row])
        if copies.any():
            notes.append(f"{int(copies.sum())} rows that repeat the row before in every column left out")
            row, seconds = row[~copies], seconds[~copies]
    notes += _jumps(seconds)
    held = int((seconds[1:] == seconds[:-1]).sum())
    if held:
        notes.append(f"{held} rows that share the time stamp of the row before spread evenly up to the next stamp")
        seconds = spread_held(seconds)
    started_at = None if stamps.zero_at is None else stamps.zero_at + timedelta(seconds=float(seconds[0]))
    seconds -= seconds[0]
    notes += _uneven(seconds)
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


def _copies(seconds: Floats, repeated: Bools) -> Bools:
    """Rows that are copies: equal in every column, where nearly all rows that share a stamp are."""
    shared = np.concatenate([[False], seconds[1:] == seconds[:-1]])
    copies = shared & repeated
    others = int(shared.sum() - copies.sum())
    return copies if others <= _HELD_SHARE * copies.sum() else np.zeros(len(seconds), dtype=bool)


def _jumps(seconds: Floats) -> list[str]:
    """Say where time jumps ahead."""
    step = np.diff(seconds)
    usual = float(np.median(step[step > 0])) if (step > 0).any() else 0.0
    far = step[step > max(_JUMP_S, _JUMP_STEPS * usual)]
    if not len(far):
        return []
    times = "once" if len(far) == 1 else f"{len(far)} times"
    return [f"time jumps ahead {times}, by {far.max():g} s at most: a gap in the log"]


def _uneven(seconds: Floats) -> list[str]:
    """Say where rows come unevenly, as from a simulator that writes a row a frame."""
    if len(seconds) < _FEWEST_STEPS:
        return []
    short, long = np.quantile(np.diff(seconds), [0.1, 0.9])
    if long <= _UNEVEN * short:
        return []
    return [f"rows come unevenly: one step in ten is under {short:.3g} s, one in ten over {long:.3g} s"]


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

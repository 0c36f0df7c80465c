"""Columns with their clock in; the same on one even grid of half seconds, where relations can be looked for, out."""

from dataclasses import dataclass

import numpy as np

from pipeline.reading.cells import Place
from pipeline.reading.proposal.clock import Clock
from pipeline.reading.proposal.sampled import Column
from pipeline.reading.timebase import read_timebase
from pipeline.recording import Floats

STEP_S = 0.5
_LONGEST_GAP_S = 6.0


@dataclass(frozen=True)
class Series:
    """One column of numbers or states, sampled: `t` (n,) s, `value` (n,); `even` (m,) its means over a second."""

    column: Column
    t: Floats
    value: Floats
    even: Floats

    @property
    def name(self) -> str:
        """Name of the column."""
        return self.column.name

    @property
    def interval_s(self) -> float:
        """Usual time between values that changed, s."""
        return float(np.median(np.diff(self.t))) if len(self.t) > 1 else np.inf


@dataclass(frozen=True)
class Grid:
    """`t` (m,) s, every half second; `series` by column name."""

    t: Floats
    series: dict[str, Series]


def to_grid(columns: tuple[Column, ...], clock: Clock, *, log_file: str) -> Grid:
    """Lay every column that holds numbers or states on the grid.

    Raises
    ------
    LogError
        The time column cannot be read.
    """
    (time,) = (column for column in columns if column.name == clock.column)
    base = read_timebase([time.cells], clock.unit, Place(log_file, clock.column, decimal_mark=","))
    t = np.arange(0.0, base.t[-1], STEP_S)
    series = {}
    for column in columns:
        if column.kind in ("number", "states") and column.name != clock.column:
            value = column.value[base.row]
            there = np.isfinite(value)
            if there.sum() >= 8:
                series[column.name] = _laid(column, base.t[there], value[there], t)
    return Grid(t, series)


def _laid(column: Column, at: Floats, value: Floats, t: Floats) -> Series:
    """Means over a second about each grid time; NaN in a gap and beyond the ends. Angles that wrap are unwrapped."""
    course = np.unwrap(value, period=360.0) if wraps(value) else value
    area = np.concatenate([[0.0], np.cumsum(0.5 * (course[1:] + course[:-1]) * np.diff(at))])
    low, high = np.clip(t - 0.5, at[0], at[-1]), np.clip(t + 0.5, at[0], at[-1])
    width = high - low
    with np.errstate(invalid="ignore", divide="ignore"):
        even = (np.interp(high, at, area) - np.interp(low, at, area)) / width
    left = np.clip(np.searchsorted(at, t, "right") - 1, 0, len(at) - 2)
    within = (t >= at[0]) & (t <= at[-1]) & (at[left + 1] - at[left] <= _LONGEST_GAP_S) & (width > 0)
    even[~within] = np.nan
    return Series(column, at, value, even)


def wraps(value: Floats) -> bool:
    """Whether values jump by nearly a full circle, and stay within one."""
    return bool(len(value) > 2 and np.ptp(value) <= 360.0 and (np.abs(np.diff(value)) > 300.0).any())


def rate(x: Floats, over_s: float = 2.0) -> Floats:
    """Change of an even series a second, (m,), over `over_s` about each time; NaN at the ends."""
    half = max(int(round(over_s / 2.0 / STEP_S)), 1)
    out = np.full(len(x), np.nan)
    out[half:-half] = (x[2 * half :] - x[: -2 * half]) / (2 * half * STEP_S)
    return out


def meaned(x: Floats, over_s: float = 2.0) -> Floats:
    """Mean over `over_s` about each time, (m,), the smoothing that `rate` implies."""
    half = max(int(round(over_s / 2.0 / STEP_S)), 1)
    kernel = np.ones(2 * half + 1)
    kernel[[0, -1]] = 0.5
    return np.convolve(x, kernel / kernel.sum(), "same") if len(x) > len(kernel) else np.full(len(x), np.nan)


@dataclass(frozen=True)
class Line:
    """y about `slope` x + `level`; `r` their correlation, `n` points, `off` the spread of y about the line."""

    slope: float
    level: float
    r: float
    n: int
    off: float


def line(x: Floats, y: Floats) -> Line | None:
    """Straight line through the points that both have, free of outliers; None where there is too little to see."""
    both = np.isfinite(x) & np.isfinite(y)
    if both.sum() < 20:
        return None
    x, y = x[both], y[both]
    for _ in range(2):
        if x.std() < 1e-12 or y.std() < 1e-12:
            return None
        slope, level = np.polyfit(x, y, 1)
        off = np.abs(y - slope * x - level)
        keep = off <= max(4.0 * float(np.median(off)) / 0.6745, 1e-12)
        x, y = x[keep], y[keep]
        if len(x) < 20:
            return None
    if x.std() < 1e-12 or y.std() < 1e-12:
        return None
    off = float((y - slope * x - level).std())
    return Line(float(slope), float(level), float(np.corrcoef(x, y)[0, 1]), len(x), off)

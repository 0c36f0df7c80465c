"""A flown log and a recorder go in; the recorded table, and its file, come out."""

from datetime import datetime
from pathlib import Path

import numpy as np
import polars as pl
from numpy.typing import NDArray

from flows.invented.flown import Flown, Sampled
from flows.invented.recorders import Column, Recorder, Word
from flows.invented.sensors import SENSORS

Floats = NDArray[np.float64]

SIDE_SPREAD = 0.002
"""How far two sensors of one quantity stand apart, as a share of its size. Our own choice."""


def record(
    flown: Flown, recorder: Recorder, *, started_at: datetime, biases: Floats, rng: np.random.Generator
) -> pl.DataFrame:
    """The table a recorder makes of a flight; `biases` (columns,) are this aircraft's constant errors in spreads."""
    row_hz = recorder.row_hz
    rows = int((flown.t[-1] - flown.t[0]) * row_hz)
    times = flown.t[0] + np.arange(rows) / row_hz
    sampled: dict[tuple[float, float, int], Sampled] = {}
    columns = [_time(times - flown.t[0], recorder, started_at)]
    for index, column in enumerate(recorder.columns):
        every = round(row_hz / column.rate_hz)
        taken = np.arange(index % every, rows, every)
        key = (column.rate_hz, column.lag_s, index % every)
        if key not in sampled:
            sampled[key] = flown.at(times[taken] - column.lag_s)
        true = SENSORS[column.key](sampled[key])
        columns += _series(column, true, taken, rows=rows, bias=float(biases[index]), rng=rng)
    return pl.DataFrame(columns)


def _series(
    column: Column,
    true: Floats,
    taken: NDArray[np.intp],
    *,
    rows: int,
    bias: float,
    rng: np.random.Generator,
) -> list[pl.Series]:
    """One channel's columns: blank but where a sample was `taken`."""
    if column.words is not None:
        return [_words(name, column.words, true > 0.5, taken, rows) for name in column.names]
    series = []
    for side, name in enumerate(column.names):
        apart = (side - 0.5 * (len(column.names) - 1)) * SIDE_SPREAD * true
        shown = true + apart + bias * column.bias + column.noise * rng.standard_normal(len(true))
        stored = np.full(rows, np.nan)
        stored[taken] = _rounded(shown * column.scale + column.offset, column.resolution)
        series.append(pl.Series(name, stored, nan_to_null=True))
    return series


def _rounded(value: Floats, resolution: float) -> Floats:
    """To the nearest step, and to as few decimals as the step has."""
    if resolution <= 0.0:
        return value
    decimals = max(0, int(np.ceil(-np.log10(resolution))) + 1)
    return np.asarray(np.round(np.round(value / resolution) * resolution, decimals))


def _words(
    name: str, words: tuple[Word, Word], true: NDArray[np.bool_], taken: NDArray[np.intp], rows: int
) -> pl.Series:
    """A switch in the recorder's words."""
    stored: list[Word | None] = [None] * rows
    for row, yes in zip(taken.tolist(), true.tolist(), strict=True):
        stored[row] = words[yes]
    return pl.Series(name, stored)


def _time(elapsed: Floats, recorder: Recorder, started_at: datetime) -> pl.Series:
    """The time column in the recorder's form."""
    name = recorder.time_column
    if recorder.time_form == "s":
        return pl.Series(name, np.round(elapsed, 4))
    if recorder.time_form == "ms":
        return pl.Series(name, np.round(elapsed * 1000.0).astype(np.int64))
    start = np.datetime64(started_at.replace(tzinfo=None), "us")
    stamps = pl.Series(name, start + np.round(elapsed * 1e6).astype("timedelta64[us]"))
    return stamps.dt.strftime("%Y-%m-%dT%H:%M:%S%.3fZ" if recorder.time_form == "iso8601" else "%H:%M:%S%.3f")


def write_log(table: pl.DataFrame, path: Path) -> None:
    """Write a table as its name's ending says."""
    endings = path.name.split(".", 1)[1]
    if endings == "parquet":
        table.write_parquet(path, compression="zstd", compression_level=3, statistics=False)
    elif endings == "csv":
        table.write_csv(path)
    else:
        table.write_csv(path, compression="gzip" if endings.endswith("gz") else "zstd")

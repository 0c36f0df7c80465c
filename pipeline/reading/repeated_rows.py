"""Rows of a table in, which of them repeat the row before in every column out."""

from collections.abc import Iterable

import numpy as np
import polars as pl
from numpy.typing import NDArray

Bools = NDArray[np.bool_]


def repeated_rows(frames: Iterable[pl.DataFrame]) -> Bools:
    """Whether each row (rows,) of a table, given in pieces that follow each other, equals the row before it."""
    pieces: list[Bools] = []
    last: pl.DataFrame | None = None
    for frame in frames:
        joined = frame if last is None else pl.concat([last, frame])
        alike = joined.select(pl.all_horizontal(pl.all().eq_missing(pl.all().shift(1)))).to_series().to_numpy().copy()
        alike[0] = False
        pieces.append(alike if last is None else alike[1:])
        last = frame.tail(1)
    return np.concatenate(pieces) if pieces else np.zeros(0, dtype=bool)

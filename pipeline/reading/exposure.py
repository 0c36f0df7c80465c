"""An exposure table in, the landings each pilot flew a month out, so that the share captured is known."""

from pathlib import Path

import polars as pl

from pipeline.reading.cell_readers import count, month, text
from pipeline.reading.typed_table import Field, read_table, repeated

_FIELDS = {
    "pilot": Field(pl.String, text, needed=True),
    "aircraft": Field(pl.String, text),
    "month": Field(pl.Date, month, needed=True),
    "landings_flown": Field(pl.Int64, count, needed=True),
}
EXPOSURE = {name: kind.dtype for name, kind in _FIELDS.items()}
"""Columns of the exposure frame; `month` is its first day."""


def read_exposure(path: Path) -> pl.DataFrame:
    """Read an exposure table; returns the columns of `EXPOSURE`, one row a pilot, aircraft and month.

    Raises
    ------
    ManifestError
        A column or value that cannot be used, or the same pilot, aircraft and month twice; with lines.
    """
    table = read_table(path, _FIELDS)
    for line, first in repeated(table.frame, ["pilot", "aircraft", "month"]):
        table.problems.append((line, f"says again what line {first} says of the same pilot, aircraft and month"))
    table.refuse()
    return table.frame.select(list(EXPOSURE))

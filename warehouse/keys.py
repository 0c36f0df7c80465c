"""Frames in, a key a row out: rows with the same content have the same key, whatever batch they came in.

Numbers count to a thousandth of their unit, far below any uncertainty, so that the last bits of a sum taken in another
order make no new measurement.
"""

import hashlib
from collections.abc import Iterable

import polars as pl

_GRID = 1000.0
_OFFSET = 0.271828
"""Cells of the grid end at values no recorder rounds to, so that a rounded value is not torn between two cells."""
_LENGTH = 32


def measured_key(landings: pl.DataFrame, contacts: pl.DataFrame, *, columns: Iterable[str]) -> pl.Series:
    """Return the key of each landing's measurement, (n,) text: the inputs and results in `columns`, and its contacts.

    The result is part of the key, since some inputs, such as a corrected wind in a manifest, show only in it.
    """
    touched = (
        contacts.sort("landing_id", "contact_index")
        .select("landing_id", _text(contacts.drop("landing_id")).alias("contacts"))
        .group_by("landing_id", maintain_order=True)
        .agg(pl.col("contacts").str.join("\x1d"))
    )
    joined = landings.select("landing_id", *columns).join(touched, on="landing_id", how="left", maintain_order="left")
    return _hashes(joined)


def content_key(frame: pl.DataFrame) -> pl.Series:
    """Return the key of each row's content, (n,) text."""
    return _hashes(frame)


def frame_sha256(frames: Iterable[pl.DataFrame]) -> str:
    """Return one hash of several frames, whatever the order of their rows."""
    digest = hashlib.sha256()
    for frame in frames:
        digest.update("\x1c".join([*frame.columns, *sorted(_hashes(frame).to_list())]).encode())
    return digest.hexdigest()


def _hashes(frame: pl.DataFrame) -> pl.Series:
    texts = frame.select(_text(frame)).to_series()
    return pl.Series([hashlib.sha256(text.encode()).hexdigest()[:_LENGTH] for text in texts], dtype=pl.String)


def _text(frame: pl.DataFrame) -> pl.Expr:
    """All of a row as one text; null differs from any value."""
    parts = [_part(name, dtype).fill_null("\x00") for name, dtype in frame.schema.items()]
    return pl.concat_str(parts, separator="\x1f")


def _part(name: str, dtype: pl.DataType) -> pl.Expr:
    column = pl.col(name)
    if dtype.is_float():
        return (column * _GRID + _OFFSET).floor().cast(pl.Int64, strict=False).cast(pl.String)
    if dtype.is_temporal():
        return column.to_physical().cast(pl.String)
    return column.cast(pl.String)

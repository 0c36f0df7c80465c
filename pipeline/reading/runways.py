"""A runway table in, typed and checked runways with their defaults out."""

from pathlib import Path

import polars as pl

from pipeline.reading.cell_readers import number, text
from pipeline.reading.exposure import read_exposure
from pipeline.reading.typed_table import Field, note_misspelt, read_table, repeated

RANGES: dict[str, tuple[float, float]] = {
    "threshold_lat": (-90.0, 90.0),
    "threshold_lon": (-180.0, 180.0),
    "true_heading_deg": (0.0, 360.0),
    "length_ft": (300.0, 30_000.0),
    "width_ft": (10.0, 1_500.0),
    "elevation_ft": (-2_000.0, 20_000.0),
    "airport_elevation_ft": (-2_000.0, 20_000.0),
    "displaced_threshold_ft": (0.0, 15_000.0),
    "slope_pct": (-25.0, 25.0),
    "aim_point_ft": (0.0, 5_000.0),
    "glidepath_deg": (1.0, 10.0),
    "threshold_crossing_height_ft": (0.0, 200.0),
    "localiser_antenna_ft": (100.0, 40_000.0),
}
"""Smallest and largest value of each column of numbers."""
_NEEDED = ("threshold_lat", "threshold_lon", "true_heading_deg", "length_ft")
ANTENNA_BEYOND_FT = 1_000.0
"""A localiser antenna stands some 1,000 ft beyond the far end (common practice)."""

__all__ = ["ANTENNA_BEYOND_FT", "RANGES", "RUNWAY", "read_exposure", "read_runways"]

RUNWAY: dict[str, type[pl.DataType]] = {"runway": pl.String, **dict.fromkeys(RANGES, pl.Float64)}
"""Columns of the runway frame; positions are of the LANDING threshold, `length_ft` of the pavement."""

_FIELDS = {
    "runway": Field(pl.String, text, needed=True),
    **{name: Field(pl.Float64, number(*limits), needed=name in _NEEDED) for name, limits in RANGES.items()},
}


def read_runways(path: Path) -> pl.DataFrame:
    """Read a runway table; returns the columns of `RUNWAY`, one row a runway end.

    Blank `displaced_threshold_ft` is 0 and blank `localiser_antenna_ft` is the length plus 1,000 ft; other blanks are
    unknown, null. Columns of other names are left out.

    Raises
    ------
    ManifestError
        A column or value that cannot be used, a runway named twice, a threshold displaced beyond the pavement; with
        lines.
    """
    table = read_table(path, _FIELDS)
    note_misspelt(table, _FIELDS)
    for line, first in repeated(table.frame.drop_nulls("runway"), ["runway"]):
        table.problems.append((line, f"names the runway of line {first} again; give each runway end its own name"))
    frame = table.frame.with_columns(
        pl.col("displaced_threshold_ft").fill_null(0.0),
        pl.col("localiser_antenna_ft").fill_null(pl.col("length_ft") + ANTENNA_BEYOND_FT),
    )
    beyond = frame.filter(pl.col("displaced_threshold_ft") >= pl.col("length_ft"))
    for line, displaced, length in beyond.select("line", "displaced_threshold_ft", "length_ft").iter_rows():
        problem = f"displaced_threshold_ft = {displaced:g} is not less than length_ft = {length:g}"
        table.problems.append((line, problem))
    table.refuse()
    return frame.select(list(RUNWAY))

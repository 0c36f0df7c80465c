"""The public-domain worldwide runway table in, runway ends in this program's own columns out, and what was refused.

One row of that table is a pavement with two ends, `le_` and `he_`. Positions are of the pavement's ends; stated
headings are rounded and sometimes magnetic or reversed; elevations are often missing; a displaced threshold that is
not stated counts as none; helipads, closed runways and rows without position are among the rest.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import polars as pl
from numpy.typing import NDArray
from pyproj import Geod

from pipeline.errors import ManifestError
from pipeline.reading.pavements import judged
from pipeline.reading.runway_names import reciprocal, written
from pipeline.reading.runways import ANTENNA_BEYOND_FT, RANGES, RUNWAY

Floats = NDArray[np.float64]

_WGS84 = Geod(ellps="WGS84")
_FT = 0.3048
_HEADING_DIFFERS_DEG = 3.0
_NUMBERS = ("latitude_deg", "longitude_deg", "elevation_ft", "heading_degT", "displaced_threshold_ft")
_NEEDED = (
    *("airport_ident", "length_ft", "width_ft", "closed", "le_ident", "he_ident"),
    *(f"{end}_{name}" for end in ("le", "he") for name in _NUMBERS),
)

HEADING_DIFFERS = "stated heading more than 3 deg off the line between the ends"
NO_SLOPE = "an elevation missing or not to be believed: no slope"


@dataclass(frozen=True)
class WorldwideRunways:
    """`runways`: the columns of `RUNWAY`, one row a runway end; `refused`: airport, runway (both ends) and reason.

    `pavements` is how many rows were read; `noted` counts what was set aside or differs among the rows taken.
    """

    runways: pl.DataFrame
    refused: pl.DataFrame
    pavements: int
    noted: dict[str, int]


def read_worldwide_runways(path: Path, *, only: Sequence[str] = ()) -> WorldwideRunways:
    """Read the worldwide table, plain or packed (.gz); `only` are airport identifiers, empty means all.

    The true heading is that of the geodesic between the ends. The landing threshold lies the displaced distance along
    it from the pavement end; `slope_pct` comes from both ends' elevations where both are stated.

    Raises
    ------
    ManifestError
        The file cannot be read, lacks a column, or holds none of the airports of `only`.
    """
    rows = _rows(path)
    if only:
        wanted = {name.strip().upper() for name in only}
        missing = sorted(wanted - set(rows["airport_ident"]))
        if missing:
            raise ManifestError(f"{path.name}: holds no airport {', '.join(missing)}; check --only")
        rows = rows.filter(pl.col("airport_ident").is_in(list(wanted)))
    pavements = judged(rows)
    good = pavements.filter(pl.col("reason").is_null())
    ends = pl.concat([_ends(good, "le", "he"), _ends(good, "he", "le")])
    both = pl.concat_str("le_ident", "he_ident", separator="/", ignore_nulls=True)
    bad = pavements.filter(pl.col("reason").is_not_null())
    return WorldwideRunways(
        runways=ends.sort("runway"),
        refused=bad.select(airport="airport_ident", runway=both, reason="reason"),
        pavements=rows.height,
        noted={
            HEADING_DIFFERS: int((good["heading_off_deg"] > _HEADING_DIFFERS_DEG).sum()),
            NO_SLOPE: good["slope_pct"].null_count(),
        },
    )


def _rows(path: Path) -> pl.DataFrame:
    try:
        text = pl.read_csv(path, infer_schema_length=0, glob=False)
    except OSError as error:
        raise ManifestError(f"{path.name}: cannot be read ({error.strerror or error}); check the path") from error
    except pl.exceptions.PolarsError as error:
        raise ManifestError(f"{path.name}: not a CSV table ({error}); bring the table as it was published") from error
    missing = [name for name in _NEEDED if name not in text.columns]
    if not missing and text.is_empty():
        raise ManifestError(f"{path.name}: holds no runways, only the names of its columns; bring the whole table")
    if missing:
        raise ManifestError(f"{path.name}: not the worldwide runway table: column {missing[0]} is missing")
    ends = {f"{end}_ident": [written(name) for name in text[f"{end}_ident"]] for end in ("le", "he")}
    le, he = ends["le_ident"], ends["he_ident"]
    numbers = [name for name in _NEEDED if name.endswith(("_ft", "_deg", "_degT"))]
    typed = text.select(
        pl.col("airport_ident").str.strip_chars().str.to_uppercase(),
        pl.col("closed").cast(pl.Float64, strict=False).fill_null(0.0) != 0.0,
        pl.Series("le_ident", [a or reciprocal(b) for a, b in zip(le, he, strict=True)], dtype=pl.String),
        pl.Series("he_ident", [b or reciprocal(a) for a, b in zip(le, he, strict=True)], dtype=pl.String),
        *(pl.col(name).cast(pl.Float64, strict=False).fill_nan(None) for name in numbers),
    )
    turned = pl.col("le_ident") > pl.col("he_ident")  # either end may come first; the lower name goes first here
    exchanged = [
        pl.when(turned).then(pl.col(f"{other}_{name}")).otherwise(pl.col(f"{this}_{name}")).alias(f"{this}_{name}")
        for name in ("ident", *_NUMBERS)
        for this, other in (("le", "he"), ("he", "le"))
    ]
    return typed.with_columns(exchanged)


def _ends(rows: pl.DataFrame, this: str, other: str) -> pl.DataFrame:
    """The landing thresholds of one end of every pavement, in the columns of `RUNWAY`."""
    displaced = rows[f"{this}_displaced_threshold_ft"].fill_null(0.0).abs()
    lon, lat, heading = (rows[f"{this}_{name}"].to_numpy() for name in ("longitude_deg", "latitude_deg", "true_deg"))
    lon, lat, _ = _WGS84.fwd(lon, lat, heading, displaced.to_numpy() * _FT)
    slope = rows["slope_pct"] * (1.0 if this == "le" else -1.0)
    believed = rows[f"{other}_elevation_ft"].is_null() | slope.is_not_null()
    found = {
        "runway": rows["airport_ident"] + " " + rows[f"{this}_ident"],
        "threshold_lat": pl.Series(lat, dtype=pl.Float64),
        "threshold_lon": pl.Series(lon, dtype=pl.Float64),
        "true_heading_deg": rows[f"{this}_true_deg"],
        "length_ft": rows["length_ft"],
        "width_ft": rows["width_ft"],
        "elevation_ft": (rows[f"{this}_elevation_ft"] + displaced * slope.fill_null(0.0) / 100.0).set(~believed, None),
        "displaced_threshold_ft": displaced,
        "slope_pct": slope,
        "localiser_antenna_ft": rows["length_ft"] - displaced + ANTENNA_BEYOND_FT,
    }
    unknown = pl.lit(None, pl.Float64)
    frame = pl.DataFrame(found).select(pl.col(name) if name in found else unknown.alias(name) for name in RUNWAY)
    limited = (pl.when(pl.col(name).is_between(*RANGES[name])).then(name) for name in ("width_ft", "elevation_ft"))
    return frame.with_columns(limited)

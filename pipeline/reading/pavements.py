"""Pavements with two ends in, the same with the line between their ends out, and why each cannot be used if it cannot.

One row a pavement: `airport_ident`, `length_ft`, `closed`, and for each end, `le_` and `he_`, its name (`ident`),
position, elevation, stated heading and displaced threshold. The lower name is `le_`.
"""

import polars as pl
from pyproj import Geod

from pipeline.reading.runway_names import reciprocal, said_heading_deg
from pipeline.reading.runways import RANGES

_WGS84 = Geod(ellps="WGS84")
_FT = 0.3048
_FIT_FT, _FIT_SHARE = 200.0, 0.03
"""The ends may lie further or less apart than the stated length by the first, or by this share (our own choice)."""
_STEEPEST_PCT = 4.0
"""A steeper slope between two ends is taken for a wrong elevation (longitudinal slopes of public runways are held to
1 or 2 %, ICAO Annex 14 volume I, chapter 3, from memory; twice that is let pass)."""
_SAME_PLACE_DEG = 0.0003
"""Rows this near each other are one pavement: about 100 ft."""
_PAD = r"^H\d*[A-Z]?$"


def judged(rows: pl.DataFrame) -> pl.DataFrame:
    """The rows with `reason` (null where usable), `apart_ft`, `le_true_deg`, `he_true_deg` and `slope_pct`.

    `heading_off_deg` is how far the stated heading is off the geodesic between the ends. The order of rows is not kept.
    """
    placed = _measured(rows.with_columns(_unusable(rows).alias("reason")))
    return _repeated(placed.with_columns(reason=pl.coalesce("reason", _misplaced())))


def _unusable(rows: pl.DataFrame) -> pl.Series:
    """Why a row cannot be used before its ends are compared, null where it can; the first reason that holds."""
    name, other, length = pl.col("le_ident"), pl.col("he_ident"), pl.col("length_ft")
    displaced = pl.sum_horizontal(pl.col(f"{end}_displaced_threshold_ft").fill_null(0.0).abs() for end in ("le", "he"))
    said = rows.with_columns(
        says=pl.Series([said_heading_deg(n) for n in rows["le_ident"]], dtype=pl.Float64),
        reciprocal=pl.Series([reciprocal(n) for n in rows["le_ident"]], dtype=pl.String),
    )
    reasons = {
        "helipad": name.str.contains(_PAD) | other.str.contains(_PAD),
        "closed": pl.col("closed"),
        "its name says no direction": pl.col("says").is_null(),
        "position of an end missing": pl.any_horizontal(_nowhere("le"), _nowhere("he")),
        "length missing or under 300 ft": length.is_null() | ~length.is_between(*RANGES["length_ft"]),
        "the names of its ends are not reciprocal": pl.col("reciprocal") != other,
        "thresholds displaced beyond its length": displaced >= length,
    }
    return said.select(pl.coalesce(pl.when(holds).then(pl.lit(why)) for why, holds in reasons.items())).to_series()


def _nowhere(end: str) -> pl.Expr:
    """Whether an end's position is missing, no position on Earth, or the origin that stands for a missing one."""
    lat, lon = pl.col(f"{end}_latitude_deg"), pl.col(f"{end}_longitude_deg")
    return lat.is_null() | lon.is_null() | (lat.abs() > 90.0) | (lon.abs() > 180.0) | ((lat == 0.0) & (lon == 0.0))


def _measured(rows: pl.DataFrame) -> pl.DataFrame:
    """The rows with the geodesic between their ends: `apart_ft`, `le_true_deg`, `he_true_deg`; null where refused."""
    known = rows["reason"].is_null()
    places = rows.select(
        pl.when(known).then(f"{end}_{axis}_deg").otherwise(0.0).alias(f"{end}_{axis}")
        for end in ("le", "he")
        for axis in ("longitude", "latitude")
    )
    le_lon, le_lat, he_lon, he_lat = (column.to_numpy() for column in places.iter_columns())
    there, back, apart = _WGS84.inv(le_lon, le_lat, he_lon, he_lat)
    slope = (pl.col("he_elevation_ft") - pl.col("le_elevation_ft")) / pl.col("length_ft") * 100.0
    off = (pl.col("le_true_deg") - pl.col("le_heading_degT") + 180.0) % 360.0 - 180.0
    line = pl.DataFrame({"apart_ft": apart / _FT, "le_true_deg": there % 360.0, "he_true_deg": back % 360.0})
    return (
        pl.concat([rows, line.select(pl.when(known).then(pl.all()))], how="horizontal")
        .with_columns(says_deg=pl.Series([said_heading_deg(name) for name in rows["le_ident"]], dtype=pl.Float64))
        .with_columns(heading_off_deg=off.abs(), slope_pct=pl.when(slope.abs() <= _STEEPEST_PCT).then(slope))
    )


def _misplaced() -> pl.Expr:
    """Why ends that are known cannot be where they are said to be; null where they can."""
    turned = ((pl.col("le_true_deg") - pl.col("says_deg") + 180.0) % 360.0 - 180.0).abs()
    fit = pl.max_horizontal(pl.lit(_FIT_FT), _FIT_SHARE * pl.col("length_ft"))
    return (
        pl.when((pl.col("apart_ft") - pl.col("length_ft")).abs() > fit)
        .then(pl.lit("its ends are not its length apart"))
        .when(turned > 90.0)
        .then(pl.lit("its ends are exchanged: their names and positions disagree"))
    )


def _repeated(rows: pl.DataFrame) -> pl.DataFrame:
    """The rows with a reason where an airport names a runway twice: the later of two alike, both of two that differ."""
    good = rows.filter(pl.col("reason").is_null())
    pair = ["airport_ident", "le_ident"]
    places = [pl.col(f"{end}_{axis}_deg") for end in ("le", "he") for axis in ("latitude", "longitude")]
    apart = pl.max_horizontal((place.max() - place.min()).over(pair) for place in places)
    again = (
        pl.when(pl.len().over(pair) == 1)
        .then(None)
        .when(apart > _SAME_PLACE_DEG)
        .then(pl.lit("named twice, at different places"))
        .when(pl.int_range(pl.len()).over(pair) > 0)
        .then(pl.lit("twice in the table"))
    )
    return pl.concat([rows.filter(pl.col("reason").is_not_null()), good.with_columns(reason=again)])

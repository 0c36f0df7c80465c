"""Runway tables in order of precedence in, one table out: a user's own runway stands over an imported one.

An imported runway end gives way to one of the same name, and to one at the same place under another name.
"""

import numpy as np
import polars as pl
from numpy.typing import NDArray
from pyproj import Geod

Bools = NDArray[np.bool_]

_WGS84 = Geod(ellps="WGS84")
_FT = 0.3048
_SAME_ALONG_FT, _SAME_ACROSS_FT, _SAME_HEADING_DEG = 4_000.0, 250.0, 10.0
"""Two thresholds this near along and across the runway, with headings this near, are one runway end: a displaced
threshold lies within the first, the centrelines of parallel runways further apart than the second."""


def one_table(own: pl.DataFrame, imported: pl.DataFrame) -> pl.DataFrame:
    """The runways of `own`, then those of `imported` that are none of them by name or place."""
    others = imported.join(own, on="runway", how="anti", maintain_order="left")
    if own.is_empty() or others.is_empty():
        return pl.concat([own, others])
    return pl.concat([own, others.filter(~pl.Series(_same_end(own, others), dtype=pl.Boolean))])


def _same_end(own: pl.DataFrame, others: pl.DataFrame) -> Bools:
    """Whether each of `others` (n,) is a runway end of `own`, by place and heading."""
    same = np.zeros(others.height, dtype=bool)
    lat, lon, heading = (others[name].to_numpy() for name in ("threshold_lat", "threshold_lon", "true_heading_deg"))
    for at_lat, at_lon, runs in own.select("threshold_lat", "threshold_lon", "true_heading_deg").iter_rows():
        turned = np.abs((heading - runs + 180.0) % 360.0 - 180.0)
        near = np.flatnonzero((np.abs(lat - at_lat) < 0.02) & (turned < _SAME_HEADING_DEG))
        if not len(near):
            continue
        azimuth, _, apart = _WGS84.inv(np.full(len(near), at_lon), np.full(len(near), at_lat), lon[near], lat[near])
        angle = np.radians(np.asarray(azimuth) - runs)
        along, across = np.asarray(apart) / _FT * np.cos(angle), np.asarray(apart) / _FT * np.sin(angle)
        same[near] |= (np.abs(along) < _SAME_ALONG_FT) & (np.abs(across) < _SAME_ACROSS_FT)
    return same

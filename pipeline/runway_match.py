"""Which runway a landing was on, by where the aircraft is and which way it goes.

Goes in: position and track at the anchor, the runway table. Comes out: the runway's name, None where none fits.
"""

import numpy as np
import polars as pl
from numpy.typing import NDArray
from pyproj import Geod

Floats = NDArray[np.float64]
Texts = NDArray[np.object_]

_WGS84 = Geod(ellps="WGS84")
_FT = 0.3048
_TRACK_WITHIN_DEG = 25.0
_ACROSS_WITHIN_FT = 1000.0
_BEFORE_FT, _BEYOND_FT = 12_000.0, 500.0
"""A place counts as on a runway's course from this far before its threshold to this far beyond its end."""


def match_runways(lat: Floats, lon: Floats, track_deg: Floats, *, runways: pl.DataFrame) -> Texts:
    """Name of the runway each place (n,) belongs to, (n,); the least lateral offset wins; None without a match.

    A track that is NaN does not rule a runway out by itself; a place that is NaN matches none.
    """
    names: Texts = np.full(len(lat), None, dtype=object)
    placed = np.flatnonzero(np.isfinite(lat) & np.isfinite(lon))
    if not len(placed) or runways.is_empty():
        return names
    heading = runways["true_heading_deg"].to_numpy()
    r_lat, r_lon = runways["threshold_lat"].to_numpy(), runways["threshold_lon"].to_numpy()
    length = runways["length_ft"].fill_null(10_000.0).to_numpy()
    label = runways["runway"].to_list()
    for i in placed:
        near = np.flatnonzero((np.abs(r_lat - lat[i]) < 0.1) & (np.abs(r_lon - lon[i]) < 0.2))
        if not len(near):
            continue
        azimuth, _, distance = _WGS84.inv(
            r_lon[near], r_lat[near], np.full(len(near), lon[i]), np.full(len(near), lat[i])
        )
        angle = np.radians(np.asarray(azimuth) - heading[near])
        along, across = np.asarray(distance) / _FT * np.cos(angle), np.abs(np.asarray(distance) / _FT * np.sin(angle))
        turned = np.abs((track_deg[i] - heading[near] + 180.0) % 360.0 - 180.0)
        fits = (along > -_BEFORE_FT) & (along < length[near] + _BEYOND_FT) & (across < _ACROSS_WITHIN_FT)
        fits &= ~(turned > _TRACK_WITHIN_DEG)
        if fits.any():
            names[i] = label[near[np.argmin(np.where(fits, across, np.inf))]]
    return names

"""Which runway a landing was on, by where the aircraft is and which way it goes.

Goes in: position and track at the anchor, the runway table. Comes out: the runway's name, or why there is none.
"""

from dataclasses import dataclass

import numpy as np
import polars as pl
from numpy.typing import NDArray
from pyproj import Geod
from sklearn.neighbors import BallTree

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Texts = NDArray[np.object_]

_WGS84 = Geod(ellps="WGS84")
_FT = 0.3048
_EARTH_M = 6_371_008.8
_TRACK_WITHIN_DEG = 25.0
_ACROSS_WITHIN_FT = 1000.0
_BEFORE_FT, _BEYOND_FT = 12_000.0, 500.0
"""A place counts as on a runway's course from this far before its threshold to this far beyond its end."""
_ACROSS_U_FT, _TRACK_U_DEG = 100.0, 8.0
"""How far a place and a track on a runway lie from its centreline and heading, as standard deviations: rounding of
positions and tables, drift, a heading standing for the track. Our own choice."""
_MOVED_M = 100.0
"""Places must lie this far apart to tell a direction."""
_CLEARLY = 4.0
"""Difference of the squared standardised distances at which one runway is told from the next: odds of about 7 to 1."""

NO_POSITION, NONE_FITS, SEVERAL_FIT = "no position", "none fits", "several fit"


@dataclass(frozen=True)
class Matches:
    """`runway` (n,): name or None; `why` (n,): None, or why there is no name.

    `no position`: the log has none there; `none fits`: no runway of the table lies there in that direction; `several
    fit`: two or more do, and place and track cannot tell between them.
    """

    runway: Texts
    why: Texts


def course_deg(lat: Floats, lon: Floats) -> Floats:
    """Direction of flight (n,), deg true, from the first to the last known of each row of places (n, k).

    NaN where fewer than two are known, or they are too near each other to tell.
    """
    known = np.isfinite(lat) & np.isfinite(lon)
    rows = np.arange(len(lat))
    first, last = known.argmax(axis=1), known.shape[1] - 1 - known[:, ::-1].argmax(axis=1)
    some = known.any(axis=1)
    here, there = ([np.where(some, axis[rows, at], 0.0) for axis in (lon, lat)] for at in (first, last))
    azimuth, _, distance = _WGS84.inv(here[0], here[1], there[0], there[1])
    return np.where(np.asarray(distance) > _MOVED_M, np.mod(azimuth, 360.0), np.nan)


@dataclass(frozen=True)
class _Pairs:
    """Every place with every runway near it, in order of place: indices, and how far off centreline and heading."""

    place: Ints
    runway: Ints
    off: Floats


def match_runways(lat: Floats, lon: Floats, track_deg: Floats, *, runways: pl.DataFrame) -> Matches:
    """Find the runway each place (n,) belongs to: on its course, in its direction, and clearly nearer than the next.

    Of parallel runways the one with the least lateral offset wins, of crossing ones the one along the track. A track
    that is NaN rules no runway out; a place that is NaN matches none.
    """
    names: Texts = np.full(len(lat), None, dtype=object)
    why: Texts = np.full(len(lat), NONE_FITS, dtype=object)
    known = np.isfinite(lat) & np.isfinite(lon)
    why[~known] = NO_POSITION
    if not known.any() or runways.is_empty():
        return Matches(names, why)
    pairs = _fitting(np.flatnonzero(known), lat, lon, track_deg, runways)
    place, best, margin = _best(pairs)
    clear = margin >= _CLEARLY
    label = runways["runway"].to_numpy()
    names[place[clear]] = label[best[clear]]
    why[place[clear]] = None
    why[place[~clear]] = SEVERAL_FIT
    return Matches(names, why)


def _near(at: Ints, lat: Floats, lon: Floats, runways: pl.DataFrame) -> tuple[Ints, Ints]:
    """Pairs (m,) of places and runways whose threshold is in reach of the place."""
    thresholds = np.radians(runways.select("threshold_lat", "threshold_lon").to_numpy())
    longest = float(np.asarray(runways["length_ft"].fill_null(10_000.0).max()))
    reach = (max(_BEFORE_FT, longest + _BEYOND_FT) + _ACROSS_WITHIN_FT) * _FT * 1.01 / _EARTH_M
    tree = BallTree(thresholds, metric="haversine")
    found = tree.query_radius(np.radians(np.column_stack([lat[at], lon[at]])), r=reach)
    return np.repeat(at, [len(each) for each in found]), np.concatenate(found).astype(np.int64)


def _fitting(at: Ints, lat: Floats, lon: Floats, track_deg: Floats, runways: pl.DataFrame) -> _Pairs:
    """The pairs in which the place is on the runway's course and goes its way."""
    place, runway = _near(at, lat, lon, runways)
    heading = runways["true_heading_deg"].to_numpy()[runway]
    length = runways["length_ft"].fill_null(10_000.0).to_numpy()[runway]
    r_lat, r_lon = (runways[name].to_numpy()[runway] for name in ("threshold_lat", "threshold_lon"))
    azimuth, _, distance = _WGS84.inv(r_lon, r_lat, lon[place], lat[place])
    angle = np.radians(np.asarray(azimuth) - heading)
    along, across = np.asarray(distance) / _FT * np.cos(angle), np.asarray(distance) / _FT * np.sin(angle)
    turned = (track_deg[place] - heading + 180.0) % 360.0 - 180.0
    fits = (along > -_BEFORE_FT) & (along < length + _BEYOND_FT) & (np.abs(across) < _ACROSS_WITHIN_FT)
    fits &= ~(np.abs(turned) > _TRACK_WITHIN_DEG)
    off = (across / _ACROSS_U_FT) ** 2 + (np.nan_to_num(turned) / _TRACK_U_DEG) ** 2
    return _Pairs(place[fits], runway[fits], off[fits])


def _best(pairs: _Pairs) -> tuple[Ints, Ints, Floats]:
    """Each place with a pair (k,), its best runway (k,), and how much worse the next one is (k,); inf without one."""
    order = np.lexsort((pairs.off, pairs.place))
    place, runway, off = pairs.place[order], pairs.runway[order], pairs.off[order]
    first = np.flatnonzero(np.diff(place, prepend=-1) != 0)
    after = np.minimum(first + 1, max(len(place) - 1, 0))
    followed = (after > first) & (place[after] == place[first])
    margin = np.where(followed, off[after] - off[first], np.inf)
    return place[first], runway[first], margin

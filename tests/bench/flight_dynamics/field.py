"""The rig's one runway: where it lies, how long it is, and places along and right of it.

A tangent plane at the threshold serves both ways, so that nothing is lost between flight, truth and recording; within
2,000 ft of the threshold it departs from the ellipsoid by less than a tenth of a foot.
"""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

THRESHOLD = (45.0, 12.0)
HEADING_DEG = 72.0
ELEVATION_FT = 310.0
LENGTH_FT = 9000.0
AIM_FT = 1000.0
GLIDESLOPE_FT = 1000.0
LOCALISER_FT = LENGTH_FT + 1000.0

ALONG = float(np.cos(np.radians(HEADING_DEG)))
"""North part of a step along the runway."""
ACROSS = float(np.sin(np.radians(HEADING_DEG)))
"""East part of a step along the runway."""
_AXIS_FT, _E2 = 20925646.325, 6.69437999014e-3
_W = float(np.sqrt(1.0 - _E2 * np.sin(np.radians(THRESHOLD[0])) ** 2))
_FT_LAT = float(np.radians(_AXIS_FT * (1.0 - _E2) / _W**3))
_FT_LON = float(np.radians(_AXIS_FT / _W * np.cos(np.radians(THRESHOLD[0]))))


def shifted(x_ft: Floats | float, y_ft: Floats | float) -> tuple[Floats, Floats]:
    """Latitude and longitude, deg, of a place along and right of the runway, ft from the threshold."""
    north, east = x_ft * ALONG - y_ft * ACROSS, x_ft * ACROSS + y_ft * ALONG
    return np.asarray(THRESHOLD[0] + north / _FT_LAT), np.asarray(THRESHOLD[1] + east / _FT_LON)


def along_right(lat: Floats | float, lon: Floats | float) -> tuple[Floats, Floats]:
    """The place of a latitude and longitude along and right of the runway, ft from the threshold."""
    return turned((lat - THRESHOLD[0]) * _FT_LAT, (lon - THRESHOLD[1]) * _FT_LON)


def turned(north: Floats | float, east: Floats | float) -> tuple[Floats, Floats]:
    """A north and east part as parts along and right of the runway."""
    return np.asarray(north * ALONG + east * ACROSS), np.asarray(east * ALONG - north * ACROSS)

"""A point along and across a runway goes in; latitude and longitude on the WGS 84 ellipsoid come out."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

SEMI_MAJOR_M = 6378137.0
FLATTENING = 1.0 / 298.257223563
"""WGS 84 ellipsoid (NGA standard 0036, table 3.1; values from memory)."""


def runway_to_globe(
    along_m: Floats, right_m: Floats, *, latitude_deg: float, longitude_deg: float, heading_deg: float
) -> tuple[Floats, Floats]:
    """Latitude and longitude, deg, of points `along_m` down the runway and `right_m` of its centreline.

    Second-order series about the threshold (third-order terms are centimetres at ten miles).

    Parameters
    ----------
    along_m, right_m : (n,) metres from the landing threshold.
    latitude_deg, longitude_deg, heading_deg : the threshold and the true heading of the runway there.
    """
    heading, latitude = np.radians(heading_deg), np.radians(latitude_deg)
    north = along_m * np.cos(heading) - right_m * np.sin(heading)
    east = along_m * np.sin(heading) + right_m * np.cos(heading)
    squared = FLATTENING * (2.0 - FLATTENING)
    shrink = 1.0 - squared * np.sin(latitude) ** 2
    prime = SEMI_MAJOR_M / np.sqrt(shrink)
    meridian = prime * (1.0 - squared) / shrink
    tan = np.tan(latitude)
    curve = 1.5 * squared * np.sin(2.0 * latitude) / (2.0 * shrink)  # the meridian's radius grows poleward
    d_north = north / meridian
    d_latitude = d_north - curve * d_north**2 - tan * east**2 / (2.0 * meridian * prime)
    d_longitude = east / (prime * np.cos(latitude)) * (1.0 + tan * north / prime)
    return latitude_deg + np.degrees(d_latitude), longitude_deg + np.degrees(d_longitude)

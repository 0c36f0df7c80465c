"""Places along a runway against a geodesy library."""

import numpy as np
import pytest
from pyproj import Geod

from flows.invented.geodesy import runway_to_globe

NAUTICAL_MILE_M = 1852.0


@pytest.mark.parametrize("heading", range(0, 360, 40))
@pytest.mark.parametrize(("latitude", "longitude"), [(-43.6, -18.2), (0.5, 10.0), (62.0, -3.0)])
def test_points_agree_with_pyproj_to_a_foot_over_five_miles(heading: int, latitude: float, longitude: float) -> None:
    """A point down and right of the centreline lies where the geodesic of its bearing and distance ends."""
    along = np.array([-5.0, -3.0, 0.3, 1.5]) * NAUTICAL_MILE_M
    right = np.array([0.2, -1.0, 0.01, -0.4]) * NAUTICAL_MILE_M
    bearing = (heading + np.degrees(np.arctan2(right, along))) % 360.0
    start = np.full(4, longitude), np.full(4, latitude)
    geod = Geod(ellps="WGS84")
    lon, lat, _ = geod.fwd(*start, bearing, np.hypot(along, right))

    found = runway_to_globe(along, right, latitude_deg=latitude, longitude_deg=longitude, heading_deg=heading)

    _, _, apart = geod.inv(lon, lat, found[1], found[0])
    assert np.max(apart) < 0.3048

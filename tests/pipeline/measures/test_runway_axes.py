"""Along and across a runway, against the exact geodesic of a geodesy library."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from pyproj import Geod

from pipeline.measures.runway_axes import along_across

FT = 0.3048


@given(
    lat=st.floats(-70.0, 70.0),
    lon=st.floats(-180.0, 180.0),
    heading=st.floats(0.0, 360.0),
    azimuth=st.floats(0.0, 360.0),
    distance_m=st.floats(0.0, 20_000.0),
)
def test_it_is_the_geodesic_within_a_third_of_a_foot(lat, lon, heading, azimuth, distance_m):
    """Anywhere up to latitude 70, across the date line too, out to 20 km."""
    there_lon, there_lat, _ = Geod(ellps="WGS84").fwd(lon, lat, azimuth, distance_m)

    along, across = along_across(
        np.array([[there_lat]]),
        np.array([[there_lon]]),
        threshold_lat=np.array([lat]),
        threshold_lon=np.array([lon]),
        heading_deg=np.array([heading]),
    )

    angle = np.radians(azimuth - heading)
    assert abs(along[0, 0] - distance_m / FT * np.cos(angle)) < 0.34
    assert abs(across[0, 0] - distance_m / FT * np.sin(angle)) < 0.34

"""Positions in, distances along and across a runway out, by the mid-latitude formula on the ellipsoid.

Gauss's mid-latitude formula (for instance Jordan, Eggert, Kneissl, Handbuch der Vermessungskunde, from memory) is good
to a third of a foot over 20 km up to latitude 70, and six times quicker than the exact geodesic, which the tests hold
it to.
"""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_A_M, _F = 6378137.0, 1.0 / 298.257223563
"""Equatorial radius and flattening of WGS 84 (NGA.STND.0036)."""
_E2 = _F * (2.0 - _F)
_FT = 0.3048


def along_across(
    lat: Floats, lon: Floats, *, threshold_lat: Floats, threshold_lon: Floats, heading_deg: Floats
) -> tuple[Floats, Floats]:
    """Distance along and across the runway, ft, of positions (n, k) deg from thresholds (n,) deg; NaN where unknown.

    Along is positive down the runway, across positive right of the centreline. `heading_deg` (n,) is the runway's true
    heading at the threshold.
    """
    lat0, lon0 = np.radians(threshold_lat)[:, None], threshold_lon[:, None]
    north = np.radians(lat) - lat0
    east = np.radians((lon - lon0 + 180.0) % 360.0 - 180.0)
    sin_middle = np.sin(lat0 + 0.5 * north)
    bend = 1.0 - _E2 * sin_middle**2
    normal = _A_M / np.sqrt(bend)
    northward = normal * (1.0 - _E2) / bend * north
    eastward = normal * np.sqrt(1.0 - sin_middle**2) * east
    turned = np.radians(heading_deg)[:, None] + 0.5 * east * sin_middle
    ahead, aside = np.cos(turned), np.sin(turned)
    return (northward * ahead + eastward * aside) / _FT, (eastward * ahead - northward * aside) / _FT

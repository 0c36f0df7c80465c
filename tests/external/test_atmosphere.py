"""Air density of the invented weather against a standard-atmosphere library."""

import pytest
from ambiance import Atmosphere

from flows.invented.dynamics import density

FT = 0.3048


@pytest.mark.parametrize("height_ft", [0.0, 1000.0, 2000.0, 5000.0, 8000.0])
def test_density_is_that_of_the_standard_atmosphere(height_ft):
    """ICAO standard atmosphere as the library gives it, within 0.1 %."""
    expected = float(Atmosphere(height_ft * FT).density[0])

    assert density(height_ft * FT, 0.0) == pytest.approx(expected, rel=1e-3)

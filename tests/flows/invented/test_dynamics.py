"""Air, legs and ground effect against sources outside the project."""

import numpy as np
import pytest

from flows.invented.airframes import JET, LIGHT, Airframe
from flows.invented.dynamics import density, gear_force, ground_share
from flows.invented.units import FT, G


@pytest.mark.parametrize(
    ("height_ft", "expected"), [(0, 1.22500), (1000, 1.18955), (2000, 1.15490), (5000, 1.05555), (10000, 0.90464)]
)
def test_density_is_the_standard_atmosphere(height_ft: int, expected: float) -> None:
    """Density at the standard temperature is that of the ICAO standard atmosphere (Doc 7488), kg/m3."""
    assert expected == pytest.approx(density(height_ft * FT, 0.0), abs=2e-5)


def test_a_warm_day_is_thin() -> None:
    """At the same pressure density goes with the inverse of temperature: 28.815 K on 288.15 K is one part in eleven."""
    assert pytest.approx(density(0.0, 28.815)) == 1.225 / 1.1


@pytest.mark.parametrize("a", [JET, LIGHT])
def test_the_legs_carry_the_weight_somewhere_and_never_pull(a: Airframe) -> None:
    """Squeezed by less than half a metre they hold the weight; on the rebound they push or let go."""
    squeezed = -np.linspace(0.0, 0.5, 200)

    assert np.interp(G, gear_force(squeezed, np.zeros(200), a), -squeezed) < 0.5
    assert np.all(gear_force(squeezed, np.full(200, -5.0), a) >= 0.0)
    assert gear_force(np.array([0.2]), np.array([2.0]), a)[0] == 0.0


def test_ground_effect_at_a_tenth_of_the_span() -> None:
    """Induced drag left is (16 h/b)^2 / (1 + (16 h/b)^2): 0.7191 at h/b = 0.1 (McCormick, from memory)."""
    h = np.array([0.1 * JET.span_m - JET.wing_height_m, 1000.0])

    assert pytest.approx(ground_share(h, JET), abs=5e-5) == [0.7191, 1.0]

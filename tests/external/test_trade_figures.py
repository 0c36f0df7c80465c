"""Published or derivable figures of the trade, each with where it comes from."""

import numpy as np
import pytest
from pyproj import Geod

from pipeline.measures.conditions import components
from pipeline.measures.peak_acceleration import capture
from pipeline.measures.window import G_FPS2, KT_FPS


@pytest.mark.parametrize(
    ("speed", "angle", "head", "cross"),
    [
        (20, 30, 17.32, 10.00),
        (20, 60, 10.00, 17.32),
        (20, 90, 0.0, 20.0),
        (20, 120, -10.00, 17.32),
        (15, 180, -15.0, 0.0),
    ],
)
def test_wind_parts(speed, angle, head, cross):
    """Headwind W cos, crosswind W sin of the angle off the nose, worked by hand to two decimals."""
    found = components(np.array(float(speed)), np.array(float(angle)), np.array(0.0))

    assert (float(found[0]), float(found[1])) == pytest.approx((head, cross), abs=0.005)


@pytest.mark.parametrize(("rate_hz", "mean", "worst"), [(4.0, 0.637, 0.0), (8.0, 0.900, 0.707), (16.0, 0.974, 0.924)])
def test_peak_capture_of_a_sampled_half_sine(rate_hz, mean, worst):
    """Share of a half-sine of 0.25 s that the largest sample shows: mean sin(x)/x, worst cos(x), x = pi/(2 fs T)."""
    phase = np.linspace(0.0, 1.0, 20001)[:-1]
    offsets = (phase[:, None] + np.arange(-4, 12)) / rate_hz
    pulse = np.where((offsets >= 0.0) & (offsets <= 0.25), np.sin(np.pi * offsets / 0.25), 0.0).max(axis=1)

    stated = capture(np.array([rate_hz * 0.25 / 0.3]))[0][0]

    assert float(pulse.mean()) == pytest.approx(mean, abs=0.002)
    assert float(pulse.min()) == pytest.approx(worst, abs=0.002)
    assert float(stated) == pytest.approx(mean, abs=0.001)


def test_unit_constants():
    """1 kt is 1.687810 ft/s and standard gravity 32.174049 ft/s2, from 1 NM = 1,852 m, 1 ft = 0.3048 m, g = 9.80665."""
    assert pytest.approx(1.687810, abs=1e-6) == KT_FPS
    assert pytest.approx(32.174049, abs=1e-6) == G_FPS2


def test_a_degree_of_longitude_on_the_equator():
    """The geodesy library's inverse on WGS 84 gives 2 pi a / 360 = 111,319.49 m along the equator."""
    azimuth, _, distance = Geod(ellps="WGS84").inv(30.0, 0.0, 31.0, 0.0)

    assert distance == pytest.approx(111_319.49, abs=0.01)
    assert azimuth == pytest.approx(90.0)

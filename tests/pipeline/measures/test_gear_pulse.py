"""Tabulated gear responses against closed forms."""

import numpy as np
import pytest
from scipy.linalg import expm

from pipeline.measures.gear_pulse import GEARS, LOW_PASS_DELAY_S, pulse, tyre_s

SINCE_S = np.linspace(0.0, 0.9, 40)


@pytest.mark.parametrize("gear", range(len(GEARS)))
def test_height_and_force_after_a_touch_are_the_matrix_exponential(gear):
    """Spring, damper and lagging tyre are linear: state (height, speed, force) is expm(A u) (0, 1, 0)."""
    frequency, damping = GEARS[gear]
    lag = tyre_s(frequency, damping)
    system = np.array(
        [[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [-(frequency**2) / lag, -2.0 * damping * frequency / lag, -1.0 / lag]]
    )

    height = pulse(np.full(len(SINCE_S), gear), SINCE_S, "height")[0]

    expected = np.array([(expm(system * since) @ [0.0, 1.0, 0.0])[0] for since in SINCE_S])
    assert np.allclose(height, expected, atol=4e-3)


@pytest.mark.parametrize("gear", range(len(GEARS)))
def test_what_the_gear_takes_away_is_the_change_of_speed(gear):
    """The smoothed force, summed from before contact to 1 s after, is the speed then less the speed at contact."""
    fine = np.arange(-0.2, 1.0, 1.0 / 512.0)
    gears = np.full(len(fine), gear)

    force, height = pulse(gears, fine, "recorded")[0], pulse(gears, fine, "height")[0]

    speed = (height[-1] - height[-3]) * 256.0
    assert np.trapezoid(force, fine) == pytest.approx(speed - 1.0, abs=0.02)


def test_low_pass_delays_a_slow_force_by_its_stated_delay():
    gear = len(GEARS) - 1
    steady = np.array([0.9, 1.0])

    rises = (
        pulse(np.full(2, gear), steady, "low_passed")[2],
        pulse(np.full(2, gear), steady - LOW_PASS_DELAY_S, "recorded")[2],
    )

    assert rises[0] == pytest.approx(rises[1], rel=0.02)


def test_nothing_happens_before_contact():
    before = np.array([-5.0, -0.2])

    assert np.abs(pulse(np.zeros(2, dtype=int), before, "height")).max() == 0.0
    assert np.abs(pulse(np.zeros(2, dtype=int), before, "recorded")).max() < 1e-9

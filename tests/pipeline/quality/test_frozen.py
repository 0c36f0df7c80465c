"""Values held while the aircraft went on are told from a channel at rest."""

import numpy as np
import pytest

from pipeline.quality.frozen import frozen

T = np.arange(0.0, 60.0, 0.125)


def descent() -> np.ndarray:
    return np.round((500.0 - 8.0 * T + np.random.default_rng(2).normal(0.0, 0.3, len(T))) * 2.0) / 2.0


@pytest.mark.parametrize(("start_s", "lasts_s"), [(10.0, 3.0), (40.0, 10.0)])
def test_a_value_held_before_a_jump_is_frozen_but_for_its_first_sample(start_s, lasts_s):
    value = descent()
    held = (start_s <= T) & (start_s + lasts_s > T)
    value[held] = value[held][0]

    found = frozen(T, value)

    assert found is not None
    assert found[held][1:].all()
    assert not found[~held].any()
    assert not found[held][0]


def test_a_height_on_the_ground_and_a_speed_at_zero_are_at_rest():
    height = np.maximum(descent() - 300.0, -1.5)
    speed = np.where(T < 30.0, 0.0, 60.0 + T + np.random.default_rng(1).normal(0.0, 0.2, len(T)))

    assert frozen(T, height) is None
    assert frozen(T, speed) is None


def test_a_coarse_channel_is_not_judged():
    assert frozen(T, np.round(descent() / 25.0) * 25.0) is None

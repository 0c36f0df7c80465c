"""Estimates of many alike: nearly equal ones come together, far ones stay apart."""

import numpy as np
import pytest

from pipeline.statistics.shrinking import shrunk


def test_worked_by_hand() -> None:
    """-2, 0, 2 with variance 1 have the variance 3 between them (sum of squares 8 = 2 (1 + 3)), so 3/4 of each is kept."""
    middle, spread = shrunk(np.array([-2.0, 0.0, 2.0]), np.ones(3))

    assert middle == pytest.approx([-1.5, 0.0, 1.5], abs=1e-6)
    assert spread**2 == pytest.approx(0.75 + 0.25**2 * 4.0 / 3.0, abs=1e-6)


def test_scatter_that_chance_explains_is_taken_away() -> None:
    """Estimates that scatter less than their errors do are one value."""
    middle, _ = shrunk(np.array([1.0, 1.1, 0.9]), np.ones(3))

    assert middle == pytest.approx(1.0, abs=1e-6)


def test_known_centre_is_shrunk_to() -> None:
    """Towards zero, and with no doubt of the centre: sum of squares 27 = 3 (1 + 8), 8/9 kept of 3."""
    middle, spread = shrunk(np.full(3, 3.0), np.ones(3), centre=0.0)

    assert middle == pytest.approx(3.0 * 8.0 / 9.0, abs=1e-6)
    assert spread**2 == pytest.approx(8.0 / 9.0, abs=1e-6)


def test_intervals_cover() -> None:
    """90 % intervals of 40 true values, 200 times, cover 88 to 92 %: the error of the share is 0.4 %."""
    rng = np.random.default_rng(3)
    hits = []
    for _ in range(200):
        truth, variance = rng.normal(5.0, 1.0, 40), rng.uniform(0.3, 2.0, 40)
        middle, spread = shrunk(truth + np.sqrt(variance) * rng.standard_normal(40), variance)
        hits.append(np.abs(truth - middle) <= 1.645 * spread)

    assert 0.88 < np.mean(hits) < 0.92

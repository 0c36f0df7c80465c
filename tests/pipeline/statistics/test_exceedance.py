"""The tail above a threshold: recovered where it is known, refused where there is too little."""

import numpy as np
import pytest
from scipy.stats import genpareto

from pipeline.statistics.exceedance import Tail, beyond_tail, drawn_tails, fit_tail, return_level, tail_covariance

EXPONENTIAL = Tail(threshold=2.0, rate=0.1, scale=1.0, shape=0.0, excesses=100, log_likelihood=-100.0)


def test_tail_put_in_is_found() -> None:
    """Shape 0.2 and scale 3 of 4,000 excesses, within three standard errors; one value in five lies above."""
    excess = genpareto.rvs(0.2, scale=3.0, size=4000, random_state=5)

    tail = fit_tail(np.concatenate([np.zeros(16000), 10.0 + excess]), threshold=10.0)

    assert tail is not None
    error = np.sqrt(np.diag(tail_covariance(tail)))
    assert tail.rate == pytest.approx(0.2)
    assert abs(tail.scale - 3.0) < 3.0 * error[0]
    assert abs(tail.shape - 0.2) < 3.0 * error[1]


def test_too_few_excesses_fit_nothing() -> None:
    """29 values above the threshold are too few, 30 are not."""
    values = np.concatenate([np.zeros(500), 1.0 + genpareto.rvs(0.1, size=30, random_state=1)])

    assert fit_tail(values[:-1], threshold=0.5) is None
    assert fit_tail(values, threshold=0.5) is not None


def test_probability_by_hand() -> None:
    """A tenth lies above 2 and the rest falls as exp(-x): above 5, 0.1 exp(-3); with an end at 4, nothing above it."""
    one = np.array([5.0])

    assert beyond_tail(one, EXPONENTIAL, scale=np.ones(1), shape=np.zeros(1)) == pytest.approx(0.1 * np.exp(-3.0))
    assert beyond_tail(one, EXPONENTIAL, scale=np.ones(1), shape=np.array([-0.5])).tolist() == [0.0]


def test_return_level_is_the_inverse() -> None:
    """The level exceeded once in 1,000 has a probability of 1 / 1,000, whatever the shape."""
    for shape in (-0.2, 0.0, 0.3):
        tail = Tail(2.0, 0.1, 1.5, shape, 100, 0.0)
        level = return_level(tail, once_in=1000.0)
        found = beyond_tail(np.array([level]), tail, scale=np.array([1.5]), shape=np.array([shape]))
        assert found == pytest.approx(0.001, rel=1e-5)


def test_draws_have_the_covariance() -> None:
    """20,000 draws of the shape have the standard error of the fit; values worth half as much, the root of two more."""
    rng = np.random.default_rng(2)
    whole, half = (drawn_tails(EXPONENTIAL, draws=20_000, worth=worth, rng=rng)[1] for worth in (1.0, 0.5))

    assert np.std(whole) == pytest.approx(0.1, rel=0.03)
    assert np.std(half) == pytest.approx(0.1 * np.sqrt(2.0), rel=0.03)

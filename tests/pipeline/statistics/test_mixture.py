"""Groups of points: one where there is one, however skewed; five where there are five, far enough apart."""

import numpy as np
import pytest
from numpy.typing import NDArray
from sklearn.metrics import adjusted_rand_score
from sklearn.preprocessing import PowerTransformer

from pipeline.statistics.mixture import Mixture, assign, fit

Points = NDArray[np.float64]


def evened(x: Points) -> Points:
    """Points made as normal as a power can and pulled in, as styles are."""
    return np.clip(PowerTransformer().fit_transform(x), -3.5, 3.5)


@pytest.mark.parametrize("shape", ["normal", "skewed", "heavy"])
@pytest.mark.parametrize("n", [300, 1500])
def test_one_group_stays_one_whatever_its_shape(shape: str, n: int) -> None:
    """Normal, lognormal and t with 5 degrees of freedom, three seeds each, are one group."""
    for seed in range(3):
        rng = np.random.default_rng(seed)
        x = rng.standard_t(5, (n, 5)) if shape == "heavy" else rng.standard_normal((n, 5))
        assert fit(evened(np.exp(0.5 * x) if shape == "skewed" else x), seed=0).groups == 1


def test_five_groups_six_spreads_apart_are_five() -> None:
    """Shares 35, 25, 20, 12 and 8 %, nearest centres 6 spreads apart: found, and nearly all points put right."""
    rng = np.random.default_rng(9)
    label = rng.choice(5, 1500, p=[0.35, 0.25, 0.2, 0.12, 0.08])
    x = evened((6.0 / np.sqrt(2.0)) * np.eye(5)[label] + rng.standard_normal((1500, 5)))

    mixture = fit(x, seed=0)

    assert mixture.groups == 5
    assert adjusted_rand_score(label, assign(x, mixture)[0].argmax(axis=1)) > 0.97


def test_two_groups_too_near_are_one() -> None:
    """Two spreads apart, a group loses more than a tenth of its points to the other: one is said."""
    rng = np.random.default_rng(10)
    x = rng.standard_normal((1500, 3)) + np.where(rng.random((1500, 1)) < 0.5, 2.0, 0.0) * [1.0, 0.0, 0.0]

    assert fit(x, seed=0).groups == 1


def test_same_points_and_seed_give_the_same_mixture() -> None:
    """Nothing is left to chance."""
    x = np.random.default_rng(11).standard_normal((400, 4))

    assert np.array_equal(fit(x, seed=3).means, fit(x, seed=3).means)


TWO = Mixture(np.array([0.5, 0.5]), np.array([[0.0, 0.0], [6.0, 0.0]]), np.array([np.eye(2)] * 2), np.array([0, 1]))


def test_posterior_worked_by_hand() -> None:
    """At x = 2 between unit Gaussians at 0 and 6 the odds are exp((16 - 4) / 2) to 1; half way they are even."""
    posterior, _ = assign(np.array([[2.0, 0.0], [3.0, 1.0]]), TWO)

    assert posterior[0, 0] == pytest.approx(np.exp(6.0) / (1.0 + np.exp(6.0)))
    assert posterior[1] == pytest.approx([0.5, 0.5])


def test_missing_coordinate_is_left_out_of_the_verdict() -> None:
    """Without the first coordinate the two cannot be told apart; without the second they can."""
    posterior, near = assign(np.array([[np.nan, 0.5], [0.0, np.nan]]), TWO)

    assert posterior[0] == pytest.approx([0.5, 0.5])
    assert posterior[1, 0] > 0.999
    assert near[1] == pytest.approx(1.0)


def test_far_point_is_near_no_part() -> None:
    """Five spreads off in one of two coordinates: chance exp(-25 / 2) of the chi-square with two degrees."""
    assert assign(np.array([[0.0, 5.0]]), TWO)[1][0] == pytest.approx(np.exp(-12.5))


def test_joined_parts_share_their_group() -> None:
    """Two parts of one group add up."""
    joined = Mixture(TWO.weights, TWO.means, TWO.covariances, np.array([0, 0]))

    assert assign(np.array([[3.0, 0.0]]), joined)[0][0, 0] == pytest.approx(1.0)

"""An onset is found where it was put, and not where there was none."""

import numpy as np
import pytest

from pipeline.measures.onset import GRID_S, ONSETS_S, Departure, log_odds

MODEL = Departure(
    memory_s=8.0,
    noise=0.2,
    level=20.0,
    slope=0.05,
    delay_s=0.0,
    first_rate=0.78,
    first_s=1.0,
    later_rate=0.39,
    rate_spread=0.6,
    rate_memory_s=1.5,
)


@pytest.fixture
def wandering():
    """Many courses that wander by 0.4 about a level, with an 8 s memory, from a fixed seed."""
    rng = np.random.default_rng(20261125)
    apart = np.abs(GRID_S[:, None] - GRID_S)
    root = np.linalg.cholesky(0.4**2 * np.exp(-apart / 8.0) + 1e-9 * np.eye(len(GRID_S)))
    return rng.standard_normal((400, len(GRID_S))) @ root.T


@pytest.mark.parametrize("onset", [-11.0, -6.5, -3.0])
def test_a_ramp_in_still_air_is_found_to_a_quarter_second(onset):
    """2 deg at 1 deg/s on a line of -0.05 deg/s."""
    course = 2.5 - 0.05 * GRID_S + np.clip(GRID_S - onset, 0.0, 2.0)
    odds = log_odds(course[None], np.array([0.1]), MODEL)[0]

    assert ONSETS_S[np.argmax(odds)] == pytest.approx(onset, abs=0.25)
    assert odds.max() > 10.0


def test_odds_of_wander_alone_average_to_even(wandering):
    """Mean odds against a true model are 1 (the martingale property of a likelihood ratio), so high odds are rare."""
    noisy = wandering + 0.2 * np.random.default_rng(3).standard_normal(wandering.shape)
    odds = np.exp(log_odds(noisy, np.full(len(noisy), 0.4), MODEL)).mean(axis=1)

    assert (odds > 20.0).mean() <= 0.05
    assert 0.2 < odds.mean() < 3.0


def test_odds_do_not_depend_on_the_level_or_the_company(wandering):
    """A bias of the channel and the other landings of a batch change nothing."""
    some = wandering[:5]
    sizes = np.array([0.2, 0.4, 0.8, 0.4, 0.2])

    together = log_odds(some, sizes, MODEL)
    assert together == pytest.approx(log_odds(some + 3.0, sizes, MODEL), abs=0.01)
    assert together[3] == pytest.approx(log_odds(some[3:4], sizes[3:4], MODEL)[0], abs=0.01)


def test_more_wander_makes_the_same_rise_less_certain():
    """The same ramp counts for less where the nose always moves."""
    course = (np.clip(GRID_S + 5.0, 0.0, 2.0) * 0.6)[None]

    calm, rough = (log_odds(course, np.array([size]), MODEL).max() for size in (0.1, 1.0))
    assert calm > rough + 3.0

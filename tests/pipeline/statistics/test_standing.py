"""Standing: ranks, correlation within sessions, and scores freed of it."""

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.special import ndtri

from pipeline.statistics.standing import freed_of_session, lay_out, normal_scores, session_correlation


def alike(
    rng: np.random.Generator, sessions: int, size: int, rho: float
) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Standard normal values, any two of a session with correlation rho."""
    code = np.repeat(np.arange(sessions), size)
    shared, own = rng.standard_normal(sessions)[code], rng.standard_normal(code.size)
    return np.sqrt(rho) * shared + np.sqrt(1.0 - rho) * own, code


def test_place_in_session_is_found_when_sessions_interleave() -> None:
    """Two aircraft flown in turn on one day are two sessions, each counted on its own."""
    assert lay_out(np.array([4, 7, 4, 7, 4, 9])).before.tolist() == [0, 0, 1, 1, 2, 0]


def test_ranks_of_members_and_of_a_newcomer() -> None:
    """Of four members the second stands at (2 - 1/2)/4; a newcomer above all stands at (4 + 1/2)/5; ties share."""
    members = np.array([1.0, 2.0, 3.0, 4.0])

    assert normal_scores(np.append(members, 9.0), members, members=4)[[1, 4]] == pytest.approx(ndtri([0.375, 0.9]))
    assert normal_scores(np.array([2.0, 2.0]), np.array([2.0, 2.0]), members=2).tolist() == [0.0, 0.0]


@pytest.mark.parametrize("rho", [0.0, 0.2, 0.4])
def test_correlation_within_sessions_is_recovered(rho: float) -> None:
    """From 500 sessions of 4 the estimate lies within 0.05 of the truth (its standard error is about 0.02)."""
    values, code = alike(np.random.default_rng(5), 500, 4, rho)

    assert session_correlation(values, code) == pytest.approx(rho, abs=0.05)


def test_correlation_without_repeats_is_the_priors() -> None:
    """Sessions of one landing say nothing of correlation: Beta(1.5, 8) cut at 0.6 has mean 0.157."""
    assert session_correlation(np.random.default_rng(2).standard_normal(50), np.arange(50)) == pytest.approx(
        0.157, abs=0.003
    )


def test_freed_scores_are_independent_with_unit_spread() -> None:
    """With the true correlation taken out, first and later landings of 4,000 sessions no longer agree."""
    values, code = alike(np.random.default_rng(6), 4000, 3, 0.3)

    freed = freed_of_session(values, lay_out(code), correlation=0.3)[0].reshape(-1, 3)

    assert np.abs(np.corrcoef(freed.T) - np.eye(3)).max() < 0.05
    assert freed.std(axis=0) == pytest.approx(1.0, abs=0.04)


def test_worth_of_a_session_is_the_classical_one() -> None:
    """The worths of m equally correlated landings add up to m / (1 + (m - 1) rho), the classical effective number."""
    _, reach = freed_of_session(np.zeros(6), lay_out(np.zeros(6, dtype=np.int64)), correlation=0.3)

    assert float(np.sum(reach**2)) == pytest.approx(6.0 / (1.0 + 5.0 * 0.3))


def test_nothing_to_free_without_correlation() -> None:
    """With correlation 0 scores stay and each landing is worth one."""
    values = np.array([0.3, -1.0, 2.0])

    freed, reach = freed_of_session(values, lay_out(np.array([0, 0, 1])), correlation=0.0)

    assert freed.tolist() == values.tolist()
    assert reach.tolist() == [1.0, 1.0, 1.0]

"""Run lengths against each other and against simulation; published tables are in tests/external."""

import numpy as np
import pytest

from pipeline.statistics.charts import cusum
from pipeline.statistics.run_length import cusum_limit, cusum_run_length, ewma_run_length, two_sided_cusum_run_length


@pytest.mark.parametrize(("k", "target"), [(0.25, 500.0), (0.375, 2000.0), (0.5, 50.0)])
def test_limit_inverts_run_length(k: float, target: float) -> None:
    """The limit found for a run length has that run length."""
    assert cusum_run_length(cusum_limit(target, k=k), k=k) == pytest.approx(target, rel=1e-6)


def test_more_nodes_change_nothing() -> None:
    """Sixty nodes are enough for the limits in use: 200 give the same length to seven digits."""
    assert cusum_run_length(9.14, k=0.375) == pytest.approx(cusum_run_length(9.14, k=0.375, nodes=200), rel=1e-7)


def test_two_sided_signals_twice_as_often_when_nothing_changed() -> None:
    """In control both sides are alike, so the pair runs half as long as one."""
    assert two_sided_cusum_run_length(4.0, k=0.5) == pytest.approx(cusum_run_length(4.0, k=0.5) / 2.0)


def test_weight_one_is_the_plain_limit_chart() -> None:
    """An EWMA without memory signals with the normal tail probability: 1 / (2 Phi(-3)) = 370.398."""
    assert ewma_run_length(3.0, weight=1.0) == pytest.approx(370.398, abs=0.001)


def test_simulated_streams_run_as_long_as_the_equation_says() -> None:
    """4,000 simulated CUSUMs (h 2, k 0.5, true mean 0.25) stop after the computed mean within 3.5 standard errors."""
    rng = np.random.default_rng(20)
    above = [cusum(row, target=0.0, slack=0.5) > 2.0 for row in rng.normal(0.25, 1.0, (4000, 400))]
    lengths = np.array([np.argmax(row) + 1 for row in above])

    assert all(row.any() for row in above)
    assert abs(lengths.mean() - cusum_run_length(2.0, k=0.5, mean=0.25)) < 3.5 * lengths.std() / np.sqrt(4000)

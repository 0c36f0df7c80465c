"""The chart recursions on values worked by hand; published examples are in tests/external."""

import numpy as np

from pipeline.statistics.charts import cusum, ewma, ewma_half_width


def test_cusum_worked_by_hand() -> None:
    """From 0 with target 10 and slack 1: 12 gives 1, 10 gives 0, 8 stays 0, 14 gives 3, 12 gives 4."""
    assert cusum(np.array([12.0, 10.0, 8.0, 14.0, 12.0]), target=10.0, slack=1.0).tolist() == [1.0, 0.0, 0.0, 3.0, 4.0]


def test_cusum_begins_at_its_head_start() -> None:
    """A head start of 2 is what the first step is added to."""
    assert cusum(np.array([0.5]), target=0.0, slack=1.0, start=2.0).tolist() == [1.5]


def test_ewma_worked_by_hand() -> None:
    """From 0 with weight 1/2: 4, 2, 0 give 2, 2, 1."""
    assert ewma(np.array([4.0, 2.0, 0.0]), weight=0.5).tolist() == [2.0, 2.0, 1.0]


def test_empty_series_give_empty_charts() -> None:
    """No observation, no point."""
    assert cusum(np.array([]), target=0.0, slack=1.0).shape == (0,)
    assert ewma(np.array([]), weight=0.1).shape == (0,)


def test_band_without_memory_is_the_plain_band() -> None:
    """With weight 1 the band is `multiple` standard deviations."""
    assert ewma_half_width(2.0, weight=1.0, multiple=3.0) == 6.0

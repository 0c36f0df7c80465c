"""When two landings parted."""

import numpy as np

from pipeline.statistics.parting import first_parting

T = np.arange(0.0, 10.0, 0.1)


def test_first_moment_that_lasts() -> None:
    """Apart by 5 from 6 s on, and for 0.2 s at 2 s, which is a bump: parted at 6 s."""
    other = np.where((T > 5.95) | ((T > 1.95) & (T < 2.15)), 5.0, 0.0)

    found = first_parting(T, np.zeros(100), other, u=1.0)

    assert found is not None
    assert np.isclose(found, 6.0)


def test_less_than_the_uncertainty_is_no_parting() -> None:
    """2.8 apart with 1 each is not beyond 2 sqrt(2); 2.9 is, from the start."""
    assert first_parting(T, np.zeros(100), np.full(100, 2.8), u=1.0) is None
    assert first_parting(T, np.zeros(100), np.full(100, 2.9), u=1.0) == 0.0


def test_gaps_part_nothing() -> None:
    """Where a trace has nothing, nothing differs."""
    assert first_parting(T, np.zeros(100), np.full(100, np.nan), u=1.0) is None

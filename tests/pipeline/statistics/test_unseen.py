"""What an unseen factor would need to be."""

import pytest

from pipeline.statistics.unseen import unseen_needed, unseen_needed_to_doubt


def test_no_difference_needs_nothing_and_a_large_one_nearly_all() -> None:
    """0 for none; towards 1 as the fault explains everything."""
    assert unseen_needed(0.0) == 0.0
    assert unseen_needed(1e6) == pytest.approx(1.0, abs=1e-3)


def test_it_is_its_own_definition() -> None:
    """With a share r of both, the bias r / sqrt(1 - r) just reaches f (Cinelli and Hazlett 2020, section 4.2)."""
    needed = unseen_needed(0.3)

    assert needed**2 / (1.0 - needed) == pytest.approx(0.3)


def test_doubt_is_nearer_than_nothing() -> None:
    """An interval that holds nothing is in doubt already; else less is needed than to explain all."""
    assert unseen_needed_to_doubt(0.1, estimate=10.0, reach=12.0) == 0.0
    assert 0.0 < unseen_needed_to_doubt(0.1, estimate=-10.0, reach=5.0) < unseen_needed(0.1)
    assert unseen_needed_to_doubt(0.0, estimate=0.0, reach=1.0) == 0.0

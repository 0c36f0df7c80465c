"""Stability of groups: those that are there are found again, those cut out of one are not."""

import numpy as np
import pytest

from pipeline.statistics.mixture import Mixture, fit
from pipeline.statistics.style_stability import stability, stability_word


def test_groups_far_apart_are_found_again() -> None:
    """Two groups 8 spreads apart overlap with themselves nearly wholly."""
    rng = np.random.default_rng(1)
    x = rng.standard_normal((400, 3)) + np.where(rng.random((400, 1)) < 0.4, 8.0, 0.0) * [1.0, 0.0, 0.0]

    found = stability(x, fit(x, seed=0, starts=2), session=np.arange(400) // 3, seed=1)

    assert found == pytest.approx([1.0, 1.0], abs=0.03)


def test_a_group_cut_in_two_is_not() -> None:
    """One round group, called two: the halves are joined again, and each is half of what it then belongs to."""
    x = np.random.default_rng(2).standard_normal((300, 2))
    centres = np.array([[-0.5, 0.0], [0.5, 0.0]])
    cut = Mixture(np.array([0.5, 0.5]), centres, np.array([np.eye(2)] * 2), np.array([0, 1]))

    found = stability(x, cut, session=np.arange(300), seed=1)

    assert found == pytest.approx([0.5, 0.5], abs=0.05)
    assert stability_word(float(found[0])) == "not shown"


def test_words() -> None:
    """Three words, their lower ends included."""
    assert [stability_word(v) for v in (0.75, 0.74, 0.60, 0.59)] == ["stable", "pattern", "pattern", "not shown"]

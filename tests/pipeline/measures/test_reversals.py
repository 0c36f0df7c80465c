"""Turns of the nose are counted where they exceed the noise."""

import numpy as np
import pytest

from pipeline.measures.reversals import reversals


@pytest.mark.parametrize(
    ("course", "turns"),
    [
        ([0, 1, 2, 3], 0),
        ([0, 2, 1.8, 3], 0),
        ([0, 2, 1, 3], 2),
        ([0, 2, 1, 0], 1),
        ([0, 2, np.nan, 1, 2, np.nan, 1], 3),
        ([3, 2, 1], 0),
        ([np.nan, np.nan, np.nan], 0),
    ],
)
def test_swings_above_the_least_are_turns(course, turns):
    """Each change of direction by at least 0.5, the first movement none."""
    assert reversals(np.array([course], dtype=float), np.array([0.5])).tolist() == [turns]


def test_mirrored_course_has_as_many_turns():
    """Up and down are alike."""
    course = np.cumsum(np.random.default_rng(1).standard_normal((50, 200)), axis=1)
    least = np.full(50, 1.5)

    assert reversals(course, least).tolist() == reversals(-course, least).tolist()
    assert reversals(course, least).sum() > 100

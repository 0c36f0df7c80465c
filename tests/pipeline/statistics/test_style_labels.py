"""Labels that stay with their styles over a refit."""

import numpy as np

from pipeline.statistics.style_labels import carried_labels

BEFORE = np.array([[0.0, 0.0], [5.0, 0.0], [0.0, 5.0]])


def test_order_does_not_matter() -> None:
    """The same styles, found in another order and a little moved, keep their labels."""
    assert carried_labels(BEFORE, BEFORE[[2, 0, 1]] + 0.2, used=3).tolist() == [2, 0, 1]


def test_new_style_gets_a_new_label_and_a_lost_one_is_not_given_again() -> None:
    """Label 1 is gone and a style far from all is label 3; where 1 was, one that comes later is 4."""
    after = np.array([[0.1, 0.0], [9.0, 9.0], [0.0, 4.9]])
    assert carried_labels(BEFORE, after, used=3).tolist() == [0, 3, 2]

    known = np.array([[0.1, 0.0], [np.nan, np.nan], [0.0, 4.9], [9.0, 9.0]])
    assert carried_labels(known, np.array([[5.0, 0.0], [9.0, 9.0]]), used=4).tolist() == [4, 3]


def test_first_fit_numbers_from_the_start() -> None:
    """Nothing before: 0, 1, ..."""
    assert carried_labels(np.empty((0, 2)), BEFORE, used=0).tolist() == [0, 1, 2]

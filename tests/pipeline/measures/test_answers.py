"""Answers: nulls carry the first reason that applies, and only nulls do."""

import numpy as np
import pytest

from pipeline.measures.answers import answer


def test_the_first_reason_wins_and_values_under_a_reason_are_dropped():
    """Reasons are tried in order; what no reason covers and is still missing is a gap."""
    found = answer(
        np.array([1.0, 2.0, np.nan, np.nan]),
        0.5,
        missing=(
            (np.array([False, True, True, False]), "no_channel"),
            (np.array([False, True, False, False]), "too_slow"),
        ),
    )

    assert found.reason.tolist() == [None, "no_channel", "no_channel", "gap"]
    assert np.isnan(found.value[1:].astype(float)).all()
    assert np.isnan(found.quality[1:]).all()
    assert (found.value[0], found.quality[0]) == (1.0, 0.5)


def test_a_reason_that_is_not_in_the_table_is_refused():
    """A misspelt reason never reaches a frame."""
    with pytest.raises(ValueError, match="unknown reason 'broken'"):
        answer(np.array([1.0]), 0.1, missing=((np.array([True]), "broken"),))

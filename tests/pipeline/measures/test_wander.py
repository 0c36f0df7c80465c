"""The size of a wander is told whatever line it rides on."""

import numpy as np
import pytest

from pipeline.measures.wander import wander
from pipeline.measures.window import COARSE


@pytest.fixture
def courses():
    """200 courses with a wander of 0.5 and a memory of 8 s, by the exact recursion of an exponential correlation."""
    rng = np.random.default_rng(7)
    keep = np.exp(-(COARSE[1] - COARSE[0]) / 8.0)
    steps = rng.standard_normal((200, len(COARSE))) * np.sqrt(1.0 - keep**2)
    course = np.empty_like(steps)
    course[:, 0] = rng.standard_normal(200)
    for k in range(1, len(COARSE)):
        course[:, k] = keep * course[:, k - 1] + steps[:, k]
    return 0.5 * course


def test_wander_is_recovered_on_any_slope(courses):
    """The mean over many approaches is 0.5 within 5 %, level or sloping."""
    level, sloping = (wander(x, lag_s=2.0, memory_s=8.0, usual=9.0) for x in (courses, courses + 4.0 + 0.1 * COARSE))

    assert np.sqrt((level**2).mean()) == pytest.approx(0.5, rel=0.05)
    assert sloping == pytest.approx(level)


def test_a_log_too_short_takes_the_usual(courses):
    """Where the approach is not in the log, nothing is told."""
    courses[:, COARSE < -15.0] = np.nan

    assert wander(courses, lag_s=2.0, memory_s=8.0, usual=0.3) == pytest.approx(np.full(200, 0.3))

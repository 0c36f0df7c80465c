"""Parts of mixed models against a published fit: reaction times of 18 people over ten days of short sleep.

Data: Belenky et al. 2003, Journal of Sleep Research 12:1-12, as shipped with the R package lme4 (data set sleepstudy)
and read in a public repository's copy. Fit: Bates, Maechler, Bolker and Walker 2015, Journal of Statistical Software
67(1), section 1.2, reaction on days with an intercept and a slope of each person's own, by restricted likelihood; its
printout as transcribed: slope 10.467 (standard error 1.546), standard deviation of slopes 5.922, of residuals 25.592.
Everybody has the same ten days, so those estimates have a closed form and moments give the restricted likelihood's.
"""

from pathlib import Path

import numpy as np
import pytest

from pipeline.recording import Floats
from pipeline.statistics.shrinking import shrunk
from pipeline.statistics.standing import session_correlation
from pipeline.statistics.within import differences

DAYS = np.arange(10.0)
SLOPE, SLOPE_ERROR, SLOPES_SD, RESIDUAL_SD = 10.467, 1.546, 5.922, 25.592


@pytest.fixture(scope="module")
def reaction() -> Floats:
    """Reaction times in ms: a row a person, a column a day."""
    return np.loadtxt(Path(__file__).with_name("sleep_reaction_ms.csv"), delimiter=",", skiprows=1)[:, 1:]


def test_slope_and_its_error_within_people(reaction: Floats) -> None:
    """Least squares within people, errors agreeing within a person, give the fixed slope and its standard error."""
    person = np.repeat(np.arange(18), 10)

    found = differences(reaction.ravel(), np.tile(DAYS, 18)[:, None], group=person, clusters=(person,))

    assert found.estimate[0] == pytest.approx(SLOPE, abs=0.0005)
    assert found.error[0] == pytest.approx(SLOPE_ERROR, abs=0.0005)


def test_slopes_are_shrunk_by_their_published_spread(reaction: Floats) -> None:
    """The part of each slope that is kept tells the standard deviation between people the shrinking works with.

    Of the reliability 5.922^2 / (5.922^2 + 25.592^2 / 82.5) = 0.8154 the shrinking loses 15/17 of what is missing to 1,
    because the spread itself is estimated from 18 people (Morris 1983).
    """
    slopes, level = np.polyfit(DAYS, reaction.T, 1)
    left = reaction - level[:, None] - slopes[:, None] * DAYS
    variance = float(np.sum(left**2)) / (18 * 8)
    squares = float(np.sum((DAYS - DAYS.mean()) ** 2))

    told, _ = shrunk(slopes, np.full(18, variance / squares))

    kept = (told - slopes.mean()) / (slopes - slopes.mean())
    lost = (1.0 - kept) * 17.0 / 15.0
    between = variance / squares * (1.0 - lost) / lost
    assert variance**0.5 == pytest.approx(RESIDUAL_SD, abs=0.0005)
    assert told.mean() == pytest.approx(SLOPE, abs=0.0005)
    assert np.sqrt(between) == pytest.approx(np.full(18, SLOPES_SD), abs=0.0005)


def test_agreement_within_people_is_the_restricted_likelihoods(reaction: Floats) -> None:
    """With an intercept of each person's own only, two days of a person agree by 0.589 once the slope is taken out.

    Standard deviations 37.12 between people and 30.99 within, as that fit prints them (from memory): 37.12^2 /
    (37.12^2 + 30.99^2) = 0.589. Ours looks from 0 to 0.6 only and leans to its prior's 0.16, so it must stand between
    0.40 and that: it is made for sessions, which agree less than people differ.
    """
    person = np.repeat(np.arange(18), 10)
    left = (reaction - SLOPE * DAYS).ravel()

    found = session_correlation(left - left.mean(), person)

    assert 0.40 < found < 0.589

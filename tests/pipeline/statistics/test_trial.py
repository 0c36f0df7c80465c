"""A trial of one: silent until its number, told once, and no change told that is not there."""

import numpy as np
import pytest

from pipeline.statistics.trial import judge
from pipeline.statistics.trial_plan import Series

DECLARED = 120


def flown(seed: int, *, after: int = 300, change: float = 0.0) -> Series:
    """Residuals of unit spread in sessions of three that agree by 0.2; a change from the declaration on."""
    rng = np.random.default_rng(seed)
    n = DECLARED + after
    code = np.arange(n) // 3
    values = np.sqrt(0.2) * rng.standard_normal(n)[code] + np.sqrt(0.8) * rng.standard_normal(n)
    return Series(values + change * (np.arange(n) >= DECLARED), code)


def test_silent_until_the_number_and_the_same_for_ever_after() -> None:
    """One landing before its number nothing is told; at it all is, and later landings change nothing."""
    series = flown(1)
    needed = judge(series, declared=DECLARED, toward="lower").needed
    assert needed is not None
    assert needed.landings is not None
    end = DECLARED + needed.landings

    early = judge(series.part(0, end - 1), declared=DECLARED, toward="lower")
    at, later = (judge(series.part(0, n), declared=DECLARED, toward="lower") for n in (end, end + 30))

    assert (early.state, early.change, early.shown) == ("under way", None, None)
    assert at.state == "reported"
    assert at == later


def test_no_change_is_seldom_told_as_one() -> None:
    """600 trials without a change: at most 6 % + two standard errors (2 %) are told as one, but some are."""
    told = [judge(flown(seed), declared=DECLARED, toward="higher").shown for seed in range(600)]

    assert 0.01 < np.mean([t is True for t in told]) < 0.08


def test_useful_change_is_found_four_times_of_five() -> None:
    """Half a spread, in 300 trials that reach their number: 80 % less two standard errors (4.6 %) are told."""
    told = [judge(flown(seed, change=0.5), declared=DECLARED, toward="higher").shown for seed in range(300)]
    reached = [t for t in told if t is not None]

    assert len(reached) > 290
    assert np.mean(reached) > 0.75


def test_what_would_have_come_back_by_itself_is_not_told_as_the_trials() -> None:
    """The last 20 before the declaration lay 1.5 low: no change is shown, and 1.5 of coming back is named."""
    series = flown(5)
    series.values[DECLARED - 20 : DECLARED] -= 1.5

    verdict = judge(series, declared=DECLARED, toward="higher")

    assert verdict.untouched == pytest.approx(1.5, abs=0.7)
    assert verdict.change is not None
    assert abs(verdict.change.effect) < 0.5
    assert verdict.change.before == DECLARED - 20


def test_other_outcomes_are_told_beside_it() -> None:
    """A change of another outcome by -2 is told within three standard errors, and its interval is below zero."""
    others = {"distance": flown(7, change=-2.0)}

    verdict = judge(flown(6, change=0.8), declared=DECLARED, toward="higher", others=others)

    (name, change), *_ = verdict.others
    assert name == "distance"
    assert abs(change.effect + 2.0) < 3.0 * (change.high - change.low) / 3.3
    assert change.high < -1.0


def test_abandoned_is_kept_and_no_baseline_is_said() -> None:
    """An abandoned trial stays one, with what it would have taken; 49 landings before are one too few."""
    series = flown(8)
    abandoned = judge(series, declared=DECLARED, toward="lower", abandoned=True)

    assert (abandoned.state, abandoned.change) == ("abandoned", None)
    assert abandoned.needed is not None
    assert judge(series, declared=49, toward="lower").state == "no baseline"
    assert judge(series, declared=50, toward="lower").state != "no baseline"

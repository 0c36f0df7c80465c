"""What all pilots of a day share is taken from the others' landings, never from a pilot's own."""

import numpy as np
import pytest

from pipeline.recording import Floats
from pipeline.statistics.fronts import COHORT_PILOTS, fronts
from pipeline.statistics.standing import Ints

DAYS = 600


def weather(rng: np.random.Generator, spread: float) -> Floats:
    """A front of some spread which keeps 0.7 of itself overnight."""
    state, days = 0.0, []
    for step in rng.standard_normal(DAYS):
        state = 0.7 * state + np.sqrt(0.51) * step
        days.append(spread * state)
    return np.array(days)


def flown(rng: np.random.Generator, pilots: int, front: Floats) -> tuple[Floats, Ints, Ints, Ints]:
    """Residuals of spread 1, days, pilots and blocks: every pilot lands once on every second day."""
    day = np.tile(np.arange(0, DAYS, 2), pilots) + np.repeat(np.arange(pilots) % 2, DAYS // 2)
    pilot = np.repeat(np.arange(pilots), DAYS // 2)
    return front[day] + rng.standard_normal(day.size), day, pilot, np.arange(day.size) // 25


def test_a_front_is_recovered_with_an_honest_uncertainty() -> None:
    """Forty pilots under fronts of 0.5: spread and overnight share within a fifth, and the error as stated.

    The 20 landings of a day alone would leave sqrt(0.25 * 0.05 / 0.30) = 0.204 of 0.5, the 19 of others 0.208; the
    neighbouring days must make up for what the blocks' means take away.
    """
    rng = np.random.default_rng(1)
    front = weather(rng, 0.5)
    y, day, pilot, block = flown(rng, 40, front)

    found = fronts(y, day, pilot=pilot, block=block)

    error = found.effect - (front - np.convolve(front, np.ones(91) / 91.0, "same"))[day]
    inner = (day > 50) & (day < DAYS - 50)
    assert found.spread == pytest.approx(0.5, rel=0.2)
    assert found.overnight == pytest.approx(0.7, abs=0.14)
    assert np.std(error[inner]) < 0.208
    assert np.mean(found.effect_u[inner]) == pytest.approx(np.std(error[inner]), rel=0.35)


def test_pilots_who_share_nothing_are_left_alone() -> None:
    """Without a front nothing is taken out in at least 19 of 20 cohorts."""
    quiet = 0
    for seed in range(20):
        rng = np.random.default_rng(seed)
        y, day, pilot, block = flown(rng, 12, np.zeros(DAYS))
        quiet += fronts(y, day, pilot=pilot, block=block).spread == 0.0

    assert quiet >= 19


def test_a_pilots_own_landings_do_not_tell_his_weather() -> None:
    """Adding anything to one pilot's landings in one block changes no effect of his by more than rounding of spreads."""
    rng = np.random.default_rng(3)
    y, day, pilot, block = flown(rng, 20, weather(rng, 0.6))
    moved = y + 1.0 * ((block == 3) & (np.arange(y.size) % 2 == 0))

    before, after = (fronts(x, day, pilot=pilot, block=block) for x in (y, moved))

    assert after.effect[pilot == 0] == pytest.approx(before.effect[pilot == 0], abs=0.03)


def test_a_lasting_change_of_everybody_is_no_weather() -> None:
    """All pilots turn 1 spread harder on day 300: of the step between the months before and after 0.9 is left in."""
    rng = np.random.default_rng(4)
    y, day, pilot, block = flown(rng, 20, weather(rng, 0.4))

    taken = fronts(y + (day >= 300), day, pilot=pilot, block=block).effect

    assert taken[(day >= 345) & (day < 500)].mean() - taken[(day > 100) & (day < 255)].mean() < 0.1


def test_too_few_pilots_share_nothing() -> None:
    """Under eight pilots, and for landings without a day, the effect is zero."""
    rng = np.random.default_rng(5)
    y, day, pilot, block = flown(rng, COHORT_PILOTS - 1, weather(rng, 0.8))
    assert not fronts(y, day, pilot=pilot, block=block).effect.any()

    y, day, pilot, block = flown(rng, 20, weather(rng, 0.8))
    day[::9] = -1
    found = fronts(y, day, pilot=pilot, block=block)
    assert not found.effect[::9].any()
    assert found.effect.any()

"""A yearly swing shared by all is found; a change of one pilot is none."""

import numpy as np
import pytest

from pipeline.recording import Floats
from pipeline.statistics.season import COHORT_YEARS, LONE_YEARS, YEAR_DAYS, season
from pipeline.statistics.standing import Ints


def flown(rng: np.random.Generator, *, pilots: int, landings: int, years: float) -> tuple[Floats, Floats, Ints, Ints]:
    """Residuals of spread 1, days, pilots and blocks of landings spread evenly over some years, each its own session."""
    days = np.sort(rng.uniform(0.0, years * YEAR_DAYS, (pilots, landings)), axis=1)
    pilot = np.repeat(np.arange(pilots), landings)
    block = np.arange(pilots * landings) // 25
    level = rng.normal(0.0, 0.7, pilots)[pilot]
    return level + rng.standard_normal(pilot.size), days.ravel(), pilot, block


def swing(days: Floats) -> Floats:
    """A season of 0.3 spreads that is highest on day 50."""
    return 0.3 * np.cos(2.0 * np.pi * (days - 50.0) / YEAR_DAYS)


@pytest.mark.parametrize(("pilots", "landings", "left"), [(12, 600, 0.06), (1, 800, 0.14)])
def test_a_season_is_recovered(pilots: int, landings: int, left: float) -> None:
    """Of a swing with an effective size of 0.21 the root mean square left is under 0.06 for twelve, 0.14 for one pilot."""
    errors = []
    for seed in range(8):
        y, days, pilot, block = flown(np.random.default_rng(seed), pilots=pilots, landings=landings, years=4.0)
        found = season(y + swing(days), days, pilot=pilot, block=block, session=np.arange(y.size))
        at = np.arange(365.0)
        errors.append(np.mean((found.effect(at)[0] - swing(at)) ** 2))

    assert np.sqrt(np.mean(errors)) < left


def test_uncertainty_of_the_season_is_honest() -> None:
    """Over 40 seeds the error at fixed days, in its stated uncertainty, has a mean square of 1 within 0.5."""
    scaled = []
    for seed in range(40):
        y, days, pilot, block = flown(np.random.default_rng(100 + seed), pilots=10, landings=150, years=3.0)
        found = season(y + swing(days), days, pilot=pilot, block=block, session=np.arange(y.size))
        at = np.array([0.0, 120.0, 240.0])
        effect, effect_u = found.effect(at)
        scaled.append(np.mean(((effect - swing(at)) / effect_u) ** 2))

    assert np.mean(scaled) == pytest.approx(1.0, abs=0.5)


def test_a_lasting_change_is_no_season() -> None:
    """A lone pilot who turns 1 spread harder in his last half year keeps more than 0.85 of it on average of 12 seeds."""
    kept = []
    for seed in range(12):
        y, days, pilot, block = flown(np.random.default_rng(200 + seed), pilots=1, landings=600, years=3.0)
        late = days > 2.5 * YEAR_DAYS
        found = season(y + late, days, pilot=pilot, block=block, session=np.arange(y.size))
        taken = found.effect(days)[0]
        kept.append(1.0 - (taken[late].mean() - taken[~late].mean()))

    assert np.mean(kept) > 0.85


@pytest.mark.parametrize(("pilots", "years"), [(1, LONE_YEARS), (7, LONE_YEARS), (8, COHORT_YEARS)])
def test_too_short_a_time_tells_no_season(pilots: int, years: float) -> None:
    """Before the years it takes nothing is taken out, after them something is."""
    for factor, found in ((0.95, False), (1.1, True)):
        y, days, pilot, block = flown(np.random.default_rng(5), pilots=pilots, landings=300, years=factor * years)

        assert season(y + swing(days), days, pilot=pilot, block=block, session=np.arange(y.size)).found is found


def test_landings_without_a_day_have_no_season() -> None:
    """A NaN day takes no part and gets no effect; a stuck measure has no season."""
    y, days, pilot, block = flown(np.random.default_rng(6), pilots=10, landings=200, years=3.0)
    days[::7] = np.nan

    effect, effect_u = season(y, days, pilot=pilot, block=block, session=np.arange(y.size)).effect(days)

    assert np.all(effect[::7] == 0.0)
    assert np.all(np.isfinite(effect_u))
    assert not season(np.zeros(y.size), days, pilot=pilot, block=block, session=np.arange(y.size)).found

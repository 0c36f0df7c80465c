"""A change is said at fixed reviews, rarely where there is none, and when it is there."""

import numpy as np
import pytest

from pipeline.recording import Floats
from pipeline.statistics.standing import Ints
from pipeline.statistics.trend import Trend, chance_at, last_review, spread_scores, trend


def sessions(rng: np.random.Generator, n: int, size: int, correlation: float) -> tuple[Floats, Ints]:
    """Standard normal values of n landings that agree within sessions of a size."""
    code = np.arange(n) // size
    shared = rng.standard_normal(n)[code]
    return np.sqrt(correlation) * shared + np.sqrt(1.0 - correlation) * rng.standard_normal(n), code


def ever_told(values: Floats, code: Ints, *, spread: bool, total: float) -> bool:
    """Whether a change is said at any review of these landings."""
    for review in range(2, values.size // 50 + 1):
        seen = values[: 50 * review]
        scores = spread_scores(seen, np.full(seen.size, 0.3)) if spread else (seen > 0.5).astype(float)
        found = trend(scores, code[: seen.size], chance=chance_at(review, total=total))
        if found is not None and found.told:
            return True
    return False


@pytest.mark.parametrize("spread", [False, True])
@pytest.mark.parametrize(("size", "correlation"), [(1, 0.0), (4, 0.15), (12, 0.3)])
def test_an_unchanged_pilot_is_hardly_ever_said_to_have_changed(spread: bool, size: int, correlation: float) -> None:  # noqa: FBT001 - a case
    """Over the reviews of 400 landings at most 10 % of 200 pilots; 3 standard errors above are 16 %."""
    rng = np.random.default_rng(20 + size)
    told = [ever_told(*sessions(rng, 400, size, correlation), spread=spread, total=0.10) for _ in range(200)]

    assert np.mean(told) <= 0.16


def test_a_real_change_is_told_with_its_size() -> None:
    """A share that rises from 0.4 to 0.8 over 300 landings is told to most pilots, within its standard error.

    The error is sqrt(12 * 0.24 / 300) = 0.098, and review 6 wants 3.27 of them at 73 degrees of freedom, so power is
    Phi(0.4 / 0.098 - 3.27) = 0.79; 60 pilots allow 0.63 at three standard errors.
    """
    rng = np.random.default_rng(31)
    found = []
    for _ in range(60):
        inside = (rng.random(300) < np.linspace(0.4, 0.8, 300)).astype(float)
        found.append(trend(inside, np.arange(300) // 4, chance=chance_at(6, total=0.05)))

    changes = [one.change for one in found if one]
    assert np.mean([one.told for one in found if one]) >= 0.63
    assert np.mean(changes) == pytest.approx(0.4, abs=0.05)
    assert np.std(changes) == pytest.approx(np.mean([one.error for one in found if one]), rel=0.3)


def test_a_spread_that_doubles_is_told_and_a_recorder_that_improves_is_not() -> None:
    """Spread from 1 to 2 over 400 landings changes the scores; noise falling from 1.5 to 0.1 at one spread does not.

    The scores rise by 0.822 * ln 2 / 2 = 0.285 with an error of 0.349 * sqrt(12 / 400) = 0.060, and review 8 wants 3.35
    of them: power Phi(1.4) = 0.92; 40 pilots allow 0.79 at three standard errors.
    """
    rng = np.random.default_rng(32)
    told, shown = [], []
    for _ in range(40):
        z = rng.standard_normal(400)
        noise = np.where(np.arange(400) < 200, 1.5, 0.1)
        for values, u, into in (
            (z * np.linspace(1.0, 2.0, 400), np.zeros(400), told),
            (z + noise * rng.standard_normal(400), noise, shown),
        ):
            found = trend(spread_scores(values, u), np.arange(400), chance=chance_at(8, total=0.05))
            assert found is not None
            into.append(found)

    assert np.mean([one.told for one in told]) >= 0.79
    assert np.mean([2.0 * one.change for one in told]) / 0.822 == pytest.approx(np.log(2.0), rel=0.25)
    assert np.mean([one.told for one in shown]) <= 0.1


def test_reviews_come_every_fifty_landings_from_the_hundredth() -> None:
    """99 landings have none, 100 the second, 149 the same, 150 the third."""
    assert [last_review(n) for n in (0, 99, 100, 149, 150)] == [None, None, 2, 2, 3]


def test_landings_needed_grow_with_the_square_of_the_error() -> None:
    """Error 0.1 in 100 landings, 3 errors to believe it: (3.84 * 0.1 / 0.2)^2 * 100 = 369 for a change of 0.2."""
    assert Trend(0.0, 0.1, 3.0).landings_needed(100, size=0.2) == 369


def test_few_sessions_tell_nothing() -> None:
    """Seven sessions, however many landings, give no trend."""
    assert trend(np.random.default_rng(1).standard_normal(140), np.arange(140) // 20, chance=0.1) is None

"""Spreads are recovered behind the recorder's noise, with intervals that hold what they say."""

import numpy as np
import pytest

from pipeline.recording import Floats
from pipeline.statistics.spread import Spreads, freedom, true_spreads


def recovered(rng: np.random.Generator, *, pilots: int, n: int, noise: float, tails: bool) -> tuple[Floats, Spreads]:
    """True spreads of some pilots (log spread N(0, 0.3)), and what is found from n landings of each."""
    true = np.exp(rng.normal(0.0, 0.3, pilots))
    z = rng.standard_t(5, (pilots, n)) / np.sqrt(5.0 / 3.0) if tails else rng.standard_normal((pilots, n))
    x = true[:, None] * z + noise * rng.standard_normal((pilots, n))
    centred = x - x.mean(axis=1, keepdims=True)
    worth = freedom(np.full(pilots, float(n)), standardised=(centred / x.std(axis=1, keepdims=True)).ravel())
    return true, true_spreads(x.var(axis=1, ddof=1), worth, np.full(pilots, noise**2))


@pytest.mark.parametrize(
    ("n", "noise", "tails"), [(10, 0.0, False), (40, 0.8, False), (300, 0.8, False), (40, 0.8, True)]
)
def test_intervals_cover_and_a_poor_recorder_makes_no_wide_pilot(n: int, noise: float, tails: bool) -> None:  # noqa: FBT001 - a case
    """Of 2,400 pilots 88 to 92 % lie inside their 90 % interval (86 to 94 % with heavy tails); bias under 4 %.

    Noise of 0.8 alone would make the spread read 28 % too wide. One standard error of the coverage is 0.6 %.
    """
    rng = np.random.default_rng(11)
    inside, off = [], []
    for _ in range(20):
        true, found = recovered(rng, pilots=120, n=n, noise=noise, tails=tails)
        inside.append(np.mean((found.low < true) & (true < found.high)))
        off.append(np.mean(np.log(found.spread / true)))

    assert np.mean(inside) == pytest.approx(0.90, abs=0.04 if tails else 0.02)
    assert abs(np.mean(off)) < 0.04


def test_shrinking_beats_the_raw_spread() -> None:
    """From 10 landings the error of the log spread is under 0.22, where that of the raw one is 0.24 and more."""
    rng = np.random.default_rng(12)
    errors = np.concatenate(
        [np.log(f.spread / t) for t, f in (recovered(rng, pilots=120, n=10, noise=0.0, tails=False) for _ in range(10))]
    )

    assert np.sqrt(np.mean(errors**2)) < 0.22


def test_one_pilot_has_an_honest_interval() -> None:
    """A lone pilot with 40 landings: 87 to 97 of 100 lie inside, with the weak prior of no cohort."""
    rng = np.random.default_rng(13)
    cases = [recovered(rng, pilots=1, n=40, noise=0.5, tails=False) for _ in range(300)]

    assert np.mean([(f.low < t) & (t < f.high) for t, f in cases]) == pytest.approx(0.92, abs=0.05)


def test_chance_of_the_widest_quarter_is_right_on_average() -> None:
    """The chances of 40 pilots add up to a quarter of them, and those really in it have more of it."""
    true, found = recovered(np.random.default_rng(14), pilots=40, n=100, noise=0.0, tails=False)
    widest = true >= np.quantile(true, 0.75)

    assert found.widest_quarter.sum() == pytest.approx(10.0, abs=0.5)
    assert found.widest_quarter[widest].mean() > 0.6
    assert found.widest_quarter[~widest].mean() < 0.2


def test_normal_values_give_one_degree_of_freedom_less_than_they_are_worth() -> None:
    """Kurtosis 3 leaves worth - 1; a kurtosis of 6 leaves two fifths of it."""
    rng = np.random.default_rng(15)
    two_spreads = np.where(rng.random(400_000) < 0.5, 1.0, 0.0)  # kurtosis of a scale mixture: 3 E s^4 / (E s^2)^2 = 6

    assert freedom(np.array([41.0]), standardised=rng.standard_normal(400_000))[0] == pytest.approx(40.0, rel=0.02)
    mixed = two_spreads * rng.standard_normal(400_000)
    assert freedom(np.array([41.0]), standardised=mixed)[0] == pytest.approx(40.0 * 2.0 / 5.0, rel=0.03)

"""Chances that a flag is real, by what came after it and by how many there are."""

import numpy as np
import pytest

from pipeline.statistics.flag_chance import chance_real, evidence


def test_evidence_is_the_ratio_of_two_likelihoods() -> None:
    """Worked by numbers: 25 landings of mean 0.8 against a baseline worth 400, the shift integrated on a fine grid.

    The mean is first lowered by (0.5 + 75 / 400) / 20; its variance is 1.2 (1 / 25 + 1 / 400).
    """
    mean, v = 0.8 - 0.6875 / 20.0, 1.2 * (1.0 / 25.0 + 1.0 / 400.0)
    step = 1e-4
    shift = np.arange(0.5 * step, 8.0, step)
    changed = 2.0 * np.exp(-0.5 * shift**2) / np.sqrt(2.0 * np.pi) * np.exp(-0.5 * (mean - shift) ** 2 / v)
    expected = np.log(changed.sum() * step) + 0.5 * mean**2 / v

    assert evidence(np.full(25, 0.8), np.ones(25), baseline_worth=400.0) == pytest.approx(expected, abs=1e-4)


def test_landings_back_at_the_usual_speak_against_a_change_and_none_say_nothing() -> None:
    """Thirty landings at the old level: odds fall; thirty at 1 spread: they rise; no landing: neither."""
    assert evidence(np.zeros(30), np.ones(30), baseline_worth=200.0) < -1.0
    assert evidence(np.ones(30), np.ones(30), baseline_worth=200.0) > 3.0
    assert evidence(np.empty(0), np.empty(0), baseline_worth=200.0) == 0.0


def test_many_more_flags_than_chance_gives_are_mostly_real() -> None:
    """Of 40 flags where 4 false ones are expected about 36 are real, of 4 about a half or less, without other evidence."""
    assert chance_real(np.zeros(40), expected_false=4.0).sum() == pytest.approx(36.0, abs=2.5)
    assert 0.1 < chance_real(np.zeros(4), expected_false=4.0).mean() < 0.5
    assert chance_real(np.empty(0), expected_false=1.0).size == 0


def test_evidence_orders_the_chances() -> None:
    """The flag whose landings went on has the larger chance; all lie between 0 and 1."""
    chance = chance_real(np.array([-200.0, -2.0, 0.0, 3.0, 200.0]), expected_false=2.0)

    assert np.all(np.diff(chance) > 0.0)
    assert 0.0 <= chance[0] < 0.01
    assert 0.99 < chance[-1] <= 1.0

"""The model of an outcome by state: coefficients, pilots' offsets and growing spread are found."""

import numpy as np
import pytest

from pipeline.statistics.outcome_model import fit_outcome, foretold


def test_what_was_put_in_is_found() -> None:
    """Slopes 15 and -20 within pilots, their own levels, and twice the spread where the second column is one wider."""
    rng = np.random.default_rng(1)
    pilot = np.repeat(np.arange(20), 100)
    level = rng.normal(1000.0, 100.0, 20)
    x = rng.standard_normal((2000, 2))
    y = level[pilot] + x @ [15.0, -20.0] + 10.0 * 2.0 ** x[:, 1] * rng.standard_normal(2000)

    model = fit_outcome(x, y, pilot, pilots=20)
    middle, usual, scale = foretold(model, np.array([[0.0, 0.0], [0.0, 1.0]]), np.array([3, 3]))

    assert model.coefficient == pytest.approx([15.0, -20.0], abs=1.5)
    assert usual == pytest.approx(level[3], abs=6.0)
    assert middle[1] - middle[0] == pytest.approx(-20.0, abs=1.5)
    assert scale[1] / scale[0] == pytest.approx(2.0, rel=0.15)


def test_a_pilot_never_seen_has_the_cohorts_level_and_its_scatter() -> None:
    """His usual value is the middle of all, and the scale carries how much pilots differ."""
    rng = np.random.default_rng(2)
    pilot = np.repeat(np.arange(30), 50)
    y = rng.normal(0.0, 100.0, 30)[pilot] + rng.standard_normal(1500)

    model = fit_outcome(rng.standard_normal((1500, 1)), y, pilot, pilots=31)

    assert model.offset[30] == pytest.approx(float(np.mean(model.offset[:30])))
    assert 70.0 < model.offset_u[30] < 130.0
    assert model.offset_u[0] < 1.0

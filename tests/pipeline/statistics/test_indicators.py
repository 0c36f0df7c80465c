"""Chances of a fault: right on average, whatever the recorder's noise."""

import numpy as np
import polars as pl
import pytest
from scipy.special import ndtr

from pipeline.statistics.indicators import calibrated, indicators, reliability


@pytest.mark.parametrize("u", [0.1, 0.5, 1.0])
def test_chances_are_right_on_average(u: float) -> None:
    """40 pilots of 100 landings, about a fifth beyond the limit: a chance of p is a fault p of the time, by slope and mean."""
    rng = np.random.default_rng(1)
    pilot = np.repeat(np.arange(40), 100)
    margin = rng.normal(-0.9, 0.5, 40)[pilot] + rng.standard_normal(4000)
    alone = ndtr((margin + u * rng.standard_normal(4000)) / u)

    chance = calibrated(alone, pilot)

    there = (margin > 0.0).astype(float)
    assert np.mean(chance) == pytest.approx(np.mean(there), abs=0.012)
    assert np.polyfit(chance, there, 1)[0] == pytest.approx(1.0, abs=0.06)


def test_chance_and_no_chance_stay_so() -> None:
    """Where everything is known the chances are 0 and 1."""
    alone = np.array([0.0, 1.0] * 50)

    assert calibrated(alone, np.repeat([0, 1], 50)) == pytest.approx(alone, abs=1e-3)


def test_rows_follow_the_landings_and_nulls_stay() -> None:
    """One column a fault asked for; a landing that cannot tell is null, and a fault nobody judged all null."""
    faults = pl.DataFrame(
        {"landing_id": ["b", "a", "c"], "fault": ["late_flare"] * 3, "probability": [0.999999, 0.000001, None]}
    )
    landings = pl.DataFrame({"landing_id": ["a", "b", "c"], "pilot": ["P", "P", "P"]})

    found = indicators(faults, landings, names=["late_flare", "float"])

    assert found.columns == ["landing_id", "late_flare", "float"]
    assert found["late_flare"].round(2).to_list() == [0.0, 1.0, None]
    assert found["float"].null_count() == 3


def test_reliability_of_known_and_of_even_chances() -> None:
    """Zeros and ones tell everything, equal chances nothing."""
    assert reliability(np.array([0.0, 1.0, 0.0, 0.0])) == pytest.approx(1.0)
    assert reliability(np.full(4, 0.25)) == 0.0

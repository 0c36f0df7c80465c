"""The pooled tail against published fits of classical data sets.

Daily rainfall in south-west England 1914-1962, 17,531 days of which 152 above 30 mm, and its fit: Coles 2001, An
Introduction to Statistical Modeling of Extreme Values, section 4.4.1. Danish fire losses above 10 and 20 million
kroner: McNeil 1997, ASTIN Bulletin 27:117-137; its figures are from memory.
"""

from pathlib import Path

import numpy as np
import polars as pl
import pytest

from pipeline.recording import Floats
from pipeline.statistics.exceedance import Tail, fit_tail, return_level, tail_covariance

DAYS = 17531


def column(name: str) -> Floats:
    """Read the one column of a fixture beside this file."""
    return pl.read_csv(Path(__file__).with_name(name)).to_series().to_numpy()


@pytest.fixture(scope="module")
def rainfall() -> Tail:
    """Fit of the rainfall; days at or under the threshold only count."""
    wet = column("coles_rainfall_above_30mm.csv")
    tail = fit_tail(np.concatenate([wet, np.zeros(DAYS - wet.size)]), threshold=30.0)
    assert tail is not None
    return tail


def test_rainfall_fit(rainfall: Tail) -> None:
    """Scale 7.44, shape 0.184, log likelihood -485.1, in the book's own digits."""
    assert rainfall.excesses == 152
    assert rainfall.scale == pytest.approx(7.44, abs=0.005)
    assert rainfall.shape == pytest.approx(0.184, abs=0.001)
    assert rainfall.log_likelihood == pytest.approx(-485.1, abs=0.05)


def test_rainfall_of_a_century(rainfall: Tail) -> None:
    """The level exceeded once in 100 years of 365 days is 106.3 mm."""
    assert return_level(rainfall, once_in=36500.0) == pytest.approx(106.3, abs=0.1)


def test_rainfall_uncertainty(rainfall: Tail) -> None:
    """Covariance (0.9188, -0.0655, 0.0102): the book's is by the observed information, ours by the expected one.

    Tolerance 15 %: the two differ by chance, of the order of 1 / sqrt(152) = 8 %.
    """
    found = tail_covariance(rainfall)
    assert [found[0, 0], found[0, 1], found[1, 1]] == pytest.approx([0.9188, -0.0655, 0.0102], rel=0.15)


@pytest.mark.parametrize(
    ("threshold", "excesses", "shape", "scale"), [(10.0, 109, 0.497, 6.98), (20.0, 36, 0.684, 9.64)]
)
def test_danish_fire(threshold: float, excesses: int, shape: float, scale: float) -> None:
    """Both published thresholds have the published number of losses, shape and scale."""
    tail = fit_tail(column("danish_fire_above_10.csv"), threshold=threshold)

    assert tail is not None
    assert tail.excesses == excesses
    assert (tail.shape, tail.scale) == (pytest.approx(shape, abs=0.001), pytest.approx(scale, abs=0.01))

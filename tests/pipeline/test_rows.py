"""Reductions over rows with gaps agree with numpy where numpy has an answer, and stay silent where it warns."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import array_shapes, arrays

from pipeline import rows

matrices = arrays(
    np.float64,
    array_shapes(min_dims=2, max_dims=2, min_side=1, max_side=9),
    elements=st.one_of(st.floats(-1e6, 1e6), st.just(np.nan)),
)


@given(matrices)
def test_reductions_agree_with_numpy_row_by_row(x):
    """Mean, median, largest, smallest and deviation of each row's values."""
    for i, row in enumerate(x):
        held = row[np.isfinite(row)]
        for ours, theirs, least in (
            (rows.mean, np.mean, 1),
            (rows.median, np.median, 1),
            (rows.largest, np.max, 1),
            (rows.smallest, np.min, 1),
            (rows.deviation, lambda v: np.std(v, ddof=1), 2),
        ):
            found = ours(x)[i]
            assert np.isnan(found) if len(held) < least else found == pytest.approx(theirs(held), abs=1e-6)


def test_interpolation_gives_grid_values_and_lines_between():
    """Values on the grid are exact; between them the line; outside, or beside a gap, nothing."""
    grid = np.array([0.0, 1.0, 2.0, 3.0])
    x = np.array([[0.0, 10.0, np.nan, 30.0]])

    assert [float(rows.at(x, grid, np.array([t]))[0]) for t in (0.0, 0.25, 1.0, 3.0)] == [0.0, 2.5, 10.0, 30.0]
    assert all(np.isnan(rows.at(x, grid, np.array([t]))[0]) for t in (-0.1, 1.5, 2.5, 3.1, np.nan))


def test_last_down_crossing_is_the_last_and_interpolated():
    """Of two falls through a level the later counts; rises do not."""
    grid = np.arange(6.0)
    x = np.array([[20.0, 5.0, 20.0, 5.0, 8.0, 20.0], [1.0, 1.0, 1.0, 1.0, 1.0, 1.0]])

    found = rows.last_down_crossing(x, grid, 10.0)

    assert found[0] == pytest.approx(2.0 + 10.0 / 15.0)
    assert np.isnan(found[1])
    assert rows.last_down_crossing(x, grid, 10.0, before=np.array([2.0, 2.0]))[0] == pytest.approx(10.0 / 15.0)


def test_first_up_crossing_is_the_first_and_interpolated():
    """Of two rises through a level the earlier counts, or the first after a given time; falls do not."""
    grid = np.arange(6.0)
    x = np.array([[5.0, 20.0, 5.0, 5.0, 20.0, 25.0], [1.0, 1.0, 1.0, 1.0, 1.0, 1.0], [20.0, 5.0, 4.0, 3.0, 2.0, 1.0]])

    found = rows.first_up_crossing(x, grid, 10.0)

    assert found[0] == pytest.approx(5.0 / 15.0)
    assert np.isnan(found[1:]).all()
    assert rows.first_up_crossing(x, grid, 10.0, after=1.0)[0] == pytest.approx(3.0 + 5.0 / 15.0)
    assert rows.first_up_crossing(x, grid, np.array([22.0, 0.0, 0.0]))[0] == pytest.approx(4.0 + 2.0 / 5.0)

"""Values repeated on faster rows are found, and nothing else is taken for it."""

import numpy as np
import pytest

from pipeline.quality.held import sampled_rows


def _course(n: int, seed: int = 3) -> np.ndarray:
    rng = np.random.default_rng(seed)
    return np.round(np.cumsum(rng.normal(0.0, 1.0, n)), 2)


@pytest.mark.parametrize("every", [2, 3, 4, 8, 16])
@pytest.mark.parametrize("cut", [0, 1])
def test_a_slower_channel_is_thinned_to_its_own_samples(every: int, cut: int) -> None:
    """Each value is kept once, on the row where it first stands, wherever in a sample the log begins."""
    course = _course(300)
    rows = np.repeat(course, every)[cut:]

    kept = sampled_rows(rows)

    assert kept is not None
    assert rows[kept].tolist() == course.tolist()
    assert (np.diff(np.flatnonzero(kept))[1:] == every).all()


def test_a_sample_that_equals_the_one_before_is_still_a_sample() -> None:
    """Where a coarse channel stays the same over several samples, it keeps all of them."""
    course = np.round(_course(400) / 2.0)
    rows = np.repeat(course, 4)

    kept = sampled_rows(rows)

    assert kept is not None
    assert int(kept.sum()) == 400
    assert rows[kept].tolist() == course.tolist()


def test_a_rate_that_does_not_divide_the_rows_is_found() -> None:
    """3 Hz on rows of 8 Hz: two or three rows a sample."""
    course = _course(300)
    rows = course[np.arange(800) * 3 // 8]

    kept = sampled_rows(rows)

    assert kept is not None
    assert abs(int(kept.sum()) - 300) <= 3


@pytest.mark.parametrize(
    "rows",
    [
        np.full(500, 7.0),
        _course(500),
        np.round(np.linspace(0.0, 50.0, 1000)),
        np.round(np.linspace(3000.0, 0.0, 2000) / 25.0) * 25.0,
        np.round(np.cumsum(np.random.default_rng(5).normal(0.0, 0.05, 3000)) / 0.5) * 0.5,
        np.round(20.0 * np.sin(np.arange(1500) / 80.0)),
        np.repeat([0.0, 1.0, 0.0, 1.0], 100),
        _course(10),
    ],
    ids=["constant", "every row", "coarse ramp", "coarse descent", "coarse wander", "coarse swing", "switch", "short"],
)
def test_a_channel_of_the_rows_own_rate_is_left_alone(rows: np.ndarray) -> None:
    """Constant, coarse, slow and quick channels are not taken for repeated ones."""
    assert sampled_rows(rows) is None


@pytest.mark.parametrize("seed", range(25))
@pytest.mark.parametrize("step", [0.1, 0.5, 2.0])
def test_coarse_wandering_channels_are_never_thinned(seed: int, step: float) -> None:
    """Runs of a coarse channel have any length, and that tells."""
    wander = np.cumsum(np.random.default_rng(seed).normal(0.0, 0.3, 1200))

    assert sampled_rows(np.round(wander / step) * step) is None

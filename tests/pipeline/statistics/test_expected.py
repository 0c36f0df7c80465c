"""What to expect of a landing: intervals that hold nine of ten, in wind and calm, of pilots known and new."""

from collections.abc import Callable

import numpy as np
import polars as pl
import pytest

from pipeline.statistics.expected import SCHEMA, expected_landings, predicted

LandingFrame = Callable[..., pl.DataFrame]


def skewed(seed: int, pilots: int, each: int) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """State, outcome, pilot and session: skewed residuals that grow with the second column and agree in a session."""
    rng = np.random.default_rng(seed)
    n = pilots * each
    pilot, session = np.repeat(np.arange(pilots), each), np.arange(n) // 3
    x = np.column_stack([rng.normal(50.0, 8.0, n), np.abs(rng.normal(6.0, 4.0, n))])
    residual = 200.0 * np.exp(0.05 * (x[:, 1] - 6.0)) * (rng.gamma(4.0, 1.0, n) - 4.0) / 2.0
    day = 60.0 * rng.standard_normal(session[-1] + 1)[session]
    return x, 1300.0 + 15.0 * (x[:, 0] - 50.0) + rng.normal(0.0, 100.0, pilots)[pilot] + day + residual, pilot, session


def test_intervals_hold_nine_of_ten_overall_and_in_each_third_of_gust() -> None:
    """Four sets of 1,800 landings: 88 to 92 % overall, 87 to 93 % in each third, and both sides miss alike."""
    held, third, above = [], [], []
    for seed in range(4):
        x, y, pilot, session = skewed(seed, 30, 60)
        low, _, high, _ = predicted(x, y, pilot=pilot, session=session)
        held.append((low <= y) & (y <= high))
        third.append(np.digitize(x[:, 1], np.quantile(x[:, 1], [1 / 3, 2 / 3])))
        above.append(y > high)
    inside, part = np.concatenate(held), np.concatenate(third)

    assert 0.88 < inside.mean() < 0.92
    assert all(0.87 < inside[part == k].mean() < 0.93 for k in range(3))
    assert 0.04 < np.mean(above) < 0.06


def test_a_new_pilots_interval_holds_too() -> None:
    """A tenth of 200 pilots have one session only, of which the model sees nothing: 84 to 95 % of 240 are held."""
    held = []
    for seed in range(4):
        x, y, pilot, session = skewed(10 + seed, 200, 12)
        new = pilot < 20
        kept = ~new | (np.arange(y.size) % 12 < 3)
        x, y, pilot, session, new = x[kept], y[kept], pilot[kept], session[kept], new[kept]
        codes = np.unique(session, return_inverse=True)[1]
        low, _, high, _ = predicted(x, y, pilot=pilot, session=codes)
        held.append(((low <= y) & (y <= high))[new])

    assert 0.84 < np.mean(held) < 0.95


def test_no_landing_tells_its_own_expectation() -> None:
    """Changing the outcomes of a session leaves what was expected of it."""
    x, y, pilot, session = skewed(3, 10, 30)
    other = y.copy()
    other[session == 4] += 5000.0

    same, moved = (predicted(x, values, pilot=pilot, session=session)[1] for values in (y, other))

    assert moved[session == 4] == pytest.approx(same[session == 4])


def test_rows_of_a_landing_frame(landing_frame: LandingFrame) -> None:
    """A threshold 10 ft higher is expected 190 ft longer; without a gate's measures there is no row of the gate."""
    height = pl.Series("threshold_height_ft", np.random.default_rng(0).normal(50.0, 8.0, 600))
    frame = landing_frame(6, 100, threshold_height_ft=height)
    frame = frame.with_columns(pl.col("touchdown_distance_ft") + 19.0 * (pl.col("threshold_height_ft") - 50.0))

    found = expected_landings(frame).filter(pl.col("outcome") == "touchdown_distance_ft")

    assert found.columns == list(SCHEMA)
    assert found["stage"].unique().to_list() == ["threshold"]
    joined = found.join(frame.select("landing_id", "threshold_height_ft"), on="landing_id")
    slope = np.polyfit(joined["threshold_height_ft"], joined["expected"] - joined["usual"], 1)[0]
    assert slope == pytest.approx(19.0, abs=5.0)


@pytest.mark.parametrize("n", [0, 1, 150])
def test_too_few_landings_expect_nothing(landing_frame: LandingFrame, n: int) -> None:
    """An empty frame of the same columns."""
    frame = landing_frame(2, 100, threshold_height_ft=pl.lit(50.0)).head(n)

    assert expected_landings(frame).schema == SCHEMA
    assert expected_landings(frame).is_empty()

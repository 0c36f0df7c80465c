"""The invented landings' truth is recovered, at a seed nothing was tuned on; the full table is printed by the script."""

import importlib.util
from pathlib import Path
from types import ModuleType

import polars as pl
import pytest

SCRIPT = Path(__file__).with_name("recovery.py")
MEDIAN_ERROR = {
    "contact_t_s": 0.06,
    "vertical_speed_at_contact_fpm": 20.0,
    "peak_g": 0.04,
    "flare_height_ft": 1.6,
    "pitch_change_deg": 0.18,
    "thrust_close_lag_s": 0.2,
    "distance_from_50ft_ft": 25.0,
    "touchdown_distance_ft": 60.0,
    "threshold_height_ft": 4.0,
    "threshold_airspeed_kt": 1.2,
    "float_time_s": 0.12,
}
"""Largest median error at 4 Hz and more: about one and a half times what the full table shows."""


@pytest.fixture(scope="module")
def recovery() -> ModuleType:
    spec = importlib.util.spec_from_file_location("recovery", SCRIPT)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def both(recovery, tmp_path_factory) -> pl.DataFrame:
    landings, truth = recovery.measured_scenario(tmp_path_factory.mktemp("recovery"), scale=0.06, seed=31)
    return recovery.compared(landings, truth).filter(pl.col("recorder_rate_hz") >= 4.0)


@pytest.mark.parametrize("name", MEDIAN_ERROR)
def test_median_error_is_small_and_uncertainty_is_honest(both, name):
    """Within twice the stated uncertainty in at least 80 of 100 landings, and not always within once."""
    held = both.drop_nulls([name, f"true_{name}"])
    error = (held[name] - held[f"true_{name}"]).abs()
    inside = error / held[f"{name}_u"]

    assert held.height > 100
    assert error.median() <= MEDIAN_ERROR[name]
    assert (inside <= 2.0).mean() >= 0.8
    assert (inside <= 1.0).mean() <= 0.97


def test_outcomes_and_bounces_are_found(both):
    """At least 97 % of outcomes right, and no bounce where there was none in more than 2 %."""
    assert (both["outcome"] == both["true_outcome"]).mean() >= 0.97
    assert ((both["bounces"] > 0) & (both["true_bounces"] == 0)).mean() <= 0.02

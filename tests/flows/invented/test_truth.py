"""Truth told from motions drawn by hand."""

import numpy as np
import pytest

from flows.invented.lane import COLUMN, HISTORY, Lane
from flows.invented.truth import lane_truth
from flows.invented.units import FT, KT


def _lane(**columns: np.ndarray) -> Lane:
    """A lane of 64 Hz: 200 ft/s along, 10 ft/s down to contact at 30 s; threshold at 24 s; nose up from 26 s."""
    t = np.arange(0.0, 40.0, 1.0 / 64.0)
    values = np.zeros((len(t), len(HISTORY)))
    drawn = {
        "x": 200.0 * FT * (t - 24.0),
        "h": np.maximum(10.0 * FT * (30.0 - t), 0.0),
        "w": np.where(t < 30.0, -10.0 * FT, 0.0),
        "u": np.full_like(t, 200.0 * FT),
        "airspeed": np.full_like(t, 120.0 * KT),
        "theta": np.radians(np.clip(t - 26.0, 0.0, 3.0)),
        "lever": np.clip((28.0 - t) / 2.0, 0.0, 0.3),
        "wheels": (t >= 30.0).astype(float),
        "nz_slow": 1.0 + 0.3 * np.exp(-(((t - 30.2) / 0.1) ** 2)),
    }
    for name, value in {**drawn, **columns}.items():
        values[:, COLUMN[name]] = value
    return Lane(t, values.astype(np.float32), 30.0, 25.5, 27.4, np.inf, 10.0 * FT)


def test_distances_and_heights_of_a_straight_descent() -> None:
    """Six seconds at 200 ft/s from the threshold; 60 ft over it; 50 ft is 5 s and 1,000 ft before contact."""
    truth = lane_truth(_lane())

    assert pytest.approx(truth["threshold_height_ft"], abs=0.01) == 60.0
    assert pytest.approx(truth["touchdown_distance_ft"], abs=0.1) == 1200.0
    assert pytest.approx(truth["distance_from_50ft_ft"], abs=1.0) == 1000.0
    assert pytest.approx(truth["float_time_s"], abs=0.01) == 1.0
    assert pytest.approx(truth["vertical_speed_at_contact_fpm"]) == -600.0
    assert pytest.approx(truth["peak_g"], abs=0.01) == 1.3


def test_flare_stands_where_the_nose_is_three_tenths_up() -> None:
    """The nose rises 1 deg/s from 26 s: 0.3 deg at 26.3 s and 37 ft; 3 deg in all; the lever starts 1.1 s later."""
    truth = lane_truth(_lane())

    assert pytest.approx(truth["flare_height_ft"], abs=0.2) == 37.0
    assert pytest.approx(truth["flare_time_s"], abs=0.02) == 3.7
    assert pytest.approx(truth["pitch_change_deg"], abs=0.1) == 3.0
    assert pytest.approx(truth["thrust_close_lag_s"], abs=0.02) == 1.1
    assert pytest.approx(truth["thrust_close_time_s"], abs=0.02) == 0.6


def test_a_nose_that_never_rises_has_no_flare() -> None:
    """Null, not zero."""
    truth = lane_truth(_lane(theta=np.zeros(2560)))

    assert truth.get("flare_height_ft") is None
    assert truth.get("pitch_change_deg") is None


@pytest.mark.parametrize(("airborne_s", "expected"), [(0.1, 0), (0.3, 1), (1.0, 1)])
def test_a_bounce_needs_a_fifth_of_a_second(airborne_s: float, expected: int) -> None:
    """Main wheels off the ground after contact for that long count once or not at all."""
    t = np.arange(0.0, 40.0, 1.0 / 64.0)
    wheels = ((t >= 30.0) & ~((t > 30.5) & (t < 30.5 + airborne_s))).astype(float)

    assert expected == lane_truth(_lane(wheels=wheels))["bounces"]


def test_no_contact_no_contact_values() -> None:
    """A go-around keeps its lowest height and nothing of a contact."""
    lane = _lane(h=np.full(2560, 80.0 * FT), wheels=np.zeros(2560))
    truth = lane_truth(Lane(lane.t, lane.values, np.inf, np.inf, np.inf, 20.0, np.nan))

    assert truth["contact_t_s"] is None
    assert pytest.approx(truth["lowest_height_ft"], abs=0.01) == 80.0
    assert "peak_g" not in truth

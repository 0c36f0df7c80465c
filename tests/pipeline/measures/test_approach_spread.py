"""Steadiness between 500 and 100 ft, on courses whose spread is known."""

import numpy as np
import pytest

PERIOD_S = 8.0
MEAN_OF_A_SECOND = np.sin(np.pi / PERIOD_S) / (np.pi / PERIOD_S)
"""What the mean of a second leaves of a sine of that period: 0.974."""


def wave(size):
    return lambda tau: size * np.sin(2.0 * np.pi * tau / PERIOD_S)


@pytest.mark.parametrize("rate_hz", [16.0, 8.0, 4.0, 1.0])
@pytest.mark.parametrize(
    ("channel", "base", "size", "measure"),
    [
        ("pitch_deg", "pitch", 0.5, "approach_pitch_sd_deg"),
        ("thrust_lever_pct", "lever", 6.0, "approach_thrust_sd_pct"),
        ("airspeed_kt", "ground_speed", 4.0, "approach_airspeed_sd_kt"),
        ("vertical_speed_fpm", "climb", 120.0, "approach_vertical_speed_sd_fpm"),
    ],
)
def test_the_spread_of_a_sine_is_its_size_over_the_root_of_two(
    flown, close, ideal, rate_hz, channel, base, size, measure
):
    """On top of the ideal course, at any rate, since a recorder only samples what is there."""
    per = 60.0 if channel == "vertical_speed_fpm" else 1.0
    found = flown({channel: lambda tau: per * getattr(ideal(), base)(tau) + wave(size)(tau)}, rate_hz=rate_hz)

    assert close(found, measure, MEAN_OF_A_SECOND * size / np.sqrt(2.0))


@pytest.mark.parametrize("rate_hz", [8.0, 4.0, 2.0, 1.0])
def test_recorder_noise_is_no_spread(flown, rate_hz):
    """A steady speed recorded with 1 kt of noise: little is left, and 0 lies within twice its uncertainty most times."""
    for seed in range(5):
        noise = np.random.default_rng(seed)
        found = flown({"airspeed_kt": lambda tau, n=noise: 140.0 + n.normal(0.0, 1.0, len(tau))}, rate_hz=rate_hz)

        assert found["approach_airspeed_sd_kt"] < 0.6
        assert found["approach_airspeed_sd_kt"] <= 2.5 * found["approach_airspeed_sd_kt_u"]


def test_lowest_glideslope_is_the_one_held_for_a_second(flown, close):
    """A dip to 0.8 dots below path for 3 s counts, a single sample at 2 dots does not."""

    def needle(tau):
        dots = np.where((tau > -30.0) & (tau < -27.0), -0.8, 0.1)
        return np.where(np.abs(tau + 20.0) < 0.07, -2.0, dots)

    assert close(flown({"glideslope_dots": needle}), "lowest_glideslope_dots", -0.8)


def test_lowest_path_is_seen_from_the_aim_point(flown, close):
    """A 3 deg path over the threshold at 50 ft stands at x = -954.06 ft in 100 ft: atan(100 / 1954.06) = 2.930 deg."""
    found = flown()

    assert close(found, "lowest_path_deg", 2.930)
    assert found["lowest_path_deg"] == pytest.approx(2.930, abs=0.05)
    assert flown(runway={"aim_point_ft": None})["lowest_path_deg_reason"] == "no_reference"


def test_mean_engine_speed(flown, close):
    """Between 500 and 100 ft, whatever it is elsewhere."""
    found = flown({"engine_speed_pct": lambda tau: np.where(tau < -8.0, 55.0, 25.0)})

    assert close(found, "approach_engine_speed_pct", 55.0)

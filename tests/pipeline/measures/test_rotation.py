"""The rotation that breaks the descent is chosen among others, and its uncertainty says when that is in doubt."""

import numpy as np
import pytest

from pipeline.measures.rotation import Rotation

FLARE_S = 4.044
"""From flare start to contact in the closed-form landing (tests/pipeline/conftest.py)."""


def ramp(tau, start, seconds, deg):
    """A straight rotation."""
    return deg * np.clip((tau - start) / seconds, 0.0, 1.0)


def test_an_earlier_gust_rotation_that_does_not_break_the_descent_is_no_flare(flown, ideal):
    """The nose rises 1 deg and falls again 11 s before contact while the path stays straight."""
    pitch = ideal().pitch

    row = flown({"pitch_deg": lambda tau: pitch(tau) + ramp(tau, -13.0, 1.0, 1.0) - ramp(tau, -11.0, 1.0, 1.0)})
    assert row["flare_time_s"] == pytest.approx(FLARE_S, abs=0.35)
    assert row["pitch_reversals"] == 0


def test_of_two_stages_the_first_is_the_flare(flown):
    """1.2 deg where the path bends, held for 1.5 s, then 1.5 deg more."""
    row = flown({"pitch_deg": lambda tau: 2.5 + ramp(tau, -4.3, 1.0, 1.2) + ramp(tau, -1.8, 1.2, 1.5)})

    assert row["flare_time_s"] == pytest.approx(4.3 - 0.25, abs=0.25)
    assert row["pitch_change_deg"] == pytest.approx(1.2, abs=0.15)


def test_pitch_and_path_agree_on_an_ideal_flare(flown):
    """The path bends at 28.9 ft, where the nose stands above its line."""
    row = flown()

    assert abs(row["flare_disagreement_ft"]) <= 2.0 * row["flare_disagreement_ft_u"]
    assert row["flare_disagreement_ft"] == pytest.approx(row["flare_height_ft"] - row["flare_height_path_ft"])


def test_starts_that_compete_make_the_answer_doubtful():
    """Weights .6 and .4 on starts 2 s apart: the answer is the heavier's, its spread the root of .4 x 2^2."""
    starts, weights = np.array([[-6.0, -4.0]]), np.array([[0.6, 0.4]])
    nothing = np.full(1, np.nan)
    turn = Rotation(
        **dict.fromkeys(
            ("start_s", "start_u_s", "sampling_u_s", "end_s", "line_deg", "rise_deg", "rise_u_deg"), nothing
        ),
        path_start_s=nothing,
        path_start_u_s=nothing,
        starts_s=starts,
        weights=weights,
        agree=np.array([[True, False]]),
        found=np.array([True]),
        shown=np.array([True]),
    )

    answer, spread = turn.settle(starts)
    assert answer.tolist() == [-6.0]
    assert spread[0] == pytest.approx(np.sqrt(0.4 * 2.0**2))


def test_reversals_of_the_nose_are_counted(flown, ideal):
    """After the rotation the nose is lowered by 1 deg and raised again: two."""
    pitch = ideal().pitch

    row = flown({"pitch_deg": lambda tau: pitch(tau) - ramp(tau, -2.2, 0.5, 1.0) + ramp(tau, -1.2, 0.5, 1.0)})
    assert row["pitch_reversals"] == 2


def test_a_bias_of_pitch_moves_no_flare(flown, ideal):
    """Instruments are off by a constant; what is left is the tilt of the accelerometer in the contact's fit."""
    pitch = ideal().pitch
    usual = flown()
    biased = flown({"pitch_deg": lambda tau: pitch(tau) + 1.7})

    assert biased["flare_height_ft"] == pytest.approx(usual["flare_height_ft"], abs=0.15)
    assert biased["pitch_change_deg"] == pytest.approx(usual["pitch_change_deg"], abs=0.01)
    assert biased["thrust_close_lag_s"] == pytest.approx(usual["thrust_close_lag_s"], abs=0.01)


def test_without_pitch_the_path_still_has_its_flare_height(flown):
    """No attitude: no flare by the nose, and the path's own height."""
    row = flown(without=("pitch_deg",))

    assert row["flare_height_ft_reason"] == "no_channel"
    assert row["flare_height_path_ft"] == pytest.approx(28.87, abs=2.0 * row["flare_height_path_ft_u"])


def test_a_landing_without_a_flare_has_no_flare_height(flown):
    """743 ft/min (12.38 ft/s, three degrees at 140 kt) down to the runway, the nose where it was but for a little."""
    row = flown(
        {
            "radio_height_ft": lambda tau: 12.38 * np.maximum(-tau, 0.0) - 2.0,
            "vertical_speed_fpm": lambda tau: np.where(tau < 0.0, -743.0, 0.0),
            "normal_accel_g": lambda tau: 1.0 + 2.0 * np.sin(np.pi * np.clip(tau / 0.3, 0.0, 1.0)),
            "pitch_deg": lambda tau: 2.5 + 0.1 * np.sin(tau) - ramp(tau, 1.5, 4.0, 4.0),
        }
    )

    assert row["flare_height_ft_reason"] == "not_reached"
    assert row["pitch_change_deg_reason"] == "not_reached"
    assert row["flare_height_path_ft_reason"] == "not_reached"

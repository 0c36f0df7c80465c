"""The final movement to idle: begun where it was put, by lever or what follows it."""

import numpy as np
import pytest


def straight(start: float, seconds: float, *, level: float = 40.0, idle: float = 0.0):
    """Lever that moves straight from `level` to `idle`."""
    return lambda tau: idle + (level - idle) * (1.0 - np.clip((tau - start) / seconds, 0.0, 1.0))


@pytest.mark.parametrize(("start", "seconds"), [(-6.0, 1.0), (-4.0, 3.0), (-9.0, 6.0), (-1.0, 0.5)])
def test_a_straight_closing_is_timed(flown, start, seconds):
    """To 0.15 s at 8 Hz, both ends: no more than a sample."""
    row = flown({"thrust_lever_pct": straight(start, seconds)})

    assert row["idle_before_contact_s"] == pytest.approx(-start - seconds, abs=0.15)
    assert row["thrust_close_time_s"] == pytest.approx(seconds, abs=0.15)


def test_of_two_stages_the_final_one_counts(flown):
    """15 % taken off 7 s before contact, the rest from 3 s before contact on."""
    row = flown(
        {
            "thrust_lever_pct": lambda tau: (
                40.0 - 15.0 * np.clip((tau + 7.0) / 0.6, 0, 1) - 25.0 * np.clip((tau + 3.0) / 1.5, 0, 1)
            )
        }
    )

    assert row["thrust_close_time_s"] == pytest.approx(1.5, abs=0.2)
    assert row["idle_before_contact_s"] == pytest.approx(1.5, abs=0.15)


def test_a_lever_that_goes_on_into_reverse_was_idle_before(flown):
    """Idle at 2 s before contact, reverse (negative) from 3 s after it."""
    row = flown({"thrust_lever_pct": lambda tau: straight(-4.0, 2.0)(tau) - 25.0 * np.clip((tau - 3.0) / 1.0, 0, 1)})

    assert row["idle_before_contact_s"] == pytest.approx(2.0, abs=0.15)


def test_thrust_closed_in_the_rollout_is_found_there(flown):
    """Begun 1.5 s after contact, idle at 2.5 s: negative, and no pitch after closing."""
    row = flown({"thrust_lever_pct": straight(1.5, 1.0)})

    assert row["idle_before_contact_s"] == pytest.approx(-2.5, abs=0.15)
    assert row["pitch_after_close_deg_reason"] == "not_reached"


@pytest.mark.parametrize("course", [straight(1e3, 1.0), straight(-4.0, 2.0, idle=12.0)], ids=["left", "not idle"])
def test_a_lever_that_never_comes_to_idle_says_so(flown, course):
    """Left where it was, or closed to a place that is not idle."""
    row = flown({"thrust_lever_pct": course})

    assert row["thrust_close_height_ft_reason"] == "not_reached"
    assert row["thrust_at_contact_pct"] > 10.0


def test_an_idle_place_a_little_off_zero_is_idle(flown):
    """A calibration that leaves 4 % at the stop."""
    row = flown({"thrust_lever_pct": straight(-4.0, 2.0, idle=4.0)})

    assert row["idle_before_contact_s"] == pytest.approx(2.0, abs=0.2)


def test_engine_speed_serves_without_a_lever_with_its_own_lag(flown):
    """A spool that follows 0.4 s late: told from engine speed, less surely; thrust at contact is the lever's alone."""

    def spool(tau):
        return 30.0 + 30.0 * (1.0 - np.clip((tau + 5.0 - 0.4) / 3.0, 0.0, 1.0))

    lever = flown({"thrust_lever_pct": straight(-5.0, 2.2)})
    row = flown({"engine_speed_pct": spool}, without=("thrust_lever_pct",))

    assert row["thrust_close_lag_s"] == pytest.approx(
        lever["thrust_close_lag_s"], abs=2.0 * row["thrust_close_lag_s_u"]
    )
    assert row["thrust_close_lag_s_u"] > 1.5 * lever["thrust_close_lag_s_u"]
    assert row["thrust_at_contact_pct_reason"] == "no_channel"


def test_engine_speed_that_does_not_fall_tells_nothing(flown):
    """Within a tenth of where it was."""
    row = flown(
        {"engine_speed_pct": lambda tau: 60.0 - 3.0 * np.clip((tau + 5.0) / 2.0, 0, 1)}, without=("thrust_lever_pct",)
    )

    assert row["thrust_close_lag_s_reason"] == "not_reached"

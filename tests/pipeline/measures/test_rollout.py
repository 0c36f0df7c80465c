"""The rollout of the ideal landing: 140 kt at contact, 5 kt a second less; and what was done to slow down."""

import numpy as np
import pytest

KT_FPS = 1.687810
G = 32.174049
FT_PER_DEG_AT_EQUATOR = 110574.2727 / 0.3048


def ramp(start_s, per_s, top):
    return lambda tau: np.clip((tau - start_s) * per_s, 0.0, top)


@pytest.mark.parametrize("rate_hz", [16.0, 8.0, 4.0, 1.0])
@pytest.mark.parametrize(
    ("name", "truth"),
    [
        ("time_to_100kt_s", 8.0),
        ("time_to_80kt_s", 12.0),
        ("time_to_60kt_s", 16.0),
        ("distance_to_100kt_ft", KT_FPS * (140.0 * 8.0 - 2.5 * 8.0**2)),
        ("distance_to_80kt_ft", KT_FPS * (140.0 * 12.0 - 2.5 * 12.0**2)),
        ("distance_to_60kt_ft", KT_FPS * (140.0 * 16.0 - 2.5 * 16.0**2)),
        ("mean_deceleration_g", 5.0 * KT_FPS / G),
        ("peak_deceleration_g", 5.0 * KT_FPS / G),
        ("runway_left_at_60kt_ft", 8000.0 - 1358.8 - KT_FPS * (140.0 * 16.0 - 2.5 * 16.0**2)),
    ],
)
def test_a_steady_deceleration_is_recovered(flown, close, rate_hz, name, truth):
    """Speed, distance and time by the equations of steady deceleration, at any rate."""
    assert close(flown(rate_hz=rate_hz), name, truth)


def test_the_hardest_two_seconds_are_the_peak(flown, close):
    """3 kt/s, but 9 kt/s between 5 and 9 s after contact: 9 x 1.68781 / 32.174 = 0.472 g."""

    def speed(tau):
        slow = 140.0 - 3.0 * np.clip(tau, 0.0, None) - 6.0 * np.clip(tau - 5.0, 0.0, 4.0)
        return np.maximum(slow, 20.0)

    found = flown({"ground_speed_kt": speed})

    assert close(found, "peak_deceleration_g", 0.472)
    assert found["mean_deceleration_g"] < 0.35


def test_slower_already_is_not_reached(flown):
    """A landing at 70 kt passes 60 kt, but neither 80 nor 100."""
    slow = flown(speed_kt=70.0, without=("latitude_deg", "longitude_deg"))

    assert slow["time_to_100kt_s_reason"] == "not_reached"
    assert slow["distance_to_80kt_ft_reason"] == "not_reached"
    assert slow["time_to_60kt_s"] == pytest.approx(2.0, abs=0.5)


def test_a_touch_and_go_never_slows_to_60_kt(flown):
    """Ten seconds on the runway, then away: what it lost until it was slowest is its deceleration."""

    def speed(tau):
        return np.where(tau < 0.0, 140.0, np.where(tau < 8.0, 140.0 - 3.0 * tau, 116.0 + 4.0 * (tau - 8.0)))

    found = flown({"ground_speed_kt": speed, "airspeed_kt": speed})

    assert found["time_to_60kt_s_reason"] == "not_reached"
    assert found["runway_left_at_60kt_ft_reason"] == "not_reached"
    assert found["mean_deceleration_g"] == pytest.approx(3.0 * KT_FPS / G, abs=0.01)


def test_largest_offset_keeps_its_side(flown, close):
    """25 ft left of the centreline 8 s after contact, 10 ft right before it, 200 ft away only at taxi speed."""

    def latitude(tau):
        y = np.interp(tau, [0.0, 4.0, 8.0, 14.0, 20.0, 24.0, 40.0], [0.0, 10.0, -25.0, 0.0, 0.0, 200.0, 200.0])
        return -y / FT_PER_DEG_AT_EQUATOR

    assert close(flown({"latitude_deg": latitude}), "rollout_lateral_max_ft", -25.0)


@pytest.mark.parametrize("rate_hz", [8.0, 4.0, 1.0])
@pytest.mark.parametrize(
    ("channel", "course", "measure", "truth"),
    [
        ("spoiler_pct", ramp(0.8, 50.0, 100.0), "spoiler_lag_s", 1.0),
        ("spoiler_pct", lambda tau: 30.0 + np.clip((tau - 0.8) * 50.0, 0.0, 60.0), "spoiler_lag_s", 1.0),
        ("reverse_pct", ramp(2.0, 25.0, 70.0), "reverse_lag_s", 2.4),
        ("brake_pct", ramp(3.0, 20.0, 45.0), "brake_lag_s", 3.5),
    ],
    ids=["spoilers", "spoilers from part out", "reverse", "brakes"],
)
def test_lags_count_from_contact_to_a_tenth(flown, close, rate_hz, channel, course, measure, truth):
    """10 % beyond the place in flight, by the ramp's own rate."""
    assert close(flown({channel: course}, rate_hz=rate_hz), measure, truth)


def test_spoilers_out_before_the_wheels_touch_have_a_negative_lag(flown, close):
    """Out half a second before contact."""
    assert close(flown({"spoiler_pct": ramp(-0.7, 50.0, 100.0)}), "spoiler_lag_s", -0.5)


def test_reverse_shows_in_levers_behind_the_stop(flown, close):
    """Levers from idle to 50 % behind the stop at 25 % a second from 3 s on reach 10 % at 3.4 s."""
    found = flown({"thrust_lever_pct": lambda tau: np.where(tau < 0.0, 20.0, -np.clip((tau - 3.0) * 25.0, 0.0, 50.0))})

    assert close(found, "reverse_lag_s", 3.4)


def test_what_was_not_used_and_what_is_not_recorded_differ(flown):
    """Spoilers that stay in are not reached; no channel, or levers that never go behind the stop, tell nothing."""
    found = flown({"spoiler_pct": lambda tau: np.zeros(len(tau))})

    assert found["spoiler_lag_s_reason"] == "not_reached"
    assert found["reverse_lag_s_reason"] == "no_channel"
    assert found["brake_lag_s_reason"] == "no_channel"


@pytest.mark.parametrize("rate_hz", [8.0, 4.0, 1.0])
def test_nose_wheel_by_its_switch(flown, close, rate_hz):
    """The switch closes 0.1 s after the wheel touches at 4.2 s."""
    found = flown({"nose_on_ground": lambda tau: (tau > 4.3).astype(float)}, rate_hz=rate_hz)

    assert close(found, "nose_lag_s", 4.2)


@pytest.mark.parametrize("rate_hz", [16.0, 8.0, 4.0])
def test_nose_wheel_by_the_attitude(flown, close, rate_hz):
    """The ideal nose falls 5.5 deg in 4 s from 1.5 s on: 0.4 deg above rest at 5.21 s, at -1.375 deg/s."""
    found = flown(rate_hz=rate_hz)

    assert close(found, "nose_lag_s", 5.21)
    assert close(found, "nose_rate_dps", -1.375)


def test_nose_wheel_first_has_a_negative_lag(flown):
    """The nose wheel's switch closes before the main wheels touch."""
    found = flown({"nose_on_ground": lambda tau: (tau > -0.4).astype(float)})

    assert found["nose_lag_s"] == pytest.approx(-0.5, abs=0.2)


def test_a_nose_held_up_long_is_not_told_by_an_earlier_dip(flown):
    """Without a switch a nose that dips 0.9 deg at 1.5 s and falls at 9 s is not taken to have touched at 1.5 s."""

    def pitch(tau):
        rise = 3.0 * np.clip((tau + 4.5) / 2.5, 0.0, 1.0)
        dip = 0.9 * np.clip((tau - 1.2) / 0.5, 0.0, 1.0)
        return 2.5 + rise - dip - 4.6 * np.clip((tau - 9.0) / 2.0, 0.0, 1.0)

    found = flown({"pitch_deg": pitch}, rate_hz=8.0)

    assert found["nose_lag_s"] is None
    assert found["nose_lag_s_reason"] == "out_of_range"


def test_a_nose_switch_that_is_always_on_tells_nothing(flown):
    """Without pitch there is nothing else to go by."""
    stuck = flown({"nose_on_ground": lambda tau: np.ones(len(tau))}, without=("pitch_deg",))

    assert stuck["nose_lag_s"] is None
    assert stuck["nose_lag_s_reason"] in ("implausible", "no_channel")


def bounce(tau):
    """Wheels on at 0, off from 0.6 to 1.6 s."""
    return ((tau > 0.02) & (tau < 0.6)) | (tau >= 1.6)


def test_the_second_contact_of_a_bounce_is_the_firmest_and_where_it_settled(flown, close):
    """The second contact 1.6 s later pushes twice as hard; till there 140 kt less 5 kt/s is 367 ft."""

    def accel(tau):
        first = 0.4 * np.sin(np.pi * np.clip(tau / 0.3, 0.0, 1.0))
        return 1.0 + first + 0.8 * np.sin(np.pi * np.clip((tau - 1.6) / 0.3, 0.0, 1.0))

    found = flown({"main_on_ground": bounce, "normal_accel_g": accel}, rate_hz=16.0)

    assert found["bounces"] == 1
    assert found["firmest_contact"] == 1
    assert close(found, "peak_g_firmest", 1.8)
    assert found["peak_g_firmest"] > found["peak_g"] + 0.2
    assert close(found, "settled_distance_ft", 1358.8 + 367.3)
    assert found["settled_distance_ft"] > found["touchdown_distance_ft"] + 300.0


def test_a_single_contact_is_the_firmest_and_the_last(flown):
    """Nothing changes where nothing bounced."""
    found = flown()

    assert found["firmest_contact"] == 0
    assert found["peak_g_firmest"] == found["peak_g"]
    assert found["settled_distance_ft"] == found["touchdown_distance_ft"]
    assert found["normal_accel_rate_hz"] == pytest.approx(8.0)

"""Approaches found in recordings: none, one, many; touch-and-go, go-around, bounce; with and without a switch."""

from dataclasses import replace

import numpy as np
import pytest

from pipeline.landings import find_approaches, owned
from pipeline.recording import Recording, Samples


def on_switch(recording: Recording, on: np.ndarray) -> Recording:
    t = recording.channels["main_on_ground"].t
    return replace(recording, channels={**recording.channels, "main_on_ground": Samples(t, on.astype(float))})


def climbing(ideal, *, after_s: float, lowest_ft: float = 0.0) -> Recording:
    """An ideal landing that climbs away `after_s` after contact; raised by `lowest_ft` throughout."""
    recording = ideal(extra={}).recording()
    t = recording.channels["radio_height_ft"].t
    tau = t - 150.3
    climb = np.maximum(tau - after_s, 0.0) * 15.0
    height = recording.channels["radio_height_ft"].value + climb + lowest_ft
    speed = np.full(len(t), 140.0)
    ground = (tau > 0.1) & (tau < after_s) & (lowest_ft == 0.0)
    channels = {
        **recording.channels,
        "radio_height_ft": Samples(t, height),
        "ground_speed_kt": Samples(t, speed),
        "main_on_ground": Samples(t, ground.astype(float)),
    }
    return replace(recording, channels=channels)


def test_a_full_stop_is_one_landing_timed_between_samples(ideal):
    """The contact of a full stop is found within a tenth of a second at 8 Hz."""
    (found,) = find_approaches(ideal().recording())

    assert found.outcome == "full_stop"
    assert found.contact_s == pytest.approx(150.3, abs=0.1)
    assert found.touches_s is not None
    assert len(found.touches_s) == 1


@pytest.mark.parametrize("gone", ["main_on_ground", "normal_accel_g"])
def test_contact_is_found_without_switch_or_acceleration(ideal, gone):
    """Any two kinds of evidence are enough to time the contact."""
    (found,) = find_approaches(ideal(without=(gone,)).recording())

    assert found.contact_s == pytest.approx(150.3, abs=0.35)
    assert abs(found.contact_s - 150.3) <= 3.0 * found.contact_u_s


def test_ten_seconds_on_the_wheels_and_away_is_a_touch_and_go(ideal):
    """Airborne again after at least 3 s on the main wheels."""
    (found,) = find_approaches(climbing(ideal, after_s=10.0))

    assert found.outcome == "touch_and_go"
    assert found.grounded


def test_one_second_on_the_wheels_and_away_is_a_rejected_landing(ideal):
    """Airborne again sooner, climbing away."""
    (found,) = find_approaches(climbing(ideal, after_s=1.0))

    assert found.outcome == "rejected"


@pytest.mark.parametrize("lowest_ft", [12.0, 80.0, 400.0])
def test_a_low_pass_is_a_go_around_without_contact(ideal, lowest_ft):
    """No contact is made up where the wheels stayed above the runway."""
    (found,) = find_approaches(climbing(ideal, after_s=3.0, lowest_ft=lowest_ft))

    assert found.outcome == "go_around"
    assert found.contact_s is None
    assert not found.grounded
    assert found.lowest_ft == pytest.approx(lowest_ft, abs=3.0)


def test_a_log_that_ends_fast_on_the_runway_is_unfinished(ideal):
    """Contact seen, log ends fast."""
    recording = ideal().recording()
    cut = {name: Samples(s.t[s.t < 153.0], s.value[s.t < 153.0]) for name, s in recording.channels.items()}

    (found,) = find_approaches(replace(recording, channels=cut))

    assert found.outcome == "unfinished"
    assert found.contact_s == pytest.approx(150.3, abs=0.1)


def test_a_log_that_ends_on_the_approach_is_unfinished_without_contact(ideal):
    """The log ends on the approach."""
    recording = ideal().recording()
    cut = {name: Samples(s.t[s.t < 140.0], s.value[s.t < 140.0]) for name, s in recording.channels.items()}

    (found,) = find_approaches(replace(recording, channels=cut))

    assert found.outcome == "unfinished"
    assert not found.grounded


def test_a_switch_that_flips_in_the_rollout_is_evidence_of_nothing(ideal):
    """A switch that closes after the aircraft has slowed is not taken as the instant of contact."""
    recording = ideal().recording()
    t = recording.channels["main_on_ground"].t

    (found,) = find_approaches(on_switch(recording, t > 158.0))

    assert found.contact_s == pytest.approx(150.3, abs=0.35)
    assert "switch" not in (found.evidence or "")


def test_surveillance_like_data_gets_no_invented_contact(ideal):
    """Altitude in 25 ft steps once a second and a flag that flips at rollout speed time no contact."""
    recording = ideal(rate_hz=1.0, hb_ft=12.0).recording()
    altitude = recording.channels["geometric_altitude_ft"]
    kept = {
        "pressure_altitude_ft": Samples(altitude.t, np.round(altitude.value / 25.0) * 25.0),
        "ground_speed_kt": recording.channels["ground_speed_kt"],
        "main_on_ground": Samples(altitude.t, (altitude.t > 158.0).astype(float)),
    }

    (found,) = find_approaches(replace(recording, channels=kept))

    assert found.grounded
    assert found.contact_s is None


@pytest.mark.parametrize(("airborne_s", "bounces"), [(0.9, 1), (0.1, 0)])
def test_wheels_airborne_again_for_a_fifth_of_a_second_is_a_bounce(ideal, airborne_s, bounces):
    """Shorter openings of the switch are chatter."""
    recording = ideal(rate_hz=16.0).recording()
    t = recording.channels["main_on_ground"].t
    tau = t - 150.3
    on = (tau > 0.05) & ~((tau > 0.6) & (tau <= 0.6 + airborne_s))

    (found,) = find_approaches(on_switch(recording, on))

    assert len(found.touches_s) - 1 == bounces


def test_a_stretch_owns_only_the_landings_in_its_interval(ideal):
    """Overlapping stretches of a long log count each landing once."""
    recording = ideal().recording()
    approaches = find_approaches(recording)

    assert owned(approaches, replace(recording, own_from_s=0.0, own_to_s=100.0)) == []
    assert owned(approaches, replace(recording, own_from_s=100.0, own_to_s=200.0)) == approaches


def test_a_recording_without_height_has_no_approaches(ideal):
    """Without height, switch and ground speed nothing is found."""
    blind = ("radio_height_ft", "geometric_altitude_ft", "main_on_ground", "ground_speed_kt")

    assert find_approaches(ideal(without=blind).recording()) == []


def test_a_landing_without_height_is_found_by_the_switch_and_timed_by_acceleration(ideal):
    """The switch says that there was a landing, the onset of normal acceleration when."""
    (found,) = find_approaches(ideal(without=("radio_height_ft", "geometric_altitude_ft")).recording())

    assert found.outcome == "full_stop"
    assert found.contact_s == pytest.approx(150.3, abs=0.1)
    assert abs(found.contact_s - 150.3) <= 3.0 * found.contact_u_s


def test_a_landing_known_by_its_taxi_speed_alone_is_counted_and_not_timed(ideal):
    """Neither height nor switch: the aircraft came to taxi speed, so it landed; nothing says when."""
    blind = ("radio_height_ft", "geometric_altitude_ft", "main_on_ground", "normal_accel_g")

    (found,) = find_approaches(ideal(without=blind).recording())

    assert found.grounded
    assert (found.outcome, found.contact_s, found.touches_s) == ("full_stop", None, None)


def without_switch(recording: Recording) -> Recording:
    return replace(recording, channels={n: s for n, s in recording.channels.items() if n != "main_on_ground"})


def test_a_touch_and_go_is_told_without_a_switch_by_the_gears_push(ideal):
    (found,) = find_approaches(without_switch(climbing(ideal, after_s=8.0)))

    assert found.outcome == "touch_and_go"
    assert found.contact_s == pytest.approx(150.3, abs=0.3)


def test_level_flight_at_the_runway_without_a_push_touched_nothing(ideal):
    """A pass along the runway a foot above it: height alone cannot say that the wheels bore."""
    flown = without_switch(climbing(ideal, after_s=8.0))
    accel = flown.channels["normal_accel_g"]
    calm = Samples(accel.t, np.where(accel.t > 150.2, 1.0, accel.value))

    (found,) = find_approaches(replace(flown, channels={**flown.channels, "normal_accel_g": calm}))

    assert found.outcome == "go_around"
    assert found.contact_s is None


def test_a_wandering_low_pass_is_one_approach(ideal):
    """Several lowest points of the same height are one turn."""
    flown = climbing(ideal, after_s=18.0, lowest_ft=60.0)
    radio = flown.channels["radio_height_ft"]
    wander = np.where((radio.t > 150.3) & (radio.t < 168.0), 3.0 * (np.abs(np.sin(radio.t)) > 0.5), 0.0)

    found = find_approaches(
        replace(flown, channels={**flown.channels, "radio_height_ft": Samples(radio.t, np.round(radio.value + wander))})
    )

    assert [one.outcome for one in found] == ["go_around"]


def test_a_full_stop_with_a_later_take_off_is_a_full_stop(ideal):
    recording = climbing(ideal, after_s=35.0)
    speed = recording.channels["ground_speed_kt"]
    stops = np.where((speed.t > 165.0) & (speed.t < 180.0), 4.0, speed.value)

    (found,) = find_approaches(
        replace(recording, channels={**recording.channels, "ground_speed_kt": Samples(speed.t, stops)})
    )

    assert found.outcome == "full_stop"

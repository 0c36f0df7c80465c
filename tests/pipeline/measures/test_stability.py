"""Below the gate: what broke first, for how long, and whether the aircraft landed all the same."""

from dataclasses import replace

import numpy as np
import pytest

from pipeline.measuring import measure_batch
from pipeline.policy import Gate, Policy
from pipeline.recording import Samples


def fast(begin_s, end_s, by_kt):
    """140 kt, a little alive as any recorded speed, and so much more between two times to contact."""
    return lambda tau: 140.0 + 0.02 * np.sin(tau) + by_kt * ((tau >= begin_s) & (tau < end_s))


def test_the_first_break_is_named_with_height_and_duration(flown, close):
    """20 kt more for 5 s from 25 s before contact: 28.87 ft + 12.384 ft/s (25 s - 4.044 s) = 288.4 ft up."""
    found = flown({"airspeed_kt": fast(-25.0, -20.0, 20.0)})

    assert found["gate_500_stable"] is True
    assert found["gate_500_first_break"] == "speed"
    assert close(found, "gate_500_first_break_height_ft", 288.4)
    assert close(found, "gate_500_first_break_duration_s", 5.0)
    assert found["stable_to_threshold"] is False
    assert found["continued_unstable"] is False


def test_what_lasts_less_than_two_seconds_is_no_break(flown):
    """A gust of a second leaves the approach stable."""
    found = flown({"airspeed_kt": fast(-25.0, -24.0, 30.0)})

    assert found["gate_500_first_break_reason"] == "not_reached"
    assert found["stable_to_threshold"] is True
    assert found["stable_to_threshold_confidence"] > 0.99


def test_the_earlier_of_two_breaks_is_the_first(flown):
    """Bank from 22 s before contact comes before speed from 18 s before it."""
    found = flown(
        {
            "airspeed_kt": fast(-18.0, -13.0, 25.0),
            "roll_deg": lambda tau: 40.0 * ((tau > -22.0) & (tau < -19.0)),
        }
    )

    assert found["gate_500_first_break"] == "bank"


def test_below_fifty_feet_nothing_is_held_to_the_gate(flown):
    """Thrust goes to idle and speed bleeds in the landing itself, here from 5 s before contact, about 41 ft."""
    found = flown({"airspeed_kt": lambda tau: np.where(tau > -5.0, 110.0, 140.0)})

    assert found["stable_to_threshold"] is True


def test_dots_are_not_judged_close_in(flown):
    """A glideslope needle that goes full scale below 100 ft (9.8 s before contact) breaks nothing."""
    found = flown({"glideslope_dots": lambda tau: np.where(tau > -9.0, -2.4, 0.1)})

    assert found["stable_to_threshold"] is True


def test_unstable_at_the_gate_and_landed(flown):
    """165 kt against a target of 137 kt fails the gate; the wheels touched all the same."""
    found = flown({"airspeed_kt": lambda tau: np.full(len(tau), 165.0)})

    assert found["gate_500_stable"] is False
    assert found["continued_unstable"] is True
    assert found["stable_to_threshold"] is False
    assert found["gate_500_first_break"] == "speed"
    assert found["gate_500_first_break_height_ft"] == pytest.approx(500.0, abs=5.0)


def test_unstable_and_gone_around_was_not_continued(ideal, context, runways):
    """The same speed, but the aircraft turned at 300 ft."""
    recording = ideal(extra={"airspeed_kt": np.full(1523, 165.0)}).recording()
    t = recording.channels["radio_height_ft"].t
    channels = dict(recording.channels) | {"radio_height_ft": Samples(t, 300.0 + np.abs(t - 150.0) * 12.0)}
    del channels["main_on_ground"]
    around = replace(recording, channels=channels)

    found = measure_batch([around], context, runways=runways, policy=Policy()).landings.row(0, named=True)

    assert found["outcome"] == "go_around"
    assert found["gate_500_stable"] is False
    assert found["continued_unstable"] is False
    assert found["stable_to_threshold_reason"] == "not_reached"


def test_a_policy_without_the_gate_has_nothing_to_hold_to(flown):
    """All that is told of a gate the policy does not hold is null, with the reason."""
    found = flown(policy=Policy(gates=(Gate(1000.0),)))

    assert found["gate_500_stable_reason"] == "no_reference"
    assert found["gate_500_first_break_reason"] == "no_reference"
    assert found["continued_unstable_reason"] == "no_reference"
    assert found["gate_1000_stable"] is not None

"""Contacts after a bounce: airtime, height and vertical speed from the flight between."""

from dataclasses import replace

import numpy as np
import pytest

from pipeline.measuring import measure_batch
from pipeline.policy import Policy
from pipeline.recording import Samples

G = 32.174049


@pytest.fixture
def bounced(ideal, context, runways):
    """The ideal landing with one flight of `airtime_s` under `pull_g` less than 1 g, 0.5 s after first contact."""

    def one(*, airtime_s: float, pull_g: float, rate_hz: float = 8.0, without: tuple[str, ...] = ()):
        recording = ideal(rate_hz=rate_hz, without=without).recording()
        t = recording.channels["pitch_deg"].t
        off = t - 150.3 - 0.5
        flying = (off > 0.0) & (off < airtime_s)
        height = np.where(flying, 0.5 * pull_g * G * off * (airtime_s - off), 0.0)
        changed = {
            "radio_height_ft": recording.channels["radio_height_ft"].value + height,
            "main_on_ground": ((t > 150.35) & ~flying).astype(float),
        }
        if "normal_accel_g" not in without:
            changed["normal_accel_g"] = np.where(flying, 1.0 - pull_g, recording.channels["normal_accel_g"].value)
        channels = dict(recording.channels) | {name: Samples(t, value) for name, value in changed.items()}
        measured = measure_batch([replace(recording, channels=channels)], context, runways=runways, policy=Policy())
        return measured.contacts.sort("contact_index").to_dicts()

    return one


@pytest.mark.parametrize("pull_g", [0.15, 0.4])
def test_a_bounce_has_the_airtime_height_and_speed_of_its_flight(bounced, pull_g):
    """Closed form: height a T^2 / 8, speed a T / 2 at both ends, for a constant acceleration a over the airtime T."""
    first, second = bounced(airtime_s=1.25, pull_g=pull_g, rate_hz=16.0)

    assert first["airtime_before_s"] is None
    assert first["height_before_ft"] is None
    assert second["airtime_before_s"] == pytest.approx(1.25, abs=0.1)
    assert second["height_before_ft"] == pytest.approx(pull_g * G * 1.25**2 / 8.0, rel=0.25)
    expected = -60.0 * 0.5 * pull_g * G * 1.25
    assert abs(second["vertical_speed_fpm"] - expected) < 2.0 * second["vertical_speed_fpm_u"]


def test_without_acceleration_a_bounce_has_its_airtime_and_no_speed(bounced):
    _, second = bounced(airtime_s=1.0, pull_g=0.3, without=("normal_accel_g",))

    assert second["airtime_before_s"] == pytest.approx(1.0, abs=0.2)
    assert second["height_before_ft"] is None
    assert second["vertical_speed_fpm"] is None


def test_what_is_shorter_than_a_fifth_of_a_second_is_no_bounce(bounced):
    assert len(bounced(airtime_s=0.15, pull_g=0.3, rate_hz=16.0)) == 1

"""Aligned gathers over many logs give what one log at a time would."""

import numpy as np
import pytest

from pipeline.recording import Recording, Samples
from pipeline.stack import gather, peak, stack


def recording(**channels: tuple[np.ndarray, np.ndarray]) -> Recording:
    return Recording("a" * 64, "x.csv", "m", {k: Samples(*v) for k, v in channels.items()}, None, 1, 1.0)


T = np.arange(0.0, 20.0, 0.5)
BATCH = [
    recording(pitch_deg=(T, np.sin(T))),
    recording(radio_height_ft=(T, T)),
    recording(
        pitch_deg=(T + 5.0, np.cos(T)), heading_true_deg=(T, (350.0 + 2.0 * T) % 360.0), gear_down=(T, (T > 4.0) * 1.0)
    ),
]


def test_gather_interpolates_each_log_in_its_own_samples():
    """Values are those of a one-log interpolation; a log without the channel gives nothing."""
    times = np.array([[1.1, 7.3], [1.1, 7.3], [6.2, 12.9]])

    found = gather(stack(BATCH), "pitch_deg", np.array([0, 1, 2]), times)

    assert found[0] == pytest.approx(np.interp(times[0], T, np.sin(T)))
    assert np.isnan(found[1]).all()
    assert found[2] == pytest.approx(np.interp(times[2], T + 5.0, np.cos(T)))


def test_gather_outside_a_log_or_across_a_gap_is_nothing():
    """Beyond the log's ends, and where neighbours are further apart than three intervals and 2 s, there is no value."""
    gappy = recording(pitch_deg=(np.array([0.0, 0.5, 1.0, 1.5, 6.0, 6.5]), np.arange(6.0)))

    found = gather(stack([gappy]), "pitch_deg", np.array([0]), np.array([[-0.1, 1.2, 3.0, 6.2, 6.6]]))[0]

    assert np.isnan(found[[0, 2, 4]]).all()
    assert found[[1, 3]] == pytest.approx([2.4, 4.4])


def test_angles_pass_north_and_switches_hold():
    """A heading goes from 359 to 1 through 360; a switch keeps its last value."""
    flat = stack(BATCH)

    heading = gather(flat, "heading_true_deg", np.array([2]), np.array([[4.75, 5.25]]))[0] % 360.0
    gear = gather(flat, "gear_down", np.array([2]), np.array([[4.4, 4.6]]))[0]

    assert heading == pytest.approx([359.5, 0.5])
    assert gear.tolist() == [0.0, 1.0]


def test_peak_is_the_largest_sample_of_its_log_and_interval():
    """Samples of other logs and other times do not count."""
    flat = stack(BATCH)

    top, held = peak(flat, "pitch_deg", np.array([0, 1]), (np.array([0.0, 0.0]), np.array([1.0, 1.0])))

    assert top[0] == pytest.approx(np.sin(1.0))
    assert held.tolist() == [3.0, 0.0]
    assert np.isnan(top[1])


def test_facts_tell_rate_resolution_and_noise():
    """Median interval, smallest step and the scatter of single samples about a smooth course."""
    rng = np.random.default_rng(1)
    t = np.arange(0.0, 200.0, 0.25)
    noisy = recording(
        radio_height_ft=(t, 5.0 * t + rng.normal(0.0, 0.8, len(t))), flap_deg=(t, np.round(t / 50.0) * 5.0)
    )
    flat = stack([noisy])

    assert flat.channels["radio_height_ft"].interval_s[0] == pytest.approx(0.25)
    assert flat.channels["radio_height_ft"].noise[0] == pytest.approx(0.8, rel=0.12)
    assert flat.channels["flap_deg"].resolution[0] == pytest.approx(5.0)

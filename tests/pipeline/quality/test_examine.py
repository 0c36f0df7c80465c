"""One landing in closed form: believed as it is, not believed with a channel put wrong; and what simulators do."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import polars as pl
import pytest

from pipeline.measuring import measure_batch
from pipeline.policy import Policy
from pipeline.quality.examine import examine, vetted
from pipeline.recording import Recording, Repair, Samples

Changed = Callable[[np.ndarray], np.ndarray]


def _changed(recording: Recording, name: str, change: Changed) -> Recording:
    samples = recording.channels[name]
    value = np.asarray(change(samples.value), dtype=float)
    return replace(recording, channels={**recording.channels, name: Samples(samples.t, value)})


def test_the_closed_form_is_believed(ideal) -> None:
    """Nothing is suspect where every channel says the same, at any rate."""
    for rate in (1.0, 2.0, 4.0, 8.0, 16.0):
        found = examine(ideal(rate_hz=rate).recording())

        assert found.suspect == {}
        assert found.artefacts == ()
        assert not any(check.passed is False for check in found.checks)


def test_facts_of_a_channel(ideal) -> None:
    """Rate, resolution and gaps are those the log was made with; repairs are those of reading."""
    recording = ideal(rate_hz=8.0).recording()
    pitch = recording.channels["pitch_deg"]
    kept = (pitch.t < 40.0) | (pitch.t > 47.0)
    coarse = Samples(pitch.t[kept], np.round(pitch.value[kept] / 0.25) * 0.25)
    log = replace(
        recording,
        channels={**recording.channels, "pitch_deg": coarse},
        repairs={"pitch_deg": Repair(repeats=5, spikes=2, outside=1)},
    )

    fact = next(one for one in examine(log).channels if one.channel == "pitch_deg")

    assert (fact.rate_hz, fact.resolution, fact.gaps) == (8.0, 0.25, 1)
    assert fact.longest_gap_s == pytest.approx(7.125, abs=0.13)  # from the last sample kept to the next
    assert (fact.repeats, fact.spikes, fact.outside) == (5, 2, 1)


@pytest.mark.parametrize("late_s", [0.0, 0.6, 1.2])
def test_the_lag_of_vertical_speed_is_found(ideal, late_s: float) -> None:
    """Vertical speed that comes late against radio height is found late by as much, to a fifth of a second."""
    landing = ideal(rate_hz=8.0)
    recording = landing.recording()
    late = landing.climb(recording.channels["vertical_speed_fpm"].t - late_s - landing.contact_s) * 60.0
    found = examine(_changed(recording, "vertical_speed_fpm", lambda _: late))

    fact = next(one for one in found.channels if one.channel == "vertical_speed_fpm")

    assert fact.lag_against == "radio_height_ft"
    assert fact.lag_s == pytest.approx(late_s, abs=0.2)


@pytest.mark.parametrize(
    ("name", "change", "words"),
    [
        ("radio_height_ft", lambda v: v * 0.3048, "metres read as feet"),
        ("vertical_speed_fpm", lambda v: -v, "sign turned"),
        ("vertical_speed_fpm", lambda v: v * 0.00508, "metres a second read as feet a minute"),
        ("geometric_altitude_ft", lambda v: v / 0.3048, "feet read as metres"),
        ("normal_accel_g", lambda v: v - 1.0, "the 1 g of steady flight left out"),
        ("normal_accel_g", lambda v: -v, "sign turned"),
        ("ground_speed_kt", lambda v: v * 1.852, "kilometres an hour read as knots"),
        ("airspeed_kt", lambda v: v * 0.5144, "metres a second read as knots"),
        ("pitch_deg", lambda v: -v, "sign turned"),
        ("pitch_deg", np.radians, "radians read as degrees"),
        ("flap_deg", lambda v: v / 40.0, "a fraction or radians"),
        ("main_on_ground", lambda v: 1.0 - v, "the wrong way round"),
        ("track_true_deg", np.radians, "radians read as degrees"),
        ("gear_down", lambda v: 1.0 - v, "the wrong way round"),
    ],
)
def test_one_wrong_channel_is_named(ideal, name: str, change: Changed, words: str) -> None:
    """A unit, sign or scale put wrong makes that channel suspect, and no other, with the mistake guessed."""
    found = examine(_changed(ideal().recording(), name, change))

    assert list(found.suspect) == [name]
    assert words in found.suspect[name]


def test_a_suspect_channel_gives_no_measure(ideal, runways, context) -> None:
    """Its measures are null, `implausible`; those that rest on the others are as they were; the landing says which."""
    good = ideal().recording()
    wrong = _changed(good, "pitch_deg", lambda v: -v)

    before, after = (measure_batch([log], context, runways=runways, policy=Policy()).landings for log in (good, wrong))

    assert after["suspect"].to_list() == ["pitch_deg"]
    assert before["suspect"].to_list() == [None]
    assert after["pitch_at_contact_deg"].to_list() == [None]
    assert after["pitch_at_contact_deg_reason"].to_list() == ["implausible"]
    assert after["contact_t_s"].item() == pytest.approx(before["contact_t_s"].item(), abs=0.01)


def test_a_weight_is_held_against_the_stated_one(ideal) -> None:
    """Pounds read as kilograms show where the manifest states the weight, and nowhere else."""
    recording = ideal().recording()
    t = recording.channels["pitch_deg"].t
    log = replace(
        recording, channels={**recording.channels, "gross_weight_kg": Samples(t, np.linspace(12100.0, 12080.0, len(t)))}
    )

    assert examine(log).suspect == {}
    assert "pounds read as kilograms" in examine(log, stated_weight_kg=5480.0).suspect["gross_weight_kg"]


def test_values_out_of_range_make_a_channel_suspect(ideal) -> None:
    """A channel that lost a tenth of its values to its plausible range is not believed; one that lost one is."""
    recording = ideal().recording()
    samples = len(recording.channels["normal_accel_g"].t)
    lost = replace(recording, repairs={"normal_accel_g": Repair(outside=samples // 9)})
    once = replace(recording, repairs={"normal_accel_g": Repair(outside=1)})

    assert list(examine(lost).suspect) == ["normal_accel_g"]
    assert examine(once).suspect == {}


def test_a_channel_that_could_not_be_read_is_listed(ideal) -> None:
    """What reading could not use is a channel without samples, with the reason."""
    recording = replace(ideal(without=("pitch_deg",)).recording(), suspect={"pitch_deg": "column 'p': no numbers"})

    found = examine(recording)

    assert found.suspect == {"pitch_deg": "column 'p': no numbers"}
    assert [(one.samples, one.suspect) for one in found.channels if one.channel == "pitch_deg"] == [
        (0, "column 'p': no numbers")
    ]
    assert "pitch_deg" not in vetted(recording, found).channels


def test_a_landing_without_rotation_is_believed(ideal) -> None:
    """Pitch that stays as it is while the path bends is no pitch turned round."""
    level = _changed(ideal().recording(), "pitch_deg", lambda v: np.full(len(v), 2.5))

    assert examine(level).suspect == {}


def test_a_reposition_before_a_landing_marks_it(ideal, runways, context) -> None:
    """A jump of place 20 s before contact is found and the landing bears it; one long before marks nothing."""
    t = ideal().recording().channels["longitude_deg"].t
    near = _changed(ideal().recording(), "longitude_deg", lambda v: np.where(t < 130.0, v - 0.2, v))
    far = _changed(ideal().recording(), "longitude_deg", lambda v: np.where(t < 60.0, v - 0.2, v))

    near_marked, far_marked = (
        measure_batch([log], context, runways=runways, policy=Policy()).landings["artefact"].item()
        for log in (near, far)
    )

    assert [artefact.kind for artefact in examine(near).artefacts] == ["reposition"]
    assert near_marked == "place jumped at 130 s"
    assert far_marked is None


def test_a_freeze_is_found(ideal) -> None:
    """Eight seconds in which all stands still at speed are a freeze; standing still on the ground is none."""
    recording = ideal().recording()
    t = recording.channels["pitch_deg"].t
    held = np.where(t < 60.0, t, np.where(t < 68.0, 60.0, t - 8.0))
    frozen = {name: Samples(s.t, np.interp(held, s.t, s.value)) for name, s in recording.channels.items()}

    (found,) = examine(replace(recording, channels=frozen)).artefacts

    assert found.kind == "freeze"
    assert (found.start_s, found.end_s) == (pytest.approx(60.5, abs=1.0), pytest.approx(67.5, abs=1.0))


def test_faster_time_is_found(ideal) -> None:
    """Forty seconds of motion in ten of the log's, speeds recorded as they are: time ran faster."""
    recording = ideal(rate_hz=4.0).recording()
    whole = recording.channels["pitch_deg"].t
    t = whole[whole < 125.0]
    motion = np.where(t < 50.0, t, np.where(t < 65.0, 50.0 + (t - 50.0) * 4.0, t + 45.0))
    moving = ("latitude_deg", "longitude_deg", "radio_height_ft", "geometric_altitude_ft")
    quick = {
        name: Samples(t, np.interp(motion, s.t, s.value)) if name in moving else Samples(t, s.value[: len(t)])
        for name, s in recording.channels.items()
    }

    found = examine(replace(recording, channels=quick))

    assert [artefact.kind for artefact in found.artefacts] == ["time_acceleration"]


def test_stretches_come_together(ideal, runways, context) -> None:
    """One row a log and channel, however many stretches a log came in."""
    recording = ideal().recording()
    parts = [replace(recording, own_to_s=100.0), replace(recording, own_from_s=100.0)]

    found = measure_batch(parts, context, runways=runways, policy=Policy()).channel_quality

    samples = len(recording.channels["pitch_deg"].t)
    assert found.height == len(recording.channels)
    assert found.filter(pl.col("channel") == "pitch_deg")["samples"].item() == 2 * samples

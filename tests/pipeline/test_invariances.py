"""What must not change a measure: when the log began, left for right, what else the log holds, how fast it samples."""

from dataclasses import replace

import numpy as np
import pytest

from pipeline.measures.table import MEASURES
from pipeline.measuring import measure_batch
from pipeline.policy import AircraftType, Policy
from pipeline.recording import Recording, Samples

POLICY = Policy(types={"tern": AircraftType(profile="jet", landing_flap_deg=30.0, wheel_track_ft=18.0)})
DEG_A_FT = 0.3048 * 360.0 / (2.0 * np.pi * 6378137.0)
TURNED = {
    "threshold_lateral_ft", "touchdown_lateral_ft", "roll_at_contact_deg", "crab_at_contact_deg", "lateral_drift_kt",
    "crosswind_kt", "threshold_crosswind_kt", "gate_500_localiser_dots", "gate_1000_localiser_dots",
    "gate_500_localiser_deg", "gate_1000_localiser_deg", "rollout_lateral_max_ft",
}  # fmt: skip
"""Measures whose sign tells left from right."""
OF_THE_RATE = {"peak_g_sampled", "normal_accel_rate_hz"}
"""Measures that say what was sampled, and so go with the rate by their meaning."""
SIDES = {"left": "right", "right": "left"}
MIRRORED = ("roll_deg", "lateral_accel_g", "localiser_dots", "latitude_deg")


@pytest.fixture
def numbers(context, runways):
    """Values of all measures of each landing of a recording, by name."""

    def of(recording: Recording) -> list[dict]:
        known = context.with_columns(log_sha256=np.array([recording.log_sha256]))
        landings = measure_batch([recording], known, runways=runways, policy=POLICY).landings
        return landings.select(measure.name for measure in MEASURES).to_dicts()

    return of


@pytest.fixture
def sideways(ideal):
    """A landing right of the centreline with bank, crab, drift and a crosswind, noisy as recorders are."""

    def at(rate_hz: float = 8.0, seed: int = 5) -> Recording:
        draw = np.random.default_rng(seed)
        straight = ideal(rate_hz=rate_hz).recording()
        t = straight.channels["pitch_deg"].t
        tau = t - 150.3
        off = 20.0 + np.clip(-tau, 0.0, 60.0) * 0.8
        extra = {
            "roll_deg": 1.5 * np.exp(-((tau / 2.0) ** 2)) + draw.normal(0.0, 0.02, len(t)),
            "latitude_deg": -off * DEG_A_FT,
            "heading_true_deg": 90.0 + np.where(tau < 0.0, 3.0, 0.0),
            "track_true_deg": np.full(len(t), 90.2),
            "localiser_dots": off / 400.0,
            "wind_speed_kt": np.full(len(t), 12.0),
            "wind_from_true_deg": np.full(len(t), 150.0),
        }
        channels = straight.channels | {name: Samples(t, value) for name, value in extra.items()}
        channels["pitch_deg"] = Samples(t, channels["pitch_deg"].value + draw.normal(0.0, 0.02, len(t)))
        return replace(straight, channels=channels)

    return at


def assert_same(found: dict, expected: dict, *, turned: frozenset[str] = frozenset()) -> None:
    for name, value in expected.items():
        other = found[name]
        if isinstance(value, float):
            sign = -1.0 if name in turned else 1.0
            assert other == pytest.approx(sign * value, rel=1e-6, abs=1e-4), name
        elif turned and isinstance(value, str) and value in SIDES:
            assert other == SIDES[value], name
        else:
            assert other == value, name


def test_when_the_log_began_changes_nothing(sideways, numbers):
    recording = sideways()
    late = {name: Samples(s.t + 1234.5, s.value) for name, s in recording.channels.items()}

    shifted = replace(recording, channels=late, duration_s=recording.duration_s + 1234.5)

    assert_same(numbers(shifted)[0], numbers(recording)[0])


def test_left_for_right_turns_signs_and_nothing_else(sideways, numbers):
    recording = sideways()
    mirrored = {name: Samples(s.t, -s.value if name in MIRRORED else s.value) for name, s in recording.channels.items()}
    for name in ("heading_true_deg", "track_true_deg", "wind_from_true_deg"):
        mirrored[name] = Samples(mirrored[name].t, 180.0 - mirrored[name].value)

    expected = numbers(recording)[0]

    assert expected["touchdown_lateral_ft"] > 5.0
    assert_same(numbers(replace(recording, channels=mirrored))[0], expected, turned=frozenset(TURNED))


def test_order_of_channels_and_unrelated_channels_change_nothing(sideways, numbers):
    recording = sideways()
    turned = dict(reversed(list(recording.channels.items())))
    t = recording.channels["pitch_deg"].t
    turned["lateral_accel_g"] = Samples(t, np.zeros(len(t)))

    assert_same(numbers(replace(recording, channels=turned))[0], numbers(recording)[0])


def test_two_landings_in_one_log_are_measured_as_each_alone(sideways, numbers):
    first, second = sideways(seed=5), sideways(seed=6)
    apart = 260.0
    both = {
        name: Samples(
            np.concatenate([s.t, second.channels[name].t + apart]),
            np.concatenate([s.value, second.channels[name].value]),
        )
        for name, s in first.channels.items()
    }

    found = numbers(replace(first, channels=both, duration_s=apart + second.duration_s, rows=2 * first.rows))

    assert len(found) == 2
    alone = [numbers(first)[0], numbers(second)[0]]
    for one, expected in zip(found, alone, strict=True):
        for measure in MEASURES:
            value, other = expected[measure.name], one[measure.name]
            if measure.kind == "number" and value is not None:
                assert other == pytest.approx(value, rel=0.02, abs=0.05), measure.name
            else:
                assert other == value, measure.name


def test_sampling_more_slowly_moves_each_measure_within_what_it_states(sideways, context, runways):
    quick = measure_batch([sideways(16.0)], context, runways=runways, policy=POLICY).landings.row(0, named=True)
    slow = measure_batch([sideways(4.0)], context, runways=runways, policy=POLICY).landings.row(0, named=True)

    told = (m for m in MEASURES if m.kind == "number" and m.name not in OF_THE_RATE)
    compared = [m for m in told if quick[m.name] is not None and slow[m.name] is not None]
    beyond = [
        m.name
        for m in compared
        if abs(quick[m.name] - slow[m.name]) > 3.0 * np.hypot(quick[m.quality], slow[m.quality]) + 1e-9
    ]
    assert len(compared) > 50
    assert beyond == []

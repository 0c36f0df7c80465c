"""The whole way from a recording to measured landings, on landings whose truth is known in closed form."""

from dataclasses import replace

import numpy as np
import polars as pl
import pytest
from polars.testing import assert_frame_equal
from scipy.signal import butter, sosfilt

from pipeline.landing_frame import landing_id, landing_schema
from pipeline.measures.table import MEASURES
from pipeline.measuring import Measured, measure_batch
from pipeline.policy import AircraftType, Policy
from pipeline.recording import Recording, Samples

POLICY = Policy(types={"tern": AircraftType(profile="jet", landing_flap_deg=30.0, idle_at_gate_pct=5.0)})


@pytest.fixture
def measure(context, runways):
    def one(recording: Recording, policy: Policy = POLICY) -> Measured:
        return measure_batch([recording], context, runways=runways, policy=policy)

    return one


def row(measured: Measured) -> dict:
    assert measured.landings.height == 1
    return measured.landings.row(0, named=True)


def low_passed_peak(size_g: float, width_s: float) -> float:
    """Peak of a half-sine pulse behind the low-pass that the measure is defined by."""
    t = np.arange(0.0, 1.0, 1e-3)
    pulse = np.where(t < width_s, size_g * np.sin(np.pi * t / width_s), 0.0)
    return float(sosfilt(butter(2, 5.0, fs=1e3, output="sos"), pulse).max())


TRUTH = {
    # closed form of the exponential flare at 140 kt on 3 deg, tau 3.3 s, hb 12 ft (manual-landing law, quoted
    # second-hand): start 28.87 ft, 4.044 s, 955.5 ft, sink at contact 218 ft/min, 1,358.8 ft from a 50 ft threshold
    "flare_height_ft": 28.87,
    "flare_time_s": 4.044,
    "flare_distance_ft": 955.5,
    "vertical_speed_at_contact_fpm": -218.2,
    "touchdown_distance_ft": 1358.8,
    "threshold_height_ft": 50.0,
    "distance_from_50ft_ft": 1358.8,
    # put there by the ideal landing
    "pitch_change_deg": 3.0,
    "pitch_at_flare_deg": 2.5,
    "thrust_close_lag_s": 1.0,
    "thrust_close_time_s": 2.0,
    "idle_before_contact_s": 1.044,
    "pitch_after_close_deg": 0.0,
    # a half-sine of 0.592 g and 0.3 s behind a second-order Butterworth low-pass at 5 Hz
    "peak_g": 1.0 + low_passed_peak(0.592, 0.3),
    "threshold_speed_over_vref_kt": 8.0,
    "gate_500_speed_over_target_kt": 3.0,
    "gate_500_sink_fpm": 743.0,
    "approach_path_deg": 3.0,
}


@pytest.mark.parametrize("rate_hz", [16.0, 8.0, 4.0, 2.0, 1.0])
@pytest.mark.parametrize("name", TRUTH)
def test_closed_form_landing_is_recovered_within_twice_its_stated_uncertainty(measure, ideal, rate_hz, name):
    found = row(measure(ideal(rate_hz=rate_hz).recording()))

    if found[name] is None:
        assert rate_hz < 4.0
        assert found[f"{name}_reason"] == "too_slow"
    else:
        assert abs(found[name] - TRUTH[name]) <= 2.0 * found[f"{name}_u"]


def test_fast_recorder_recovers_the_landing_closely(measure, ideal):
    found = row(measure(ideal(rate_hz=8.0).recording()))

    assert found["vertical_speed_at_contact_fpm"] == pytest.approx(-218.2, abs=15.0)
    assert found["flare_height_ft"] == pytest.approx(28.87, abs=2.0)
    assert found["thrust_close_lag_s"] == pytest.approx(1.0, abs=0.15)
    assert found["contact_t_s"] == pytest.approx(150.3, abs=0.08)
    assert found["outcome"] == "full_stop"
    assert found["runway"] == "Testfield 09"
    assert found["bounces"] == 0
    assert found["gate_500_stable"] is True
    assert found["in_touchdown_zone"] is True
    assert found["landing_mode"] == "manual"


def test_every_null_has_a_reason_and_every_value_its_quality(measure, ideal):
    for without in [
        (),
        ("radio_height_ft",),
        ("normal_accel_g", "thrust_lever_pct"),
        ("latitude_deg",),
        ("pitch_deg",),
    ]:
        found = row(measure(ideal(without=without).recording()))

        for m in MEASURES:
            assert (found[m.name] is None) == (found[m.reason] is not None), m.name
            assert (found[m.name] is None) == (found[m.quality] is None), m.name


@pytest.mark.parametrize(
    ("without", "gone"),
    [
        ("pitch_deg", ["flare_height_ft", "pitch_change_deg", "pitch_at_contact_deg", "thrust_close_lag_s"]),
        ("thrust_lever_pct", ["thrust_close_lag_s", "thrust_at_contact_pct", "pitch_after_close_deg"]),
        ("latitude_deg", ["touchdown_distance_ft", "threshold_height_ft", "runway_used_pct"]),
        ("normal_accel_g", ["peak_g", "peak_g_sampled", "turbulence_g"]),
        ("airspeed_kt", ["threshold_airspeed_kt", "gate_500_speed_over_target_kt"]),
    ],
)
def test_a_missing_channel_leaves_its_measures_null_and_the_rest_alone(measure, ideal, without, gone):
    whole, cut = row(measure(ideal().recording())), row(measure(ideal(without=(without,)).recording()))

    assert {cut[f"{name}_reason"] for name in gone} == {"no_channel"}
    assert cut["gate_500_sink_fpm"] == pytest.approx(whole["gate_500_sink_fpm"], abs=1e-6)


def test_unknown_vref_and_runway_say_no_reference(ideal):
    found = row(
        measure_batch(
            [ideal().recording()], pl.DataFrame(schema={"log_sha256": pl.String}), runways=_none(), policy=Policy()
        )
    )

    assert found["threshold_speed_over_vref_kt_reason"] == "no_reference"
    assert found["touchdown_distance_ft_reason"] == "no_reference"
    assert found["gate_500_speed_over_target_kt_reason"] == "no_reference"
    assert found["runway"] is None


def _none() -> pl.DataFrame:
    names = (
        "threshold_lat",
        "threshold_lon",
        "true_heading_deg",
        "length_ft",
        "displaced_threshold_ft",
        "slope_pct",
        "aim_point_ft",
    )
    return pl.DataFrame(schema={"runway": pl.String, **dict.fromkeys(names, pl.Float64)})


def test_shifting_time_moves_no_measure(measure, ideal):
    recording = ideal().recording()
    later = replace(
        recording, channels={name: Samples(s.t + 1000.0, s.value) for name, s in recording.channels.items()}
    )

    first, second = measure(recording).landings, measure(later).landings

    names = [m.name for m in MEASURES]
    assert_frame_equal(first.select(names), second.select(names), abs_tol=1e-6)


def test_mirroring_left_and_right_turns_only_the_signed_measures(measure, ideal):
    recording = ideal(extra={"roll_deg": np.full(1523, 2.0)}).recording()
    mirrored = replace(
        recording,
        channels=recording.channels
        | {"roll_deg": Samples(recording.channels["roll_deg"].t, -recording.channels["roll_deg"].value)},
    )

    first, second = row(measure(recording)), row(measure(mirrored))

    assert second["roll_at_contact_deg"] == pytest.approx(-first["roll_at_contact_deg"])
    for name in ("flare_height_ft", "vertical_speed_at_contact_fpm", "touchdown_distance_ft"):
        assert second[name] == pytest.approx(first[name], abs=1e-6)


def test_a_landing_alone_and_in_a_batch_agree(measure, ideal, context, runways):
    alone = measure(ideal().recording()).landings
    others = [ideal(contact_s=140.0 + i, rate_hz=4.0).recording(log_sha256=f"{i:064d}") for i in range(5)]

    batch = measure_batch([*others, ideal().recording()], context, runways=runways, policy=POLICY).landings

    assert_frame_equal(alone, batch.filter(pl.col("log_sha256") == "a" * 64), abs_tol=1e-6)


def test_landing_without_rotation_has_no_flare_height(measure, ideal):
    found = row(measure(ideal(extra={"pitch_deg": np.full(1523, 2.5)}).recording()))

    assert found["flare_height_ft"] is None
    assert found["flare_height_ft_reason"] == "not_reached"
    assert found["vertical_speed_at_contact_fpm"] is not None


def test_thrust_still_on_at_contact_says_so(measure, ideal):
    found = row(measure(ideal(close_lag_s=4.8, close_s=1.5).recording()))

    assert found["idle_before_contact_s"] < 0.0
    assert found["pitch_after_close_deg_reason"] == "not_reached"
    assert found["thrust_at_contact_pct"] > 10.0


def test_autothrust_hides_the_hand_on_the_lever(measure, ideal):
    recording = ideal(extra={"autothrottle_on": np.ones(1523)}).recording()

    found = row(measure(recording))

    assert found["thrust_close_lag_s_reason"] == "automation"
    assert found["landing_mode"] == "manual with autothrust"


def test_two_landings_in_one_log_are_two_rows_with_their_own_context(ideal, runways):
    first, second = ideal().recording(), ideal(touchdown_ft=2000.0).recording()
    shift = first.duration_s + 1.0
    joined = {
        name: Samples(
            np.concatenate([s.t, second.channels[name].t + shift]),
            np.concatenate([s.value, second.channels[name].value]),
        )
        for name, s in first.channels.items()
    }
    context = pl.DataFrame(
        {
            "log_sha256": ["a" * 64] * 2,
            "landing_index": [None, 1],
            "pilot": ["P-AAAAA", "P-BBBBB"],
            "vref_kt": [132.0, None],
        }
    )

    landings = measure_batch([replace(first, channels=joined)], context, runways=runways, policy=POLICY).landings

    assert landings["landing_index"].to_list() == [0, 1]
    assert landings["pilot"].to_list() == ["P-AAAAA", "P-BBBBB"]
    assert landings["vref_kt"].to_list() == [132.0, 132.0]
    assert landings["touchdown_distance_ft"].to_list() == pytest.approx([1358.8, 2000.0], abs=40.0)
    assert landings["landing_id"].to_list() == [landing_id("a" * 64, 0), landing_id("a" * 64, 1)]


def test_nothing_in_gives_empty_frames_with_all_columns(context, runways):
    measured = measure_batch([], context, runways=runways, policy=POLICY)

    assert measured.landings.schema == pl.Schema(landing_schema())
    assert measured.landings.is_empty()
    assert measured.contacts.is_empty()
    assert measured.traces.is_empty()


def test_a_group_without_any_timed_contact_joins_others(ideal, context, runways, monkeypatch):
    """Groups of bounded size, one of them with go-arounds only, come out as one frame."""
    monkeypatch.setattr("pipeline.prepared._GROUP_LOGS", 1)
    high = ideal().recording(log_sha256="b" * 64)
    raised = {
        **high.channels,
        "radio_height_ft": Samples(
            high.channels["radio_height_ft"].t, 300.0 + np.abs(high.channels["radio_height_ft"].t - 150.0) * 10.0
        ),
    }
    around = replace(high, channels={k: v for k, v in raised.items() if k != "main_on_ground"})

    measured = measure_batch([around, ideal().recording()], context, runways=runways, policy=POLICY)

    assert measured.landings["outcome"].to_list() == ["go_around", "full_stop"]
    assert measured.traces["landing_id"].unique().to_list() == [measured.landings["landing_id"][1]]


def test_a_recording_that_never_comes_down_has_no_landing(measure):
    t = np.arange(0.0, 100.0, 0.5)
    cruise = {"radio_height_ft": Samples(t, np.full(len(t), 2000.0)), "pitch_deg": Samples(t, np.zeros(len(t)))}

    measured = measure(Recording("a" * 64, "cruise.csv", "m", cruise, None, len(t), 99.5))

    assert measured.landings.is_empty()


@pytest.mark.parametrize(
    ("vref", "target", "stable"),
    [(132.0, 137.0, True), (132.0, 144.0, True), (132.0, 146.0, False), (141.0, 142.0, False), (120.0, 124.0, False)],
)
def test_gate_speed_is_held_to_the_target_band_and_to_vref(ideal, context, runways, vref, target, stable):
    """At 140 kt: at most 5 kt below the target, at most 15 above it, and never below Vref."""
    known = context.with_columns(vref_kt=pl.lit(vref), target_speed_kt=pl.lit(target))

    found = row(measure_batch([ideal().recording()], known, runways=runways, policy=POLICY))

    assert found["gate_500_stable"] is stable
    assert found["gate_500_failed"] == ("" if stable else "speed")


def test_only_the_landings_own_runway_changes_its_version(measure, ideal, context, runways):
    """Thousands of other runways may come and go; a corrected row of its own is seen."""
    other = runways.with_columns(runway=pl.lit("Elsewhere 18"), threshold_lat=pl.lit(40.0))
    mended = runways.with_columns(elevation_ft=pl.lit(12.0))
    tables = (runways, pl.concat([other, runways]), mended, runways.clear())
    found = [measure_batch([ideal().recording()], context, runways=t, policy=POLICY).landings for t in tables]
    first, more, changed, none = (frame["runways_sha256"][0] for frame in found)

    assert first == more
    assert changed != first
    assert none is None


def test_positions_far_from_the_stated_runway_make_it_no_runway(ideal, context, runways):
    """The manifest names a runway, the positions lie a degree away: neither is believed, no distance is invented."""
    recording = ideal().recording()
    moved = {
        name: Samples(s.t, s.value + 1.0) if name == "longitude_deg" else s for name, s in recording.channels.items()
    }
    stated = context.with_columns(runway=pl.lit("Testfield 09"))

    measured = measure_batch([replace(recording, channels=moved)], stated, runways=runways, policy=POLICY)

    found = row(measured)
    assert (found["runway"], found["runway_found"]) == (None, "contradicted")
    assert (found["touchdown_distance_ft"], found["touchdown_distance_ft_reason"]) == (None, "no_reference")


def test_a_switch_that_says_ground_high_up_makes_no_landing(measure, ideal):
    recording = ideal().recording()
    on = recording.channels["main_on_ground"]
    value = np.where((on.t > 60.0) & (on.t < 75.0), 1.0, on.value)

    found = row(
        measure(replace(recording, channels=dict(recording.channels) | {"main_on_ground": Samples(on.t, value)}))
    )

    assert found["contact_t_s"] == pytest.approx(150.3, abs=0.15)
    assert found["suspect"] is None

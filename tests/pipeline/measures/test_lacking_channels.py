"""What a log does not have is never measured: each measure is null where a channel it stands on is left out."""

import numpy as np
import pytest

from pipeline.measures.table import MEASURES

COURSES = {
    "heading_true_deg": lambda tau: 94.0 - np.clip(1.5 * (tau + 3.0), 0.0, 4.0),
    "engine_speed_pct": lambda tau: 55.0 - 0.1 * np.clip(tau, 0.0, 20.0),
    "spoiler_pct": lambda tau: np.clip((tau - 1.0) * 50.0, 0.0, 100.0),
    "reverse_pct": lambda tau: np.clip((tau - 2.0) * 25.0, 0.0, 60.0),
    "brake_pct": lambda tau: np.clip((tau - 3.0) * 20.0, 0.0, 40.0),
    "nose_on_ground": lambda tau: (tau > 4.3).astype(float),
    "autothrottle_on": lambda tau: (tau < -60.0).astype(float),
    "autopilot_on": lambda tau: (tau < -90.0).astype(float),
    "roll_deg": lambda tau: np.full(len(tau), 1.5),
    "wind_speed_kt": lambda tau: np.full(len(tau), 14.0),
    "wind_from_true_deg": lambda tau: np.full(len(tau), 150.0),
    "gross_weight_kg": lambda tau: 6200.0 - 0.1 * tau,
}
NEEDS = {
    "airspeed_kt": ["approach_airspeed_sd_kt", "threshold_energy_ft"],
    "pitch_deg": ["approach_pitch_sd_deg", "nose_rate_dps", "tail_clearance_deg"],
    "thrust_lever_pct": ["approach_thrust_sd_pct"],
    "engine_speed_pct": ["approach_engine_speed_pct"],
    "vertical_speed_fpm": ["approach_vertical_speed_sd_fpm"],
    "glideslope_dots": ["lowest_glideslope_dots", "gate_500_glideslope_deg"],
    "localiser_dots": ["gate_500_localiser_deg"],
    "autopilot_on": ["autopilot_off_ft"],
    "autothrottle_on": ["autothrottle_off_ft"],
    "gross_weight_kg": ["gross_weight_kg"],
    "heading_true_deg": ["crab_at_contact_deg", "decrab_height_ft"],
    "radio_height_ft": ["decrab_height_ft"],
    "roll_deg": [
        "roll_into_wind_at_contact_deg",
        "first_main",
        "first_main_wind",
        "touching_wheel_vertical_speed_fpm",
    ],
    "wind_speed_kt": ["threshold_crosswind_kt", "roll_into_wind_at_contact_deg", "first_main_wind"],
    "flap_deg": ["flap_at_contact_deg"],
    "normal_accel_g": ["peak_g_firmest", "firmest_contact", "normal_accel_rate_hz"],
    "spoiler_pct": ["spoiler_lag_s"],
    "reverse_pct": ["reverse_lag_s"],
    "brake_pct": ["brake_lag_s"],
    "latitude_deg": [
        "threshold_height_over_design_ft",
        "lowest_path_deg",
        "settled_distance_ft",
        "rollout_lateral_max_ft",
        "runway_left_at_60kt_ft",
    ],
    "ground_speed_kt": [
        "lateral_drift_kt",
        "crab_at_contact_deg",
        "earth_vertical_speed_at_contact_fpm",
        "mean_deceleration_g",
        "peak_deceleration_g",
        "time_to_100kt_s",
        "distance_to_60kt_ft",
        "rollout_lateral_max_ft",
    ],
}


def test_the_whole_landing_has_all_of_them(flown):
    """Nothing is null for want of anything but a gust, a break below the gate and a firm answer to the automatics."""
    whole = flown(COURSES, known={"runway": "Testfield 09"})

    assert {m.name for m in MEASURES if whole[m.name] is None} == {
        "gust_spread_kt",
        "gate_500_first_break",
        "gate_500_first_break_height_ft",
        "gate_500_first_break_duration_s",
    }


@pytest.mark.parametrize("channel", NEEDS)
def test_left_out_it_is_null(flown, channel):
    """Each is null, for want of that channel."""
    courses = {name: course for name, course in COURSES.items() if name != channel}

    cut = flown(courses, without=(channel,), known={"runway": "Testfield 09"})

    assert {name: cut[f"{name}_reason"] for name in NEEDS[channel]} == dict.fromkeys(NEEDS[channel], "no_channel")


def test_both_kinds_of_nose_evidence_left_out(flown):
    """Neither switch nor pitch: nothing tells when the nose wheel came down."""
    courses = {name: course for name, course in COURSES.items() if name != "nose_on_ground"}

    assert flown(courses, without=("pitch_deg",))["nose_lag_s_reason"] == "no_channel"


def test_a_contact_that_nothing_times_leaves_its_measures_untimed(flown):
    """Positions, an altitude in steps and an air/ground flag as broadcasts have them: no instant, no rollout from it."""
    kept = {"geometric_altitude_ft", "latitude_deg", "longitude_deg", "ground_speed_kt", "track_true_deg"}
    ideal_channels = {
        "radio_height_ft", "vertical_speed_fpm", "normal_accel_g", "pitch_deg", "roll_deg", "thrust_lever_pct",
        "airspeed_kt", "main_on_ground", "gear_down", "flap_deg", "localiser_dots", "glideslope_dots", "autopilot_on",
    }  # fmt: skip
    found = flown(rate_hz=1.0, without=tuple(ideal_channels - kept))

    assert found["contact_t_s"] is None
    for name in ("time_to_80kt_s", "mean_deceleration_g", "lateral_drift_kt", "settled_distance_ft", "first_main"):
        assert found[f"{name}_reason"] in ("untimed", "no_channel"), name
    assert found["time_to_80kt_s_reason"] == "untimed"
    assert found["approach_path_deg"] is not None
    assert found["lowest_path_deg"] is not None
    assert found["runway_elevation_ft"] is not None

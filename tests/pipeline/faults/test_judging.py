"""Every fault is seen where it is, not seen just short of it, and never where it does not apply."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import polars as pl
import pytest

from pipeline.faults.limits import limits_for
from pipeline.faults.probability import SURE, UNSEEN, held
from pipeline.faults.rule import Beyond
from pipeline.faults.rules import FAULTS
from pipeline.policy import AircraftType, FaultRule, Policy

Judged = Callable[..., pl.DataFrame]
KIND = "Sarnel J4"

SHOWN: dict[str, tuple[dict[str, object], dict[str, object]]] = {
    "low_on_approach": ({"lowest_glideslope_dots": -1.1}, {"lowest_glideslope_dots": -0.9}),
    "slow_on_approach": ({"lowest_speed_over_vref_kt": -5.1}, {"lowest_speed_over_vref_kt": -4.9}),
    "late_gear": ({"gate_500_gear_down": False}, {"gate_500_gear_down": True}),
    "late_flap": ({"gate_500_failed": "sink flap"}, {"gate_500_failed": "sink"}),
    "destabilised": ({"stable_to_threshold": False}, {"gate_500_stable": False, "stable_to_threshold": False}),
    "unstable_continued": ({"continued_unstable": True}, {"continued_unstable": False}),
    "fast_at_threshold": ({"threshold_speed_over_vref_kt": 20.1}, {"threshold_speed_over_vref_kt": 19.9}),
    "slow_at_threshold": ({"threshold_speed_over_vref_kt": -0.1}, {"threshold_speed_over_vref_kt": 0.1}),
    "high_at_threshold": ({"threshold_height_ft": 75.1}, {"threshold_height_ft": 74.9}),
    "low_at_threshold": ({"threshold_height_ft": 29.9}, {"threshold_height_ft": 30.1}),
    "high_flare": ({"flare_height_ft": 45.1}, {"flare_height_ft": 44.9}),
    "late_flare": ({"flare_height_ft": 11.9}, {"flare_height_ft": 12.1}),
    "no_flare": (
        {"flare_height_ft": None, "flare_height_ft_reason": "not_reached", "sink_kept_pct": 71.0},
        {"flare_height_ft": None, "flare_height_ft_reason": "not_reached", "sink_kept_pct": 69.0},
    ),
    "over_rotation": ({"pitch_change_deg": 6.1}, {"pitch_change_deg": 5.9}),
    "bank_below_100ft": ({"bank_100_to_20ft_deg": 10.1}, {"bank_100_to_20ft_deg": 9.9}),
    "bank_below_20ft": ({"bank_below_20ft_deg": 6.1}, {"bank_below_20ft_deg": 5.9}),
    "climb_in_flare": ({"height_regained_ft": 3.1}, {"height_regained_ft": 2.9}),
    "float": ({"float_time_s": 6.1}, {"float_time_s": 5.9}),
    "thrust_closed_early": ({"thrust_close_height_ft": 60.1}, {"thrust_close_height_ft": 59.9}),
    "thrust_carried": ({"thrust_at_contact_pct": 8.1}, {"thrust_at_contact_pct": 7.9}),
    "nose_dropped": ({"pitch_after_close_deg": -1.1}, {"pitch_after_close_deg": -0.9}),
    "nose_raised": ({"pitch_after_close_deg": 1.6}, {"pitch_after_close_deg": 1.4}),
    "drift_at_contact": ({"lateral_drift_kt": -5.1}, {"lateral_drift_kt": -4.9}),
    "downwind_wing_low": (
        {"roll_into_wind_at_contact_deg": -2.1, "threshold_crosswind_kt": -9.0},
        {"roll_into_wind_at_contact_deg": -2.1, "threshold_crosswind_kt": -4.0},
    ),
    "crab_beyond_limit": ({"crab_at_contact_deg": -6.1}, {"crab_at_contact_deg": 5.9}),
    "off_centreline": ({"touchdown_lateral_ft": -25.1}, {"touchdown_lateral_ft": 24.9}),
    "bounce": ({"bounces": 1}, {"bounces": 0}),
    "nosewheel_first": ({"nose_lag_s": -0.1}, {"nose_lag_s": 0.1}),
    "tail_clearance_small": ({"tail_clearance_deg": 1.9}, {"tail_clearance_deg": 2.1}),
    "pod_clearance_small": ({"roll_at_contact_deg": -11.1}, {"roll_at_contact_deg": 10.9}),
    "tip_clearance_small": ({"roll_at_contact_deg": 15.1}, {"roll_at_contact_deg": -14.9}),
    "crosswind_beyond_limit": ({"threshold_crosswind_kt": -30.1}, {"threshold_crosswind_kt": 29.9}),
    "tailwind_beyond_limit": ({"threshold_headwind_kt": -10.1}, {"threshold_headwind_kt": -9.9}),
    "late_derotation": ({"nose_lag_s": 6.1}, {"nose_lag_s": 5.9}),
    "abrupt_derotation": ({"nose_rate_dps": -4.1}, {"nose_rate_dps": -3.9}),
    "late_spoiler": ({"spoiler_lag_s": 2.6}, {"spoiler_lag_s": 2.4}),
    "late_stopping": (
        {"reverse_lag_s": 4.1, "runway_left_at_60kt_ft": 1400.0},
        {"brake_lag_s": 9.0, "reverse_lag_s": 9.0, "runway_left_at_60kt_ft": 1600.0},
    ),
    "stopping_margin_low": ({"runway_left_at_60kt_ft": 999.0}, {"runway_left_at_60kt_ft": 1001.0}),
    "short": ({"touchdown_distance_ft": 499.0}, {"touchdown_distance_ft": 501.0}),
    "long": (
        {"touchdown_distance_ft": 2001.0, "runway_remaining_ft": 3999.0},
        {"touchdown_distance_ft": 2999.0, "runway_remaining_ft": 6002.0},
    ),
    "hard": ({"vertical_speed_at_contact_fpm": -361.0}, {"vertical_speed_at_contact_fpm": -359.0}),
    "hard_by_sample": ({"peak_g_sampled": 1.72}, {"peak_g_sampled": 1.72, "normal_accel_rate_hz": 16.0}),
    "soft_and_long": (
        {"vertical_speed_at_contact_fpm": -60.0, "touchdown_distance_ft": 3001.0},
        {"vertical_speed_at_contact_fpm": -60.0, "touchdown_distance_ft": 2999.0},
    ),
}
"""Of each fault but the one that needs two contacts: changes that show it, and changes just short of it."""


def verdicts(found: pl.DataFrame, landing_id: str) -> dict[str, str]:
    """Verdict of each fault judged for one landing."""
    return dict(found.filter(pl.col("landing_id") == landing_id).select("fault", "verdict").rows())


def test_every_fault_has_its_landings() -> None:
    """No rule is left without a landing that shows it and one that falls short."""
    assert {*SHOWN, "bounce_mishandled"} == set(FAULTS)


def test_an_ordinary_landing_has_no_fault(judged: Judged, policy: Policy) -> None:
    """Nothing is seen on a landing at the middle of the target, and nothing is left untold."""
    found = verdicts(judged({}, policy=policy), "l0")
    assert set(found) == set(FAULTS)
    assert {fault for fault, verdict in found.items() if verdict != "not_seen"} == set()


@pytest.mark.parametrize("fault", SHOWN)
def test_a_fault_is_seen_and_what_falls_short_is_not(judged: Judged, policy: Policy, fault: str) -> None:
    """Ten uncertainties beyond the limit it is seen, as far short of it not."""
    found = judged(*SHOWN[fault], policy=policy)
    assert (verdicts(found, "l0")[fault], verdicts(found, "l1")[fault]) == ("seen", "not_seen")


def test_a_bounce_is_mishandled_where_the_next_contact_is_firmer_or_the_nose_pushed(
    judged: Judged, contacts: Callable[..., pl.DataFrame]
) -> None:
    """A second contact 100 ft/min firmer is named, a softer one only with the nose pushed, a lost one cannot be told."""
    pushed = {"bounces": 1, "nose_pushed_deg": 3.5}
    speeds = [contacts("l0", -150.0, -250.0), contacts("l1", -250.0, -150.0), contacts("l2", -250.0, -150.0)]
    found = judged({"bounces": 1}, {"bounces": 1}, pushed, {"bounces": 1}, contacts=pl.concat(speeds))
    assert [verdicts(found, f"l{i}")["bounce_mishandled"] for i in range(4)] == [
        "seen",
        "not_seen",
        "seen",
        "cannot_tell",
    ]


def test_the_probability_is_that_of_a_normal_error(judged: Judged, policy: Policy) -> None:
    """At the limit it is one half; 1.645 uncertainties beyond, .95 and named; nearer, nobody can tell."""
    at = [{"float_time_s": 6.0 + z * 0.5} for z in (0.0, 1.6449, -1.6449, 1.0)]
    found = judged(*at, u=0.5, policy=policy).filter(pl.col("fault") == "float")
    assert found["probability"].to_list() == pytest.approx([0.5, 0.95, 0.05, 0.8413], abs=2e-4)
    assert found["verdict"].to_list() == ["cannot_tell", "seen", "not_seen", "cannot_tell"]


def test_verdicts_keep_their_promise_under_noise() -> None:
    """Of landings whose truth is just short of a limit, measured with error, at most 5 in 100 are named."""
    draw, u = np.random.default_rng(3), 0.5
    for truth, wrong in ((5.99, lambda p: p >= SURE), (6.01, lambda p: p <= UNSEEN)):
        measured = truth + u * draw.normal(size=4000)
        row = {"float_time_s": measured, "float_time_s_u": u, "float_time_s_reason": [None] * 4000}
        found = held(pl.DataFrame(row), Beyond("float_time_s", "above", "float_s"), np.full(4000, 6.0))
        assert wrong(found.probability).mean() == pytest.approx(0.05, abs=0.011)


def test_technique_is_judged_by_profile_only(judged: Judged, policy: Policy) -> None:
    """Without a profile and on an exercise only outcomes and rules of the approach are judged."""
    outcomes = {name for name, rule in FAULTS.items() if not rule.technique}
    unknown = replace(policy, types={KIND: replace(policy.types[KIND], profile=None)})
    assert set(judged({}, policy=unknown)["fault"]) == outcomes
    assert set(judged({"exercise": "flapless"})["fault"]) == outcomes


def test_nothing_is_judged_of_a_tailwheel(judged: Judged, policy: Policy) -> None:
    """Tailwheel, ski and float contact has measures only."""
    kind = replace(policy.types[KIND], tailwheel=True)
    assert judged({}, policy=replace(policy, types={KIND: kind})).is_empty()


def test_each_profile_has_its_own_faults_and_limits(judged: Judged, policy: Policy) -> None:
    """A nose raised after thrust closed is no fault of a light aeroplane, and its flare may begin lower."""
    light = replace(policy, types={KIND: replace(policy.types[KIND], profile="light")})
    found = verdicts(judged({"pitch_after_close_deg": 3.0, "flare_height_ft": 8.0}, policy=light), "l0")
    assert "nose_raised" not in found
    assert found["late_flare"] == "not_seen"


def test_automatic_landings_and_go_arounds(judged: Judged, policy: Policy) -> None:
    """An automatic landing is not judged; a go-around is judged by the approach's rules alone."""
    found = judged({"landing_mode": "automatic"}, {"landing_index": None}, policy=policy)
    assert verdicts(found, "l0") == {}
    assert set(verdicts(found, "l1")) == {name for name, rule in FAULTS.items() if rule.phase == "approach"}


@pytest.mark.parametrize(
    ("fault", "row"),
    [
        ("long", {"intent": "land_long", "touchdown_distance_ft": 4000.0}),
        ("short", {"exercise": "short_field", "touchdown_distance_ft": 100.0}),
        ("late_flap", {"exercise": "flapless", "gate_500_failed": "flap"}),
        ("unstable_continued", {"exercise": "reduced_flap", "continued_unstable": True}),
    ],
)
def test_an_intent_or_an_exercise_lifts_a_fault_and_says_so(judged: Judged, fault: str, row: dict[str, object]) -> None:
    """What was meant is not named, and the row says that it was meant."""
    found = judged(row).row(by_predicate=pl.col("fault") == fault, named=True)
    assert (found["verdict"], found["probability"], found["reason"]) == ("cannot_tell", None, "intended")


def test_a_desktop_simulators_acceleration_is_no_fault(judged: Judged) -> None:
    """Sampled acceleration of a desktop simulator is descriptive only; its vertical speed is judged."""
    found = verdicts(judged({"device": "desktop_simulator", "peak_g_sampled": 2.5}), "l0")
    assert "hard_by_sample" not in found
    assert found["hard"] == "not_seen"


def test_other_conditions_stand_beside_the_first(judged: Judged) -> None:
    """`given` is the chance of all conditions but the first, whose value and limit are kept."""
    row = judged({"runway_left_at_60kt_ft": 1400.0, "brake_lag_s": 6.0}, u=0.5)
    late = row.row(by_predicate=pl.col("fault") == "late_stopping", named=True)
    assert (late["value"], late["limit_value"], late["given"]) == (1400.0, 1500.0, 0.5)
    assert late["probability"] == pytest.approx(0.5)
    assert row.filter(pl.col("fault") == "float")["given"].to_list() == [1.0]


def test_what_cannot_be_told_says_why(judged: Judged) -> None:
    """A measure that is missing gives its own reason; a type that states no limit gives no_reference."""
    policy = Policy(types={KIND: AircraftType(profile="jet")})
    found = judged({"flare_height_ft": None, "flare_height_ft_reason": "too_slow"}, policy=policy)
    why = dict(found.select("fault", "reason").rows())
    assert why["high_flare"] == why["late_flare"] == "too_slow"
    assert why["crosswind_beyond_limit"] == why["crab_beyond_limit"] == "no_reference"
    assert not {"tip_clearance_small", "pod_clearance_small"} & set(why)
    assert why["float"] is None


def test_each_landing_has_its_own_reason(judged: Judged) -> None:
    """In a batch a row has a reason exactly where it has no probability, whatever the other landings have."""
    lost = {"float_time_s": None, "float_time_s_reason": "gap"}
    found = judged({}, lost, {"float_time_s": None, "float_time_s_reason": "untimed"})
    assert found.filter(pl.col("fault") == "float")["reason"].to_list() == [None, "gap", "untimed"]
    assert found["probability"].is_null().to_list() == found["reason"].is_not_null().to_list()


def test_settings_change_a_limit_or_switch_a_fault_off(judged: Judged, policy: Policy) -> None:
    """The operator's limit stands over the shipped one, and a fault that is not judged has no row."""
    own = replace(policy, faults={"float": FaultRule(limits={"float_s": 2.0}), "bounce": FaultRule(judged=False)})
    found = judged({}, policy=own)
    assert verdicts(found, "l0")["float"] == "seen"
    assert "bounce" not in verdicts(found, "l0")
    assert found.row(by_predicate=pl.col("fault") == "float", named=True)["limit_value"] == 2.0


def test_every_limit_of_every_condition_is_given(policy: Policy) -> None:
    """No condition names a limit that neither rule, type nor policy gives."""
    kind = policy.types[KIND]
    for name, rule in FAULTS.items():
        given = limits_for(name, rule, kind, policy)
        named = {c.limit for c in rule.every_condition() if isinstance(c, Beyond)} - {"sampled_g"}
        assert named <= {k for k, v in given.items() if v is not None}

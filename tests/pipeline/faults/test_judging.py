"""Every fault is seen where it is, not seen just short of it, and never where it does not apply."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import polars as pl
import pytest

from pipeline.contact_frame import SCHEMA as CONTACTS
from pipeline.faults.judging import judge_faults
from pipeline.faults.limits import limits_for
from pipeline.faults.rule import Beyond
from pipeline.faults.rules import FAULTS
from pipeline.policy import AircraftType, FaultRule, Policy

NONE = pl.DataFrame(schema=CONTACTS)
Landings = Callable[..., pl.DataFrame]

SHOWN: dict[str, tuple[dict[str, object], dict[str, object]]] = {
    "low_on_approach": ({"lowest_glideslope_dots": -1.1}, {"lowest_glideslope_dots": -0.9}),
    "slow_on_approach": ({"gate_500_speed_over_target_kt": -5.1}, {"gate_500_speed_over_target_kt": -4.9}),
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
    "no_flare": ({"flare_height_ft": None, "flare_height_ft_reason": "not_reached"}, {"flare_height_ft": 4.0}),
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
        {"brake_lag_s": 6.1, "runway_left_at_60kt_ft": 1400.0},
        {"brake_lag_s": 9.0, "runway_left_at_60kt_ft": 1600.0},
    ),
    "stopping_margin_low": ({"runway_left_at_60kt_ft": 999.0}, {"runway_left_at_60kt_ft": 1001.0}),
    "short": ({"touchdown_distance_ft": 499.0}, {"touchdown_distance_ft": 501.0}),
    "long": ({"runway_used_pct": 33.5}, {"runway_used_pct": 33.2, "touchdown_distance_ft": 2999.0}),
    "hard": ({"vertical_speed_at_contact_fpm": -361.0}, {"vertical_speed_at_contact_fpm": -359.0}),
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


def test_an_ordinary_landing_has_no_fault(landings: Landings, policy: Policy) -> None:
    """Nothing is seen on a landing at the middle of the target, and nothing is left untold."""
    found = verdicts(judge_faults(landings({}), NONE, policy), "l0")
    assert set(found) == set(FAULTS)
    assert {fault for fault, verdict in found.items() if verdict != "not_seen"} == set()


@pytest.mark.parametrize("fault", SHOWN)
def test_a_fault_is_seen_and_what_falls_short_is_not(landings: Landings, policy: Policy, fault: str) -> None:
    """Ten uncertainties beyond the limit it is seen, as far short of it not."""
    found = judge_faults(landings(*SHOWN[fault]), NONE, policy)
    assert (verdicts(found, "l0")[fault], verdicts(found, "l1")[fault]) == ("seen", "not_seen")


def test_a_bounce_is_mishandled_where_the_next_contact_is_firmer(
    landings: Landings, contacts: Callable[..., pl.DataFrame], policy: Policy
) -> None:
    """A second contact 100 ft/min firmer is named, a softer one is not, and a lost one cannot be told."""
    three = landings({"bounces": 1}, {"bounces": 1}, {"bounces": 1})
    found = judge_faults(three, pl.concat([contacts("l0", -150.0, -250.0), contacts("l1", -250.0, -150.0)]), policy)
    assert [verdicts(found, name)["bounce_mishandled"] for name in ("l0", "l1", "l2")] == [
        "seen",
        "not_seen",
        "cannot_tell",
    ]


def test_the_probability_is_that_of_a_normal_error(landings: Landings, policy: Policy) -> None:
    """At the limit it is one half; 1.645 uncertainties beyond, .95 and named; nearer, nobody can tell."""
    at = [{"float_time_s": 6.0 + z * 0.5} for z in (0.0, 1.6449, -1.6449, 1.0)]
    found = judge_faults(landings(*at, u=0.5), NONE, policy).filter(pl.col("fault") == "float")
    assert found["probability"].to_list() == pytest.approx([0.5, 0.95, 0.05, 0.8413], abs=2e-4)
    assert found["verdict"].to_list() == ["cannot_tell", "seen", "not_seen", "cannot_tell"]


def test_verdicts_keep_their_promise_under_noise(landings: Landings, policy: Policy) -> None:
    """Of landings whose truth is just short of a limit, measured with error, at most 5 in 100 are named."""
    draw = np.random.default_rng(3)
    for truth, verdict in ((5.99, "seen"), (6.01, "not_seen")):
        measured = [{"float_time_s": float(x)} for x in truth + 0.5 * draw.normal(size=4000)]
        found = judge_faults(landings(*measured, u=0.5), NONE, policy).filter(pl.col("fault") == "float")
        assert (found["verdict"] == verdict).mean() == pytest.approx(0.05, abs=0.011)


def test_technique_is_judged_by_profile_only(landings: Landings, policy: Policy) -> None:
    """Without a profile, with a tailwheel and on an exercise only outcomes and rules of the approach are judged."""
    outcomes = {name for name, rule in FAULTS.items() if not rule.technique}
    jet = policy.types["Sarnel J4"]
    for kind in (replace(jet, profile=None), replace(jet, tailwheel=True)):
        found = judge_faults(landings({}), NONE, replace(policy, types={"Sarnel J4": kind}))
        assert set(found["fault"]) == outcomes
    assert set(judge_faults(landings({"exercise": "flapless"}), NONE, policy)["fault"]) == outcomes


def test_each_profile_has_its_own_faults_and_limits(landings: Landings, policy: Policy) -> None:
    """A nose raised after thrust closed is no fault of a light aeroplane, and its flare may begin lower."""
    light = replace(policy, types={"Sarnel J4": replace(policy.types["Sarnel J4"], profile="light")})
    found = verdicts(judge_faults(landings({"pitch_after_close_deg": 3.0, "flare_height_ft": 8.0}), NONE, light), "l0")
    assert "nose_raised" not in found
    assert found["late_flare"] == "not_seen"


def test_automatic_landings_and_go_arounds(landings: Landings, policy: Policy) -> None:
    """An automatic landing is not judged; a go-around is judged by the approach's rules alone."""
    found = judge_faults(landings({"landing_mode": "automatic"}, {"landing_index": None}), NONE, policy)
    assert verdicts(found, "l0") == {}
    assert set(verdicts(found, "l1")) == {name for name, rule in FAULTS.items() if rule.phase == "approach"}


def test_an_intent_lifts_the_long_fault_and_says_so(landings: Landings, policy: Policy) -> None:
    """A landing meant to be long is not named long."""
    found = judge_faults(landings({"intent": "land_long", "touchdown_distance_ft": 4000.0}), NONE, policy)
    row = found.row(by_predicate=pl.col("fault") == "long", named=True)
    assert (row["verdict"], row["probability"], row["reason"]) == ("cannot_tell", None, "intended")


def test_what_cannot_be_told_says_why(landings: Landings) -> None:
    """A measure that is missing gives its own reason; a type that states no limit gives no_reference."""
    policy = Policy(types={"Sarnel J4": AircraftType(profile="jet")})
    found = judge_faults(landings({"flare_height_ft": None, "flare_height_ft_reason": "too_slow"}), NONE, policy)
    why = dict(found.select("fault", "reason").rows())
    assert why["high_flare"] == why["no_flare"] == "too_slow"
    assert why["crosswind_beyond_limit"] == why["tip_clearance_small"] == "no_reference"
    assert why["float"] is None


def test_settings_change_a_limit_or_switch_a_fault_off(landings: Landings, policy: Policy) -> None:
    """The operator's limit stands over the shipped one, and a fault that is not judged has no row."""
    own = replace(policy, faults={"float": FaultRule(limits={"float_s": 2.0}), "bounce": FaultRule(judged=False)})
    found = judge_faults(landings({}), NONE, own)
    assert verdicts(found, "l0")["float"] == "seen"
    assert "bounce" not in verdicts(found, "l0")
    assert found.row(by_predicate=pl.col("fault") == "float", named=True)["limit_value"] == 2.0


def test_every_limit_of_every_condition_is_given(policy: Policy) -> None:
    """No condition names a limit that neither rule, type nor policy gives."""
    kind = policy.types["Sarnel J4"]
    for name, rule in FAULTS.items():
        given = limits_for(name, rule, kind, policy)
        assert {c.limit for c in rule.conditions if isinstance(c, Beyond)} <= {
            k for k, v in given.items() if v is not None
        }

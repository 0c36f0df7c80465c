"""How the aircraft stood to wind and runway at contact, on landings whose drift, crab and bank were put there."""

import numpy as np
import pytest

KT_FPS = 1.687810
FT_PER_DEG_AT_EQUATOR = 110574.2727 / 0.3048
"""Length of a degree of latitude at the equator, WGS 84 (Clarke's series)."""


def constant(value):
    return lambda tau: np.full(len(tau), value)


def sideways(kt):
    """Latitude of an aircraft that comes over the centreline of the eastward runway at contact, moving right."""
    return lambda tau: -kt * KT_FPS * tau / FT_PER_DEG_AT_EQUATOR


BANKED = {
    "roll_deg": constant(1.5),
    "wind_speed_kt": constant(12.0),
    "wind_from_true_deg": constant(180.0),
}
"""Right wing down by 1.5 deg, wind from the right of the eastward runway."""


@pytest.mark.parametrize("rate_hz", [8.0, 4.0, 1.0])
@pytest.mark.parametrize("source", ["track", "positions", "both"])
def test_drift_is_found_from_track_or_positions(flown, close, rate_hz, source):
    """4 kt to the right at 140 kt: the track stands 1.637 deg right of the runway."""
    courses = {"track_true_deg": constant(90.0 + np.degrees(np.arctan2(4.0, 140.0))), "latitude_deg": sideways(4.0)}
    if source == "track":
        courses["latitude_deg"] = constant(0.0)
    left_out = {"track": ("latitude_deg",), "positions": ("track_true_deg",), "both": ()}[source]
    runway = {"known": {"runway": "Testfield 09"}} if source == "track" else {}

    found = flown(courses, rate_hz=rate_hz, without=left_out, **runway)

    assert close(found, "lateral_drift_kt", 4.0)


def test_crab_is_heading_minus_track(flown, close):
    """Nose 6 deg right of the runway, drifting 1.637 deg to the right of it."""
    found = flown({"heading_true_deg": constant(96.0), "latitude_deg": sideways(4.0)}, without=("track_true_deg",))

    assert close(found, "crab_at_contact_deg", 6.0 - 1.637)


def test_crab_past_north_is_small(flown, close):
    """358 deg on a runway of 2 deg is 4 deg of crab to the left, not 356 to the right."""
    found = flown(
        {
            "heading_true_deg": constant(358.0),
            "track_true_deg": constant(2.0),
            "latitude_deg": lambda tau: tau * 140.0 * KT_FPS / FT_PER_DEG_AT_EQUATOR,
            "longitude_deg": constant(30.0),
        },
        runway={"true_heading_deg": 2.0},
        known={"runway": "Testfield 09"},
    )

    assert found["crab_at_contact_deg"] == pytest.approx(-4.0, abs=2.5)


def test_bank_and_first_wheel_are_told_against_the_wind(flown, close):
    """The lower wheel is the right one, and the wind blows from there."""
    found = flown(BANKED)

    assert close(found, "roll_into_wind_at_contact_deg", 1.5)
    assert (found["first_main"], found["first_main_wind"]) == ("right", "upwind")
    assert found["first_main_confidence"] > 0.99


def test_mirrored_the_signs_turn_and_the_wind_side_stays(flown):
    """The same landing seen in a mirror: left wheel, still upwind."""
    mirrored = BANKED | {"roll_deg": constant(-1.5), "wind_from_true_deg": constant(0.0)}
    right = flown(BANKED | {"heading_true_deg": constant(93.0), "latitude_deg": sideways(2.0)})
    left = flown(mirrored | {"heading_true_deg": constant(87.0), "latitude_deg": sideways(-2.0)})

    assert left["crab_at_contact_deg"] == pytest.approx(-right["crab_at_contact_deg"], abs=1e-6)
    assert left["lateral_drift_kt"] == pytest.approx(-right["lateral_drift_kt"], abs=1e-6)
    assert left["threshold_crosswind_kt"] == pytest.approx(-right["threshold_crosswind_kt"], abs=1e-6)
    assert (left["first_main"], left["first_main_wind"]) == ("left", "upwind")
    assert left["roll_into_wind_at_contact_deg"] == pytest.approx(right["roll_into_wind_at_contact_deg"])
    for name in ("tail_clearance_deg", "threshold_energy_ft", "time_to_80kt_s", "approach_pitch_sd_deg"):
        assert left[name] == pytest.approx(right[name], abs=1e-6)


def test_no_crosswind_has_no_upwind_side(flown):
    """A crosswind smaller than its uncertainty names no side."""
    found = flown(BANKED | {"wind_speed_kt": constant(0.5)})

    assert found["first_main"] == "right"
    assert found["first_main_wind_reason"] == "not_reached"
    assert found["roll_into_wind_at_contact_deg_reason"] == "not_reached"


def test_earth_vertical_speed_leaves_the_slope_out(flown):
    """On 2 % uphill at 140 kt the surface rises by 0.02 x 236.3 ft/s = 283.6 ft/min towards the wheels."""
    found = flown(runway={"slope_pct": 2.0})

    difference = found["earth_vertical_speed_at_contact_fpm"] - found["vertical_speed_at_contact_fpm"]
    assert difference == pytest.approx(283.6, abs=2.0)
    assert flown(runway={"slope_pct": None})["earth_vertical_speed_at_contact_fpm_reason"] == "no_reference"


def test_rolling_towards_the_touching_wheel_adds_to_its_speed(flown):
    """2 deg/s to the right at half of 18 ft is 9 x 0.0349 ft/s = 18.8 ft/min more; without roll rate nothing."""
    rolling = flown({"roll_deg": lambda tau: np.clip(1.5 + 2.0 * tau, -4.0, 4.0)})
    still = flown({"roll_deg": constant(1.5)})

    added = rolling["touching_wheel_vertical_speed_fpm"] - rolling["vertical_speed_at_contact_fpm"]
    assert added == pytest.approx(-18.8, abs=2.0)
    assert still["touching_wheel_vertical_speed_fpm"] == pytest.approx(still["vertical_speed_at_contact_fpm"], abs=0.1)


def test_tail_clearance_and_flap_at_contact(flown, close):
    """The tail touches at 11 deg, the ideal landing stands at 5.5 deg; flap 30 deg."""
    found = flown()

    assert close(found, "tail_clearance_deg", 5.5)
    assert close(found, "flap_at_contact_deg", 30.0)
    assert flown(known={"aircraft_type": "unknown"})["tail_clearance_deg_reason"] == "no_reference"


@pytest.mark.parametrize("rate_hz", [8.0, 4.0, 1.0])
def test_decrab_is_put_where_the_nose_had_come_one_degree(flown, close, rate_hz):
    """4 deg of crab taken off at 1.5 deg/s from 3 s before contact on: 1 deg at 2.333 s.

    The flare law stands there at h(t) = 12 ft (exp(2.333 / 3.3) - 1) = 12.3 ft.
    """
    found = flown(
        {"heading_true_deg": lambda tau: 90.0 + np.clip(-1.5 * (tau + 3.0), -4.0, 0.0) + 4.0}, rate_hz=rate_hz
    )

    assert close(found, "decrab_height_ft", 12.3)


@pytest.mark.parametrize(("held", "left"), [(1.0, 0.0), (5.0, 5.0)])
def test_no_crab_or_crab_kept_has_no_decrab(flown, held, left):
    """Less than 2 deg held is none; 5 deg kept to contact was not taken off."""
    found = flown({"heading_true_deg": lambda tau: 90.0 + np.where(tau < -3.0, held, left)})

    assert found["decrab_height_ft_reason"] == "not_reached"

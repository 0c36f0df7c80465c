"""The simulation against closed forms and against what aeroplanes do."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from flows.invented.airframes import JET, LIGHT, Airframe
from flows.invented.flight import fly
from flows.invented.lane import Lane
from flows.invented.plan import GO_AROUND, TOUCH_AND_GO, Plan
from flows.invented.units import FPM, FT, KT


def _first(plan: Plan) -> Lane:
    return next(fly(plan, np.random.default_rng(0)))


@pytest.mark.parametrize("a", [JET, LIGHT])
def test_a_trimmed_approach_in_still_air_holds_path_and_speed(calm: Callable[..., Plan], a: Airframe) -> None:
    """From 1,300 ft to the flare the wheels stay within 5 ft of the path and the speed within 2 kt of the target."""
    lane = _first(calm(a=a))
    before = (lane.t > 20.0) & (lane.column("h") > 30.0 * FT) & (lane.t < lane.contact_s)

    off = lane.column("h") - (50.0 * FT - np.tan(np.radians(3.0)) * lane.column("x"))
    assert np.max(np.abs(off[before])) < 5.0 * FT
    assert np.max(np.abs(lane.column("airspeed")[before] - a.vref_kt * KT)) < 2.0 * KT


def test_an_ideal_pilot_flies_the_closed_form_of_the_exponential_flare(calm: Callable[..., Plan]) -> None:
    """At 140 kt on 3 deg with tau 3.3 s and base 12 ft: 28.87 ft, 4.044 s, 955.5 ft, 218.2 ft/min.

    Sink goes as (h + base) / tau, so h0 = tau * 12.384 - 12, t = tau * ln((h0 + 12) / 12), contact at 12 / 3.3 ft/s.
    Tolerance 4 %: the aeroplane answers in a quarter of a second and loses 3 kt on the way.
    """
    ideal = replace(JET, pitch_rad_s=6.0, pitch_damping=0.9, thrust_pitch=0.0, ground_pitch=0.0, span_m=0.2)
    speed = 140.0 * KT
    plan = calm(
        a=ideal, target_ms=speed, vref_ms=speed, mass_kg=8700.0, flare_m=28.87 * FT, sink_ms=12.0 / 3.3 * FT,
        lag_s=0.02, close_lag_s=1e9,
    )  # fmt: skip

    lane = _first(plan)

    start = float(np.interp(-28.87 * FT, -lane.column("h"), lane.t))
    x = lane.column("x")
    assert pytest.approx(lane.contact_s - start, rel=0.04) == 4.044
    assert pytest.approx((np.interp(lane.contact_s, lane.t, x) - np.interp(start, lane.t, x)) / FT, rel=0.04) == 955.5
    assert pytest.approx(lane.sink_at_contact_ms / FPM, rel=0.04) == 218.2


def test_sink_at_contact_is_the_slope_of_wheel_height(calm: Callable[..., Plan]) -> None:
    """On a runway that rises 1 % the sink noted is the closure with the surface, not with the horizon."""
    lane = _first(calm(slope=0.01))
    before = (lane.t > lane.contact_s - 0.12) & (lane.t < lane.contact_s)

    closure = -np.polyfit(lane.t[before], lane.column("h")[before], 1)[0]
    assert closure == pytest.approx(lane.sink_at_contact_ms, abs=3.0 * FPM)
    uphill = 0.01 * np.interp(lane.contact_s, lane.t, lane.column("u"))
    assert -np.interp(lane.contact_s, lane.t, lane.column("w")) < lane.sink_at_contact_ms - 0.8 * uphill


def test_no_flare_meets_the_runway_at_the_sink_of_the_approach(calm: Callable[..., Plan]) -> None:
    """A pilot who does nothing arrives at speed times tan(3 deg), within the tenth that ground effect may take."""
    lane = _first(calm(flare_m=-10.0, close_lag_s=1e9))

    assert np.isinf(lane.flare_s)
    assert JET.vref_kt * KT * np.tan(np.radians(3.0)) == pytest.approx(lane.sink_at_contact_ms, rel=0.1)


def test_a_softer_aim_lands_longer(calm: Callable[..., Plan]) -> None:
    """The trade every flare makes: less sink at contact, more runway used."""
    firm, soft = _first(calm(sink_ms=250.0 * FPM)), _first(calm(sink_ms=80.0 * FPM))

    assert soft.sink_at_contact_ms < firm.sink_at_contact_ms
    assert np.interp(soft.contact_s, soft.t, soft.column("x")) > np.interp(firm.contact_s, firm.t, firm.column("x"))


def test_a_firmer_arrival_shows_more_acceleration(calm: Callable[..., Plan]) -> None:
    """Peak low-passed acceleration grows with sink, and a firm landing of 6 ft/s stays below the structure's limits."""
    peaks = []
    for sink in (100.0, 200.0, 360.0):
        lane = _first(calm(sink_ms=sink * FPM))
        peaks.append(lane.column("nz_slow")[np.abs(lane.t - lane.contact_s) <= 1.0].max())

    assert peaks == sorted(peaks)
    assert peaks[-1] < 2.0


def test_closing_the_lever_makes_the_nose_want_to_drop(calm: Callable[..., Plan]) -> None:
    """With nobody holding the attitude, thrust closed high on the approach pitches the nose down."""
    loose = replace(JET, thrust_pitch=0.3)
    plain = replace(JET, thrust_pitch=0.0)
    pitch = [_first(calm(a=a, close_lag_s=-4.0, close_s=0.5)) for a in (loose, plain)]

    after = [np.interp(lane.close_s + 1.0, lane.t, lane.column("theta")) for lane in pitch]
    assert after[0] < after[1]


@pytest.mark.parametrize(("a", "most_ft"), [(JET, 6.0), (LIGHT, 3.0)])
def test_a_nose_allowed_up_too_far_lets_it_float_but_not_climb_away(
    calm: Callable[..., Plan], a: Airframe, most_ft: float
) -> None:
    """Three degrees of it float the landing long, but a pilot who feels the climb stops it within some feet."""
    lane = _first(calm(a=a, after_close=np.radians(3.0), flare_m=22.0 * FT, sink_ms=80.0 * FPM, close_lag_s=0.8))
    flaring = (lane.t > lane.flare_s) & (lane.t < lane.contact_s)

    h = lane.column("h")[flaring]
    assert np.max(h - np.minimum.accumulate(h)) < most_ft * FT


def test_a_crosswind_is_crabbed_into_and_mostly_kicked_off(calm: Callable[..., Plan]) -> None:
    """Wind from the right: nose right of track on the approach, less of it at contact, close to the centreline."""
    lane = _first(calm(cross_ms=7.0))
    high = lane.column("h") > 60.0

    assert np.degrees(lane.column("psi")[high].mean()) > 5.0
    assert np.degrees(np.interp(lane.contact_s, lane.t, lane.column("psi"))) < 4.0
    assert abs(np.interp(lane.contact_s, lane.t, lane.column("y"))) < 15.0 * FT


def test_touch_and_go_and_go_around_climb_away(calm: Callable[..., Plan]) -> None:
    """The one rolls some seconds and climbs, the other never touches."""
    touched = _first(calm(kind=float(TOUCH_AND_GO), ground_s=4.0))
    missed = _first(calm(kind=float(GO_AROUND), go_m=60.0))

    assert np.isfinite(touched.contact_s)
    assert touched.go_s - touched.contact_s == pytest.approx(4.0, abs=0.5)
    assert np.isinf(missed.contact_s)
    assert 0.0 < missed.column("h").min() < 60.0
    assert min(touched.column("h")[-1], missed.column("h")[-1]) > 300.0 * FT

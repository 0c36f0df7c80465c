"""The wind of a landing on runway 09: recorded, stated or reported, along and across, with its gusts."""

from datetime import UTC, datetime

import numpy as np
import pytest

REPORT = "METAR XXAA 200950Z {} 9999 SCT030 12/07 Q1009"
"""The ideal landing's log starts on 20 November 2026 at 10:00 UTC and touches down 150 s later."""
FROM = {"wind_from_true_deg": 60.0, "wind_speed_kt": 20.0}


def steady(value: float):
    return lambda tau: np.full(len(tau), value)


def test_a_stated_wind_has_its_parts_along_and_across_the_runway(flown):
    """20 kt from 60 deg on a runway of 90: 20 cos 30 = 17.32 kt ahead, 20 sin 30 = 10 kt from the left."""
    row = flown(known=FROM)

    assert row["headwind_kt"] == pytest.approx(17.32, abs=0.01)
    assert row["crosswind_kt"] == pytest.approx(-10.0, abs=0.01)
    assert row["wind_source"] == "stated"


def test_the_recorded_wind_stands_before_the_stated_one_and_the_report(flown):
    """A wind channel near the touchdown tells it best: it is nearer in time and place, and surer."""
    said = {**FROM, "weather_report": REPORT.format("18030KT")}
    recorded = flown({"wind_speed_kt": steady(12.0), "wind_from_true_deg": steady(90.0)}, known=said)
    stated = flown(known=said)
    reported = flown(known={"weather_report": REPORT.format("18030KT")})

    assert [row["wind_source"] for row in (recorded, stated, reported)] == ["recorded", "stated", "report"]
    assert recorded["headwind_kt"] == pytest.approx(12.0, abs=0.01)
    assert stated["headwind_kt"] == pytest.approx(17.32, abs=0.01)
    assert reported["crosswind_kt"] == pytest.approx(30.0, abs=0.01)
    assert recorded["headwind_kt_u"] < stated["headwind_kt_u"]


def test_half_a_recorded_wind_is_none(flown):
    """Speed without direction tells neither part; the stated wind serves."""
    row = flown({"wind_speed_kt": steady(12.0)}, known=FROM)

    assert row["wind_source"] == "stated"


def test_no_wind_from_anybody_is_null_and_no_calm(flown):
    """Null with the reason, and no source."""
    row = flown()

    assert (row["headwind_kt"], row["headwind_kt_reason"], row["wind_source"]) == (None, "no_channel", None)
    assert (row["gust_spread_kt"], row["gust_spread_kt_reason"]) == (None, "no_reference")


def test_gusts_reported_not_reported_and_not_known(flown):
    """A report with a gust, one without, and a manifest that leaves it blank are three different things."""
    gusting = flown(known={"weather_report": REPORT.format("09015G27KT")})
    steady_report = flown(known={"weather_report": REPORT.format("09015KT")})
    blank = flown(known=FROM)

    assert gusting["gust_spread_kt"] == 12.0
    assert (steady_report["gust_spread_kt"], steady_report["gust_spread_kt_reason"]) == (None, "not_reported")
    assert (blank["gust_spread_kt"], blank["gust_spread_kt_reason"]) == (None, "no_reference")


def test_a_report_in_metres_a_second_is_a_wind_in_knots(flown):
    """10 m/s is 19.44 kt."""
    assert flown(known={"weather_report": REPORT.format("09010MPS")})["headwind_kt"] == pytest.approx(19.44, abs=0.01)


@pytest.mark.parametrize("group", ["VRB04KT", "00000KT"])
def test_a_light_variable_wind_and_a_calm_are_nothing_either_way(flown, group):
    """Variable wind of 4 kt is 0 along and across, less sure than a calm by 4 kt over the square root of 2."""
    row, calm = (flown(known={"weather_report": REPORT.format(g)}) for g in (group, "00000KT"))

    assert (row["headwind_kt"], row["crosswind_kt"]) == pytest.approx((0.0, 0.0))
    extra = row["crosswind_kt_u"] ** 2 - calm["crosswind_kt_u"] ** 2
    assert extra == pytest.approx(8.0 if group.startswith("VRB") else 0.0, abs=1e-6)


def test_a_strong_wind_from_no_settled_side_has_no_parts(flown):
    """20 kt from anywhere may be ahead, behind or across: null."""
    row = flown(known={"weather_report": REPORT.format("VRB20G35KT")})

    assert (row["headwind_kt"], row["crosswind_kt"]) == (None, None)
    assert row["gust_spread_kt"] == 15.0


def test_a_wind_that_swings_is_less_sure_across_its_own_direction(flown):
    """20 kt down the runway swinging over 80 deg: the crosswind is uncertain by 20 kt times 80 / sqrt(12) deg, in rad."""
    row = flown(known={"weather_report": REPORT.format("09020KT 050V130")})
    swing = 20.0 * np.radians(80.0 / np.sqrt(12.0))

    assert row["crosswind_kt_u"] == pytest.approx(np.hypot(4.0, swing), rel=1e-6)
    assert row["headwind_kt_u"] == pytest.approx(4.0, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "found", "age"),
    [
        (REPORT.format("09015KT"), "read", 13),
        ("METAR XXAA 200550Z 09015KT 9999", "not of this hour", 253),
        ("windy", "unreadable", None),
        (REPORT.format("/////KT"), "no wind in it", 13),
        (None, None, None),
    ],
)
def test_what_became_of_the_report_stands_in_the_row(flown, text, found, age):
    """Contact is at 10:02:30, the report of 09:50 is 13 minutes old to the minute; one that cannot be used gives null."""
    row = flown(known={"weather_report": text}) if text else flown()

    assert (row["report_found"], row["report_age_min"]) == (found, age)
    assert (row["headwind_kt"] is not None) is (found == "read")


def test_a_reports_date_may_come_from_the_manifest(flown, ideal):
    """The log's own stamps win; they say 10:00 where the manifest says noon."""
    said = {"weather_report": REPORT.format("09015KT"), "flown_at": datetime(2026, 11, 20, 12, tzinfo=UTC)}

    assert flown(known=said)["report_age_min"] == 13


def test_gust_additive_reaches_the_target_speed(flown):
    """Without a stated target: Vref plus the wind additive; the gust spread of the report adds to it."""
    known = {"target_speed_kt": None, "vref_kt": 132.0}
    without = flown(known={**known, "weather_report": REPORT.format("00000KT")})
    gusting = flown(known={**known, "weather_report": REPORT.format("18010G18KT")})

    assert without["gate_500_speed_over_target_kt"] > gusting["gate_500_speed_over_target_kt"]

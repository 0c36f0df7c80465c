"""Routine weather reports: the wind in every form it is written in, and what is no report.

The reports are invented; the forms follow WMO Manual on Codes, volume I.1, FM 15 (15.5, surface wind).
"""

from datetime import UTC, datetime, timedelta

import pytest

from pipeline.weather_report import read_report

KT_IN_MPS = 3600.0 / 1852.0


@pytest.mark.parametrize(
    ("group", "from_deg", "speed_kt", "gust_kt"),
    [
        ("24015KT", 240.0, 15.0, None),
        ("24015G27KT", 240.0, 15.0, 27.0),
        ("240108G120KT", 240.0, 108.0, 120.0),
        ("21009G14MPS", 210.0, 9 * KT_IN_MPS, 14 * KT_IN_MPS),
        ("00000KT", None, 0.0, None),
        ("00000MPS", None, 0.0, None),
        ("VRB02KT", None, 2.0, None),
        ("36005KT", 360.0, 5.0, None),
        ("/////KT", None, None, None),
        ("///07KT", None, 7.0, None),
    ],
)
def test_a_wind_is_read_in_knots_and_true_degrees(group, from_deg, speed_kt, gust_kt):
    """Steady, gusting, calm, variable, in metres a second, not available."""
    found = read_report(f"METAR XXAA 121250Z {group} 9999 SCT030 12/07 Q1009=")

    assert found is not None
    assert found.from_deg == from_deg
    assert found.speed_kt == (None if speed_kt is None else pytest.approx(speed_kt, rel=1e-4))
    assert found.gust_kt == (None if gust_kt is None else pytest.approx(gust_kt, rel=1e-4))
    assert found.variable is group.startswith("VRB")


def test_what_else_a_report_says_of_the_wind_and_the_time():
    """The sector it varied in, the pressure, the day and the time; letters in any case, lines broken anywhere."""
    found = read_report("speci xxaa 281305z auto\n 31012kt 280v350 9999 q1013")

    assert found is not None
    assert (found.sector_deg, found.pressure_hpa, found.at) == ((280.0, 350.0), 1013.0, (28, 13, 5))
    inches = read_report("XXAA 281305Z 31012KT 10SM 12/07 A2992")
    assert inches is not None
    assert inches.pressure_hpa == pytest.approx(29.92 * 33.8639, abs=0.05)  # 1 inHg = 33.8639 hPa


@pytest.mark.parametrize("after", ["NOSIG", "BECMG 30025G40KT", "TEMPO VRB30G45KT", "RMK WIND HILL 03030KT"])
def test_what_is_forecast_or_remarked_is_not_the_wind(after):
    """The observed wind stands."""
    found = read_report(f"METAR XXAA 121250Z 24015KT 9999 Q1009 {after}")

    assert found is not None
    assert (found.from_deg, found.speed_kt, found.gust_kt) == (240.0, 15.0, None)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "windy, from the west",
        "24015KT",
        "METAR XXAA 24015KT 9999",
        "METAR XXAA 121250Z 2401KT 9999",
        "METAR XXAA 121250Z 2401KT 9999 30025KT",
        "METAR XXAA 121250Z 24015G25 9999",
        "METAR XXAA 121250Z 24015 9999",
        "METAR XXAA 121250Z 99915KT 9999",
        "METAR XXAA 321250Z 24015KT 9999",
        "METAR XXAA 122550Z 24015KT 9999",
        "METAR XXAA 121250Z P24015KT 9999",
    ],
)
def test_what_is_no_report_is_none_and_no_guess(text):
    """No station, no time, a wind group that is cut, out of range or without its unit."""
    assert read_report(text) is None


@pytest.mark.parametrize("text", ["METAR XXAA 121250Z NIL", "METAR XXAA 121250Z 9999 SCT030 Q1009"])
def test_a_report_without_a_wind_is_still_a_report(text):
    """Nothing is said of the wind; that is not an error."""
    found = read_report(text)

    assert found is not None
    assert (found.speed_kt, found.from_deg, found.gust_kt) == (None, None, None)


@pytest.mark.parametrize(
    ("report", "landed", "observed"),
    [
        ("121250Z", datetime(2026, 11, 12, 13, 10, tzinfo=UTC), datetime(2026, 11, 12, 12, 50, tzinfo=UTC)),
        ("302350Z", datetime(2026, 12, 1, 0, 5, tzinfo=UTC), datetime(2026, 11, 30, 23, 50, tzinfo=UTC)),
        ("010020Z", datetime(2026, 12, 31, 23, 55, tzinfo=UTC), datetime(2027, 1, 1, 0, 20, tzinfo=UTC)),
        ("311200Z", datetime(2026, 2, 1, 12, 0, tzinfo=UTC), datetime(2026, 1, 31, 12, 0, tzinfo=UTC)),
    ],
)
def test_the_day_of_a_report_is_the_one_nearest_the_landing(report, landed, observed):
    """A report has no month: over midnight and the turn of months and years the nearest instant is meant."""
    found = read_report(f"METAR XXAA {report} 24015KT 9999")

    assert found is not None
    assert found.observed_at(landed) == observed
    assert abs(landed - observed) <= timedelta(days=1)

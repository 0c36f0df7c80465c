"""The wind of a landing: the manifest's before the report's, and what became of the report."""

from datetime import UTC, datetime, timedelta

import polars as pl
import pytest

from pipeline.context import CONTEXT
from pipeline.wind import settled_wind

LANDED = datetime(2026, 11, 12, 13, 0, tzinfo=UTC)
REPORT = "METAR XXAA 121250Z 24015G27KT 9999 SCT030 12/07 Q1009"


def settled(landed_at: datetime | None = LANDED, **stated: object) -> dict[str, object]:
    rows = pl.DataFrame([dict.fromkeys(CONTEXT) | stated], schema=CONTEXT)
    return settled_wind(rows, [landed_at]).row(0, named=True)


def wind(row: dict[str, object]) -> tuple[object, ...]:
    return tuple(row[name] for name in ("wind_from_true_deg", "wind_speed_kt", "gust_spread_kt", "wind_source"))


def test_the_manifests_wind_stands_before_the_reports():
    """Both are there: the stated wind with its own gust, and the report is still said to have been read."""
    row = settled(wind_from_true_deg=200.0, wind_speed_kt=8.0, gust_kt=18.0, weather_report=REPORT)

    assert wind(row) == (200.0, 8.0, 10.0, "stated")
    assert (row["report_found"], row["report_age_min"]) == ("read", 10)


def test_the_report_serves_where_the_manifest_is_silent():
    """Wind, gust, source, age and pressure come from the report."""
    row = settled(weather_report=REPORT)

    assert wind(row) == (240.0, 15.0, 12.0, "report")
    assert (row["report_age_min"], row["report_pressure_hpa"]) == (10, 1009.0)
    assert row["wind_from_u_deg"] == pytest.approx(10.0 / 12.0**0.5)  # directions are reported to 10 deg


def test_a_gust_belongs_to_the_wind_of_its_own_source():
    """The spread of a reported gust is over the reported wind, whatever wind the manifest states."""
    row = settled(wind_from_true_deg=200.0, wind_speed_kt=8.0, weather_report=REPORT)

    assert wind(row) == (200.0, 8.0, 12.0, "stated")


def test_no_gust_reported_differs_from_no_report():
    """A report that gives a wind and no gust says something; a manifest that leaves the gust blank does not."""
    reported, stated = settled(weather_report="METAR XXAA 121250Z 24015KT 9999"), settled(wind_speed_kt=8.0)

    assert (reported["gust_spread_kt"], reported["gust_unreported"]) == (None, True)
    assert (stated["gust_spread_kt"], stated["gust_unreported"]) == (None, False)


def test_nothing_said_is_null_and_no_calm():
    """Without wind and report there is neither source nor wind."""
    row = settled()

    assert wind(row) == (None, None, None, None)
    assert (row["report_found"], row["report_age_min"]) == (None, None)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("METAR XXAA 121250Z /////KT 9999", "no wind in it"),
        ("light westerly", "unreadable"),
        ("METAR XXAA 121050Z 24015KT 9999", "not of this hour"),
        ("METAR XXAA 111250Z 24015KT 9999", "not of this hour"),
        ("METAR XXAA 121350Z 24015KT 9999", "read"),
    ],
)
def test_what_became_of_a_report_is_kept(text, found):
    """Unreadable, empty or of another hour: no wind from it, and it is said why; a later report may serve."""
    row = settled(weather_report=text)

    assert row["report_found"] == found
    assert (row["wind_source"] == "report") is (found == "read")


def test_without_a_date_a_report_is_taken_as_of_its_hour():
    """Neither log nor manifest tells the date: the wind is read, its age is not known."""
    row = settled(None, weather_report=REPORT)

    assert (row["report_found"], row["report_age_min"], row["wind_source"]) == ("read", None, "report")


@pytest.mark.parametrize(
    ("group", "from_deg", "variable", "u_deg"),
    [
        ("VRB03KT", None, True, 10.0 / 12.0**0.5),
        ("VRB15G30KT", None, False, 10.0 / 12.0**0.5),
        ("00000KT", 0.0, False, 10.0 / 12.0**0.5),
        ("31012KT 280V350", 310.0, False, 70.0 / 12.0**0.5),
        ("35012KT 330V030", 350.0, False, 60.0 / 12.0**0.5),
    ],
)
def test_variable_and_calm_winds(group, from_deg, variable, u_deg):
    """A light variable wind has no side, a strong one no known components; a sector widens the direction."""
    row = settled(weather_report=f"METAR XXAA 121250Z {group} 9999")

    assert (row["wind_from_true_deg"], row["wind_variable"]) == (from_deg, variable)
    assert row["wind_from_u_deg"] == pytest.approx(u_deg)


def test_each_landing_has_the_report_nearest_its_own_instant():
    """Two landings of one log under one report: its age is each landing's own."""
    rows = pl.DataFrame([dict.fromkeys(CONTEXT) | {"weather_report": REPORT}] * 2, schema=CONTEXT)
    found = settled_wind(rows, [LANDED, LANDED + timedelta(minutes=95)])

    assert found["report_age_min"].to_list() == [10, 105]
    assert found["report_found"].to_list() == ["read", "not of this hour"]

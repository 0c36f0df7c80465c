"""What a manifest's date and weather report do on the way from a log to the warehouse."""

from datetime import UTC, datetime
from typing import Any

import pytest

from flows.commands.words import ingested_lines
from flows.ingest import ingest
from flows.workspace import Workspace
from warehouse.database import reader
from warehouse.marts import read

AT = datetime(2026, 11, 25, 6, tzinfo=UTC)
MAGNETIC_MAP = 'time = { column = "t_s", unit = "s" }\n[channels]\n' + "\n".join(
    f'{key} = {{ column = "{column}", unit = "{unit}" }}'
    for key, column, unit in (
        ("radio_height", "radio_height_ft", "ft"),
        ("pitch", "pitch_deg", "deg"),
        ("vertical_speed", "vertical_speed_fpm", "ft/min"),
        ("airspeed", "airspeed_kt", "kt"),
        ("ground_speed", "ground_speed_kt", "kt"),
        ("latitude", "latitude_deg", "deg"),
        ("longitude", "longitude_deg", "deg"),
        ("track_magnetic", "track_true_deg", "deg"),
    )
)


@pytest.mark.parametrize(("date", "note"), [("2026-11-12T13:00:00Z", "turned to true"), ("", "without a date")])
def test_a_magnetic_track_is_turned_by_the_manifests_date(
    workspace: Workspace, flight: Any, date: str, note: str
) -> None:
    """A log of seconds has no date of its own: the manifest's serves, and without one the track is left out and said."""
    workspace.maps.joinpath("magnetic.toml").write_text(MAGNETIC_MAP)
    (workspace.inbox / "log.csv").write_text(flight().canonical().write_csv())
    workspace.manifest_file.write_text(f"log_file,map,flown_at\nlog.csv,maps/magnetic.toml,{date}\n")
    ingest(workspace, (), at=AT)
    with reader(workspace.database) as con:
        (log,) = read(con, "logs").rows(named=True)

    assert any("track_magnetic" in said and note in said for said in log["notes"])
    assert ("track_true_deg" in log["channels"]) is bool(date)
    assert "track_magnetic_deg" not in log["channels"]


def test_a_report_that_cannot_be_read_is_counted_and_stops_nothing(workspace: Workspace, flight: Any) -> None:
    """One report gives its wind, the other is named with what became of it; both landings are measured."""
    for name, touchdown in (("one.csv", 1200.0), ("two.csv", 1300.0)):
        (workspace.inbox / name).write_text(flight(touchdown_ft=touchdown).canonical().write_csv())
    workspace.manifest_file.write_text(
        "log_file,flown_at,weather_report\n"
        "one.csv,2026-11-12T13:00:00Z,METAR XXAA 121250Z 09012KT 9999\n"
        "two.csv,2026-11-12T14:00:00Z,a bit windy\n"
    )
    done = ingest(workspace, (), at=AT)
    with reader(workspace.database) as con:
        found = {row["log_file"]: row for row in read(con, "landing").rows(named=True)}

    assert done.unread_reports == [("two.csv", "unreadable")]
    assert "Weather reports that told no wind: two.csv (unreadable)." in list(ingested_lines(done, workspace))
    assert found["one.csv"]["headwind_kt"] == pytest.approx(12.0)
    assert (found["one.csv"]["wind_source"], found["one.csv"]["report_age_min"]) == ("report", 12)
    assert (found["two.csv"]["headwind_kt"], found["two.csv"]["report_found"]) == (None, "unreadable")

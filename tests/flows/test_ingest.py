"""Ingest: logs go from the inbox into the warehouse, once, whatever their convention; bad ones are kept apart."""

import gzip
import hashlib
import os
import shutil
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import polars as pl
import pytest
from polars.testing import assert_frame_equal

from flows import measured_logs
from flows.ingest import Ingested, ingest
from flows.preparing import Given
from flows.workspace import Workspace
from pipeline.errors import ManifestError, MapError
from pipeline.measures.table import MEASURES
from warehouse.checks import failed, run_checks
from warehouse.database import reader
from warehouse.export import export
from warehouse.marts import read

IDENTITY = (
    "landing_id", "log_file", "log_sha256", "landing_index", "outcome", "contact_t_s", "flown_at", "pilot", "aircraft",
    "aircraft_type", "runway", "device", "exercise", "landing_mode", "definition", "policy_sha256",
)  # fmt: skip
"""The columns an export of landings begins with."""

HEIGHT_MAP = """\
time = { column = "Clock", unit = "clock" }
[channels]
radio_height = { column = "HtRadio", unit = "m" }
"""

Fill = Callable[[Path], None]


def landings(workspace: Workspace) -> pl.DataFrame:
    with reader(workspace.database) as con:
        return read(con, "landing")


def files(folder: Path) -> dict[str, str]:
    """Every file below a folder with the hash of its bytes."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_three_conventions_give_one_table(workspace: Workspace, fill: Fill, at: datetime, tmp_path: Path) -> None:
    """Names, units, signs, rates, time and packing differ; the exported table says the same of the same flying."""
    fill(workspace.inbox)
    ingest(workspace, at=at)
    with reader(workspace.database) as con:
        rows = export(con, "landings", tmp_path / "landings.csv")
    table = pl.read_csv(tmp_path / "landings.csv", infer_schema_length=None)

    assert rows == 3
    assert tuple(table.columns[: len(IDENTITY)]) == IDENTITY
    assert set(table.columns) >= {column for m in MEASURES for column in (m.name, m.quality, m.reason)}
    assert table["log_file"].to_list() == ["first.csv", "second.parquet", "third.csv.gz"]
    assert table["runway"].to_list() == ["Testfield 09"] * 3
    assert table["outcome"].to_list() == ["full_stop"] * 3
    # the three contacts and touchdowns are where the flights put them, within three standard uncertainties
    for value, truth, u in (
        ("contact_t_s", [100.3, 110.1, 95.7], 0.5),
        ("touchdown_distance_ft", [1200.0, 1500.0, 900.0], 100.0),
    ):
        assert (table[value] - pl.Series(truth)).abs().max() < u
    # the same exponential flare in all three: tau 3.3 s and 12 ft give 218 ft/min scaled by 130 kt / 140 kt = 218
    sink = table["vertical_speed_at_contact_fpm"] + 12.0 / 3.3 * 60.0
    assert (sink.abs() < 3.0 * table["vertical_speed_at_contact_fpm_u"] + 10.0).all()


def test_loading_twice_changes_nothing(workspace: Workspace, fill: Fill, at: datetime, tmp_path: Path) -> None:
    """The same folder again, a day later, leaves every row and file as it was, and the folder untouched."""
    folder = tmp_path / "flights"
    fill(folder)
    before = files(folder)
    first = ingest(workspace, [folder], at=at)
    kept, held = files(workspace.root), landings(workspace)
    second = ingest(workspace, [folder], at=at + timedelta(days=1))

    assert first.new == 3
    assert second.new == 0
    assert second.accepted == first.accepted
    assert landings(workspace).equals(held)
    unchanged = {name for name in kept if not name.startswith(("landings.duckdb", ".lock"))}
    again = files(workspace.root)
    assert {name: again.get(name) for name in unchanged} == {name: kept[name] for name in unchanged}
    assert files(folder) == before


def test_the_inbox_is_emptied_into_the_workspace(workspace: Workspace, fill: Fill, at: datetime) -> None:
    """Tables and originals are kept; a Parquet log is its own original; names leave the inbox."""
    fill(workspace.inbox)
    done = ingest(workspace, at=at)

    assert sorted(path.name for path in workspace.inbox.iterdir()) == ["manifest.csv", "maps", "runways.csv"]
    logs = [
        path for path in workspace.logs.glob("*.parquet") if len(path.stem) == 64
    ]  # noted beside them: what was said
    assert len(logs) == 3
    assert sorted(path.name.split("-", 1)[1] for path in workspace.originals.iterdir()) == ["first.csv", "third.csv.gz"]
    assert not workspace.staging.exists()
    text = workspace.manifest_file.read_text()
    assert "Quill" not in text
    assert set(landings(workspace)["pilot"]) < set(text.replace("\n", ",").split(","))
    assert done.landings == 3


def test_no_name_stands_outside_its_file(workspace: Workspace, fill: Fill, at: datetime) -> None:
    """After a run the names are in one file alone, in no table, database, trace or settings."""
    fill(workspace.inbox)
    workspace.exposure_file.write_text("pilot,month,landings_flown\nAda Quill,2026-11,9\n")
    ingest(workspace, at=at)
    holding = [path.name for path in workspace.root.rglob("*") if path.is_file() and b"Quill" in path.read_bytes()]

    assert holding == ["names.csv"]


def test_originals_are_kept_only_if_wanted(workspace: Workspace, fill: Fill, at: datetime) -> None:
    """A setting leaves only the accepted logs."""
    workspace.settings_file.write_text("[keep]\noriginals = false\n")
    fill(workspace.inbox)
    ingest(workspace, at=at)

    assert list(workspace.originals.iterdir()) == []
    assert sorted(path.name for path in workspace.inbox.iterdir()) == ["manifest.csv", "maps", "runways.csv"]


def test_a_table_with_a_wrong_ending_keeps_its_original(workspace: Workspace, flight: Any, at: datetime) -> None:
    """What a log is, is told by its content: CSV that is called Parquet is CSV."""
    flight().canonical().write_csv(workspace.inbox / "odd.parquet")
    ingest(workspace, at=at)

    assert [path.name.split("-", 1)[1] for path in workspace.originals.iterdir()] == ["odd.parquet"]


def test_packed_and_plain_are_one_log(workspace: Workspace, flight: Any, at: datetime) -> None:
    """A log and its packed copy are one landing; both files leave the inbox."""
    text = flight().canonical().write_csv().encode()
    (workspace.inbox / "a.csv").write_bytes(text)
    (workspace.inbox / "b.csv.gz").write_bytes(gzip.compress(text))
    done = ingest(workspace, at=at)

    assert done.accepted == ["a.csv"]
    assert done.copies == ["b.csv.gz"]
    assert landings(workspace).height == 1
    assert [path.name for path in workspace.inbox.iterdir() if path.is_file()] == ["runways.csv"]


def test_a_manifest_may_name_either_copy(workspace: Workspace, flight: Any, at: datetime) -> None:
    """The row of a copy speaks of the one log, in this run and in those after it."""
    text = flight().canonical().write_csv().encode()
    (workspace.inbox / "packed.csv.gz").write_bytes(gzip.compress(text))
    (workspace.inbox / "plain.csv").write_bytes(text)
    workspace.manifest_file.write_text("log_file,pilot\nplain.csv,Ada Quill\n")
    ingest(workspace, at=at)
    first = landings(workspace)
    again = ingest(workspace, at=at)

    assert first["pilot"].null_count() == 0
    assert landings(workspace).equals(first)
    assert again.new == 0


def test_a_renamed_log_is_the_same_log(workspace: Workspace, flight: Any, at: datetime) -> None:
    """A log that comes again under another name keeps the name it first came with."""
    flight().canonical().write_csv(workspace.inbox / "a.csv")
    ingest(workspace, at=at)
    flight().canonical().write_csv(workspace.inbox / "renamed.csv")
    done = ingest(workspace, at=at)

    assert done.new == 0
    assert landings(workspace)["log_file"].to_list() == ["a.csv"]


def test_bad_logs_do_not_stop_good_ones(workspace: Workspace, fill: Fill, at: datetime) -> None:
    """Refused logs are in quarantine with their reason and in the warehouse; the rest is loaded; nothing is lost."""
    fill(workspace.inbox)
    (workspace.inbox / "empty.csv").write_bytes(b"")
    (workspace.inbox / "also empty.csv").write_bytes(b"")
    (workspace.inbox / "noise.csv").write_bytes(b"\x00\x01\x02" * 99)
    done = ingest(workspace, at=at)

    assert len(done.accepted) == 3
    assert {name for name, _ in done.refused} == {"empty.csv", "also empty.csv", "noise.csv"}
    kept = {path.name.split("-", 1)[1] for path in workspace.quarantine.iterdir()}
    names = ("empty.csv", "also_empty.csv", "noise.csv")
    assert kept == {f"{name}{end}" for name in names for end in ("", ".reason.txt")}
    with reader(workspace.database) as con:
        assert read(con, "refusals")["log_file"].sort().to_list() == ["also empty.csv", "empty.csv", "noise.csv"]
    assert not list(workspace.inbox.glob("*mpty.csv"))


def test_refused_logs_elsewhere_stay_where_they_are(workspace: Workspace, tmp_path: Path, at: datetime) -> None:
    """A bad log outside the inbox is copied into quarantine."""
    (tmp_path / "bad.csv").write_bytes(b"")
    ingest(workspace, [tmp_path / "bad.csv"], at=at)

    assert (tmp_path / "bad.csv").exists()
    assert len(list(workspace.quarantine.iterdir())) == 2


def test_a_mended_map_frees_a_refused_log(workspace: Workspace, flight: Any, at: datetime, tmp_path: Path) -> None:
    """A log that no map fitted is accepted once one does, and then leaves quarantine and the list of refusals."""
    flight().metric().write_parquet(tmp_path / "log.parquet")
    first = ingest(workspace, [tmp_path / "log.parquet"], at=at)
    assert "there is no map for it" in first.refused[0][1]

    (tmp_path / "map.toml").write_text(HEIGHT_MAP)
    second = ingest(workspace, [tmp_path / "log.parquet"], at=at, given=Given(channel_map=tmp_path / "map.toml"))

    assert second.accepted == ["log.parquet"]
    assert list(workspace.quarantine.iterdir()) == []
    with reader(workspace.database) as con:
        assert read(con, "refusals").is_empty()


def test_two_maps_that_fit_refuse_that_log(workspace: Workspace, fill: Fill, at: datetime) -> None:
    """A log that two maps read is not guessed at; the others go on."""
    fill(workspace.inbox)
    two = (workspace.maps / "metric.toml").read_text().replace('"m/s2"', '"g"')
    (workspace.maps / "metric two.toml").write_text(two)
    done = ingest(workspace, at=at)

    assert done.accepted == ["first.csv", "third.csv.gz"]
    assert all(words in done.refused[0][1] for words in ("metric two.toml", "metric.toml", "both fit"))


def test_log_without_landing_is_accepted_and_told(workspace: Workspace, flight: Any, at: datetime) -> None:
    """A log that never comes down is held, and said to hold no landing."""
    log = flight().canonical().with_columns(pl.col("radio_height_ft") + 5000.0, main_on_ground=pl.lit(0))
    log.write_csv(workspace.inbox / "cruise.csv")
    done = ingest(workspace, at=at)

    assert done.accepted == done.without_landing == ["cruise.csv"]
    assert done.landings == 0


def test_manifest_row_of_a_held_log_measures_it_again(workspace: Workspace, fill: Fill, at: datetime) -> None:
    """A corrected manifest corrects the landing: pilot in place, speeds by a new measurement; the rest stays."""
    fill(workspace.inbox)
    ingest(workspace, at=at)
    before = landings(workspace)
    text = workspace.manifest_file.read_text().splitlines()
    text[1] = "first.csv,2026-11-18T10:00:00Z,Cy Reed,A-1,Gull 2,110"
    workspace.manifest_file.write_text("\n".join(text) + "\n")
    done = ingest(workspace, at=at)
    after = landings(workspace)

    assert done.accepted == []
    assert done.remeasured == ["first.csv"]
    assert after["pilot"][0] != before["pilot"][0]
    speed = "contact_speed_over_vref_kt"
    assert after[speed][0] == pytest.approx(before[speed][0] + 10.0)
    assert after[1:].equals(before[1:])
    assert ingest(workspace, at=at).remeasured == []


def test_a_manifest_is_remembered(workspace: Workspace, fill: Fill, at: datetime, tmp_path: Path) -> None:
    """The same logs brought again without their manifest keep their pilots."""
    folder = tmp_path / "flights"
    fill(folder)
    ingest(workspace, [folder], at=at)
    before = landings(workspace)
    (folder / "manifest.csv").unlink()
    done = ingest(workspace, [folder], at=at)

    assert done.new == 0
    assert landings(workspace).equals(before)


def test_manifest_of_a_log_in_quarantine_does_not_stop_the_next_run(
    workspace: Workspace, at: datetime, flight: Any
) -> None:
    """A row about a refused log stays in the inbox's manifest and is no unknown log."""
    (workspace.inbox / "bad.csv").write_bytes(b"")
    workspace.manifest_file.write_text("log_file,pilot\nbad.csv,Ada Quill\n")
    ingest(workspace, at=at)
    flight().canonical().write_csv(workspace.inbox / "good.csv")

    assert ingest(workspace, at=at).accepted == ["good.csv"]


def test_bad_tables_stop_everything_before_it_begins(workspace: Workspace, fill: Fill, at: datetime) -> None:
    """A manifest that names an unknown log, a map with an unknown unit: nothing is moved and nothing loaded."""
    fill(workspace.inbox)
    good = workspace.manifest_file.read_text()
    workspace.manifest_file.write_text(good + "unknown.csv,,,,,\n")
    before = files(workspace.inbox)
    with pytest.raises(ManifestError, match=r"unknown\.csv"):
        ingest(workspace, at=at)
    assert files(workspace.inbox) == before

    workspace.manifest_file.write_text(good)
    (workspace.maps / "third.toml").write_text('time = { column = "x", unit = "parsec" }\n[channels]\n')
    before = files(workspace.inbox)
    with pytest.raises(MapError, match=r"third\.toml"):
        ingest(workspace, at=at)
    assert files(workspace.inbox) == before
    assert landings(workspace).is_empty()


def test_named_map_that_does_not_fit_stops_everything(workspace: Workspace, fill: Fill, at: datetime) -> None:
    """A map named for logs it does not fit is a mistake of the caller: nothing is moved, in whatever batch it shows."""
    workspace.settings_file.write_text("[engine]\nbatch_logs = 1\n")
    fill(workspace.inbox)
    before = files(workspace.inbox)
    with pytest.raises(MapError, match=r"time names column 'Clock', which first\.csv does not have"):
        ingest(workspace, at=at, given=Given(channel_map=workspace.maps / "metric.toml"))

    assert files(workspace.inbox) == before
    assert landings(workspace).is_empty()


def test_batches_do_not_matter(workspace: Workspace, fill: Fill, at: datetime, tmp_path: Path) -> None:
    """One log a batch gives the rows that all logs together give."""
    fill(workspace.inbox)
    ingest(workspace, at=at)
    other = Workspace.at(tmp_path / "other")
    other.make()
    shutil.copy(workspace.runways_file, other.runways_file)
    shutil.copy(workspace.root / "pseudonyms.key", other.root / "pseudonyms.key")
    other.settings_file.write_text("[engine]\nbatch_logs = 1\nworkers = 2\n")
    fill(other.inbox)
    ingest(other, at=at)

    assert_frame_equal(
        landings(other), landings(workspace), abs_tol=1e-3, rel_tol=0.0
    )  # what a new measurement is told by


def test_a_log_that_grows_meanwhile_stays(
    workspace: Workspace, flight: Any, at: datetime, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A log written to while it is loaded is left in the inbox for the next run."""
    file = workspace.inbox / "growing.csv"
    flight().canonical().write_csv(file)

    def grow(step: str, _done: int, _of: int) -> None:
        if step == "reading":
            with file.open("a") as more:
                more.write("")
            os.utime(file, ns=(1, 1))

    ingest(workspace, at=at, tell=grow)

    assert file.exists()


ODD_NAMES = [
    "with spaces and 'quotes' \"double\".csv",
    "Ünïcödé 着陸 ✈.csv",
    "<img src=x onerror=alert(1)>.csv",
    "'; drop table log; --.csv",
    "up..and..down.csv",
    "--map.csv",
    "$(touch pwned) `id`.csv",
    "new\nline.csv",
    "glob[*]?.csv",
    "=cmd|calc.csv",
    "x" * 240 + ".csv",
]


def test_names_are_only_names(workspace: Workspace, flight: Any, at: datetime, tmp_path: Path) -> None:
    """Whatever a log, pilot, aircraft or runway is called, it is stored as that text, and nothing else happens."""
    for number, name in enumerate(ODD_NAMES):
        flight(contact_s=100.0 + number).canonical().write_csv(workspace.inbox / name)
    nasty = "<script>alert('x')</script>'; drop table approach; --"
    workspace.manifest_file.write_text(f'log_file,pilot,aircraft\n"glob[*]?.csv","{nasty}","{nasty}"\n')
    done = ingest(workspace, at=at)
    held = landings(workspace)

    assert done.refused == []
    assert set(held["log_file"]) == set(ODD_NAMES)
    assert nasty in held["aircraft"].to_list()
    assert not (tmp_path / "pwned").exists()
    assert {path.name for path in workspace.inbox.iterdir()} == {"maps", "manifest.csv", "runways.csv"}
    with reader(workspace.database) as con:
        assert failed(run_checks(con)) == {}


def test_name_that_is_no_text_is_refused_or_held_as_text(workspace: Workspace, flight: Any, at: datetime) -> None:
    """A file name with bytes that are no text neither stops the run nor loses the log."""
    odd, bad = (workspace.inbox / os.fsdecode(name) for name in (b"odd\xff.csv", b"bad\xfe.csv"))
    odd.write_text(flight().canonical().write_csv())
    bad.write_bytes(b"")
    done = ingest(workspace, at=at)

    assert done.accepted == ["odd?.csv"]
    assert [name for name, _ in done.refused] == ["bad?.csv"]


def test_manifest_paths_upwards(workspace: Workspace, flight: Any, at: datetime, tmp_path: Path) -> None:
    """A manifest elsewhere may name its logs by `../`."""
    (tmp_path / "crew").mkdir()
    (tmp_path / "logs").mkdir()
    flight().canonical().write_csv(tmp_path / "logs" / "a.csv")
    (tmp_path / "crew" / "who.csv").write_text("log_file,pilot\n../logs/a.csv,Ada Quill\n")
    ingest(workspace, [tmp_path / "logs"], at=at, given=Given(manifest=tmp_path / "crew" / "who.csv"))

    assert landings(workspace)["pilot"].null_count() == 0


def test_blank_pilot_is_measured_and_nobodys(workspace: Workspace, flight: Any, at: datetime) -> None:
    """A row without a pilot is no error: the landing is measured and unattributed."""
    flight().canonical().write_csv(workspace.inbox / "a.csv")
    workspace.manifest_file.write_text("log_file,pilot,aircraft\na.csv, ,A-1\n")
    done: Ingested = ingest(workspace, at=at)

    assert done.refused == []
    assert landings(workspace).select("pilot", "aircraft").row(0) == (None, "A-1")


def test_unforeseen_error_in_one_log_refuses_it(
    workspace: Workspace, fill: Fill, at: datetime, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An error that no check foresaw refuses the log at fault, names itself, and lets the others through."""
    real = measured_logs.recordings

    def failing(table: Path, *args: Any, log_file: str, **rest: Any) -> Any:
        if log_file == "second.parquet":
            raise ZeroDivisionError("nobody thought of this")
        return real(table, *args, log_file=log_file, **rest)

    monkeypatch.setattr(measured_logs, "recordings", failing)
    fill(workspace.inbox)
    done = ingest(workspace, at=at)

    assert done.accepted == ["first.csv", "third.csv.gz"]
    assert done.refused[0][0] == "second.parquet"
    assert "ZeroDivisionError: nobody thought of this" in done.refused[0][1]


def test_runways_brought_are_kept(workspace: Workspace, fill: Fill, at: datetime, tmp_path: Path) -> None:
    """A runway table named for one run serves the pages and runs after it; the workspace's other runways stay."""
    (tmp_path / "more.csv").write_text(
        "runway,threshold_lat,threshold_lon,true_heading_deg,length_ft\nOther 18,1,-31,180,5000\n"
    )
    fill(workspace.inbox)
    ingest(workspace, at=at, given=Given(runways=tmp_path / "more.csv"))

    assert set(pl.read_csv(workspace.runways_file)["runway"]) == {"Testfield 09", "Other 18"}
    assert landings(workspace)["runway"].to_list() == ["Testfield 09"] * 3


def test_a_manifest_names_its_map(workspace: Workspace, flight: Any, at: datetime) -> None:
    """A row's map is taken from the manifest's folder, and wins over the map that would be tried."""
    flight().canonical().write_csv(workspace.inbox / "a.csv")
    text = (
        'time = { column = "t_s", unit = "s" }\n[channels]\nradio_height = { column = "radio_height_ft", unit = "ft" }'
    )
    (workspace.inbox / "only height.toml").write_text(text)
    workspace.manifest_file.write_text("log_file,map\na.csv,only height.toml\n")
    ingest(workspace, at=at)
    with reader(workspace.database) as con:
        logs = read(con, "logs")

    assert logs.select("map_name", "channels").row(0) == ("only height.toml", ["radio_height_ft"])
    assert (workspace.kept_maps / f"{logs['map_sha256'][0]}.toml").read_text() == text


def test_exposure_elsewhere_is_left_aside(workspace: Workspace, at: datetime, tmp_path: Path) -> None:
    """An exposure table that is brought beside logs elsewhere is checked, and said to have been left there."""
    (tmp_path / "f").mkdir()
    (tmp_path / "f" / "exposure.csv").write_text("pilot,month,landings_flown\nAda Quill,2026-11,9\n")

    assert ingest(workspace, [tmp_path / "f"], at=at).left_aside == [str(tmp_path / "f" / "exposure.csv")]


def test_times_in_the_log_win(workspace: Workspace, fill: Fill, at: datetime) -> None:
    """A landing's instant comes from the log's own stamps, else from the manifest."""
    fill(workspace.inbox)
    ingest(workspace, at=at)
    seen = landings(workspace)["contact_at"].dt.replace_time_zone(None).dt.round("1m").to_list()

    assert seen == [datetime(2026, 11, 18, 10, 2), datetime(2026, 11, 18, 12, 2), datetime(2026, 11, 19, 12, 2)]
    assert at.tzinfo is UTC

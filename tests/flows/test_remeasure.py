"""Held landings brought to the present rules: those that rest on older ones, only those, and what that changed."""

import json
import multiprocessing
import os
import signal
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import polars as pl
import pytest
from polars.testing import assert_frame_equal

from flows import remeasure as module
from flows.changes import Change
from flows.ingest import ingest
from flows.looked import Looked
from flows.preparing import Given
from flows.remeasure import Asked, remeasure
from flows.standing import CAUSES, by_cause, older, standing
from flows.workspace import Workspace
from pipeline.errors import SettingsError
from warehouse.checks import failed, run_checks
from warehouse.constants import keep_constants
from warehouse.database import reader, writer
from warehouse.marts import read

Fill = Callable[[Path], None]
Run = Callable[..., tuple[int, str, str]]
STRICT = "[[policy.gates]]\nheight_ft = 500.0\ncriteria = ['sink']\nsink_max_fpm = 300.0\n"
EVERYTHING = Asked()


def landings(workspace: Workspace) -> pl.DataFrame:
    with reader(workspace.database) as con:
        return read(con, "landing").sort("log_file")


def superseded(workspace: Workspace) -> int:
    with reader(workspace.database) as con:
        return int(read(con, "status")["superseded"][0])


def causes(workspace: Workspace) -> dict[str, list[str]]:
    """Logs by the older rule they rest on."""
    rows = standing(workspace)
    return {cause: rows.filter(pl.col(cause))["log_file"].to_list() for cause in CAUSES if rows[cause].any()}


def test_what_was_just_ingested_rests_on_the_present(ingested: Workspace, at: datetime) -> None:
    """Nothing is older after ingest, and nothing is measured again."""
    before = landings(ingested)
    done = remeasure(ingested, EVERYTHING, at=at)

    assert causes(ingested) == {}
    assert (done.held, done.causes, done.logs, done.changed) == (3, {}, 0, ())
    assert landings(ingested).equals(before)


def test_a_policy_changes_verdicts(ingested: Workspace, at: datetime) -> None:
    """A stricter gate fails all three landings; the measurements before stay, superseded, and no number moved."""
    ingested.settings_file.write_text(STRICT)
    assert causes(ingested) == {"policy": ["first.csv", "second.parquet", "third.csv.gz"]}
    done = remeasure(ingested, EVERYTHING, at=at)

    assert done.causes == {"policy": 3}
    assert (done.logs, done.approaches, done.still_older) == (3, 3, 0)
    strict = [change for change in done.changed if change.kind == "gate" and change.now == "not stable"]
    assert sum(change.landings for change in strict) == 3
    assert {flip["kind"] for flip in done.flips} <= {"gate", "fault"}
    assert not [change for change in done.changed if change.median_shift]
    assert superseded(ingested) == 3
    assert causes(ingested) == {}
    with reader(ingested.database) as con:
        assert failed(run_checks(con)) == {}
    assert landings(ingested)["policy_sha256"].unique().to_list() == [ingested.settings().rules.sha256]


def test_a_dry_run_says_the_same_and_keeps_nothing(ingested: Workspace, at: datetime) -> None:
    """What a dry run says would change is what then changes; until then every file of the workspace is as it was."""
    ingested.settings_file.write_text(STRICT)
    before = {path: path.read_bytes() for path in ingested.root.rglob("*") if path.is_file()}
    said = remeasure(ingested, Asked(dry_run=True), at=at)
    after = {path: path.read_bytes() for path in ingested.root.rglob("*") if path.is_file()}
    done = remeasure(ingested, EVERYTHING, at=at)

    assert after == before
    assert said.still_older == 3
    assert (said.causes, said.changed, said.flips) == (done.causes, done.changed, done.flips)


def test_a_corrected_map_measures_its_logs(ingested: Workspace, at: datetime) -> None:
    """A map that keeps its name brings its own logs up: of a lever that goes to 90 deg and not 64, two thirds are set."""
    before = landings(ingested)
    metric = ingested.maps / "metric.toml"
    metric.write_text(metric.read_text().replace("full = 64.0", "full = 90.0"))
    assert causes(ingested) == {"map": ["second.parquet"]}
    remeasure(ingested, EVERYTHING, at=at)
    after = landings(ingested)
    thrust = "approach_thrust_pct"

    assert before[thrust][1] == pytest.approx(40.0, abs=0.1)
    assert after[thrust][1] == pytest.approx(40.0 * (64.0 - 12.0) / (90.0 - 12.0), abs=0.1)
    assert after[[0, 2]].equals(before[[0, 2]])
    assert causes(ingested) == {}


def test_a_map_that_no_longer_fits_leaves_its_logs(ingested: Workspace, at: datetime, run: Run) -> None:
    """A log that its corrected map cannot read stays as it was, is named with the reason, and the rest goes on."""
    before = landings(ingested)
    metric = ingested.maps / "metric.toml"
    metric.write_text(metric.read_text().replace('"Nose"', '"Snout"'))
    ingested.settings_file.write_text(STRICT)
    done = remeasure(ingested, EVERYTHING, at=at)
    status, out, _ = run("remeasure")

    assert (done.logs, done.still_older) == (2, 1)
    assert [name for name, _ in done.refused] == ["second.parquet"]
    assert "'Snout'" in done.refused[0][1]
    assert landings(ingested)[1].equals(before[1])
    assert status == 3
    assert "second.parquet: " in out
    assert list(ingested.quarantine.iterdir()) == []


def test_a_map_from_elsewhere_is_kept(
    workspace: Workspace, flight: Any, at: datetime, tmp_path: Path, fill: Fill
) -> None:
    """A log read by a map that never lay in the inbox keeps that map, also when it is measured again."""
    fill(tmp_path / "elsewhere")
    flight().metric().write_parquet(workspace.inbox / "log.parquet")
    given = Given(channel_map=tmp_path / "elsewhere" / "maps" / "metric.toml")
    ingest(workspace, at=at, given=given)
    before = landings(workspace)["map_sha256"].to_list()
    workspace.settings_file.write_text(STRICT)

    assert remeasure(workspace, EVERYTHING, at=at).logs == 1
    assert landings(workspace)["map_sha256"].to_list() == before


def test_a_corrected_runway_measures_its_landings(ingested: Workspace, at: datetime) -> None:
    """A threshold 500 ft further back makes every touchdown 500 ft longer; one more runway changes nothing."""
    before = landings(ingested)
    text = ingested.runways_file.read_text()
    ingested.runways_file.write_text(text + "Otherfield 01,10.0,10.0,10.0,5000,100,0\n")
    assert causes(ingested) == {}

    back_deg = -30.0 - 500.0 * 0.3048 / (2.0 * 3.14159265358979 * 6378137.0 / 360.0)
    ingested.runways_file.write_text(text.replace("-30.0", f"{back_deg:.9f}"))
    assert causes(ingested) == {"runway": ["first.csv", "second.parquet", "third.csv.gz"]}
    done = remeasure(ingested, EVERYTHING, at=at)
    moved = landings(ingested)["touchdown_distance_ft"] - before["touchdown_distance_ft"]

    assert moved.to_list() == pytest.approx([500.0] * 3, abs=1.0)
    (shift,) = (c.median_shift for c in done.changed if c.name == "touchdown_distance_ft")
    assert shift == pytest.approx(500.0, abs=1.0)


def test_a_runway_is_looked_for_again_once(workspace: Workspace, fill: Fill, at: datetime) -> None:
    """Landings without a runway are measured again when the table changed, find theirs, and are not looked at twice."""
    fill(workspace.inbox)
    table = workspace.runways_file.read_text()
    workspace.runways_file.write_text(table.replace("Testfield 09,0.0,-30.0", "Otherfield 09,50.0,90.0"))
    ingest(workspace, at=at)
    assert landings(workspace)["runway"].null_count() == 3
    assert causes(workspace) == {}

    workspace.runways_file.write_text(table.replace("Testfield 09,0.0,-30.0", "Thirdfield 09,40.0,80.0"))
    assert len(causes(workspace)["runway"]) == 3
    remeasure(workspace, EVERYTHING, at=at)
    assert causes(workspace) == {}

    workspace.runways_file.write_text(table)
    done = remeasure(workspace, EVERYTHING, at=at)
    assert landings(workspace)["runway"].to_list() == ["Testfield 09"] * 3
    assert Change("approach", "runway", "none", "Testfield 09", 3) in done.changed
    assert causes(workspace) == {}


def test_a_definition_brings_everything_up(
    workspace: Workspace, fill: Fill, flight: Any, at: datetime, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Landings of an older definition are older, and so is a log in which that definition found no approach."""
    fill(workspace.inbox)
    log = flight().canonical().with_columns(pl.col("radio_height_ft") + 5000.0, main_on_ground=pl.lit(0))
    log.write_csv(workspace.inbox / "cruise.csv")
    ingest(workspace, at=at)
    for place in ("flows.standing", "flows.looked", "pipeline.landing_frame"):
        monkeypatch.setattr(f"{place}.DEFINITION", "later")
    assert causes(workspace) == {"definition": ["cruise.csv", "first.csv", "second.parquet", "third.csv.gz"]}
    done = remeasure(workspace, EVERYTHING, at=at)

    assert (done.held, done.logs, done.approaches, done.changed) == (3, 4, 3, ())
    assert landings(workspace)["definition"].unique().to_list() == ["later"]
    assert causes(workspace) == {}


def test_older_constants_are_told(ingested: Workspace, at: datetime) -> None:
    """Landings that were measured before their installation's constants were learned rest on older constants."""
    learned = pl.DataFrame(
        {
            "version": ["v1"],
            "recorder": [f"map {landings(ingested)['map_sha256'][1][:12]}"],
            "aircraft_type": ["Gull 2"],
            "constant": ["log_gear_s"],
            "mean": [0.0],
            "sd": [1.0],
            "landings": [30],
        }
    )
    with writer(ingested.database) as con:
        keep_constants(con, learned, at=at)
    assert causes(ingested) == {"constants": ["second.parquet"]}
    remeasure(ingested, EVERYTHING, at=at)

    assert landings(ingested)["constants"].to_list() == ["none", "v1", "none"]
    assert causes(ingested) == {}


def test_only_what_is_named(ingested: Workspace, at: datetime) -> None:
    """A log or landing that is named is measured, the others wait; a name that nothing has is an error."""
    ingested.settings_file.write_text(STRICT)
    third = landings(ingested)["landing_id"][2]

    assert remeasure(ingested, Asked(["first.csv", third[:8]]), at=at).logs == 2
    assert causes(ingested) == {"policy": ["second.parquet"]}
    with pytest.raises(SettingsError, match="no landing or log held"):
        remeasure(ingested, Asked(["fourth.csv"]), at=at)


def test_again_measures_what_is_present(ingested: Workspace, at: datetime) -> None:
    """Traces that were lost are written anew, and every landing stays as it was."""
    before = landings(ingested)
    names = sorted(path.name for path in ingested.traces.iterdir())
    for path in ingested.traces.iterdir():
        path.unlink()
    done = remeasure(ingested, Asked(again=True), at=at)

    assert (done.logs, done.changed) == (3, ())
    assert sorted(path.name for path in ingested.traces.iterdir()) == names
    assert_frame_equal(landings(ingested), before)


def _killed_after_one(root: Path, at: datetime) -> None:
    """Remeasure in this process, which kills itself once the first batch is loaded."""

    class Once(Looked):
        def save(self) -> None:
            os.kill(os.getpid(), signal.SIGKILL)

    module.Present.__dict__["of"].__func__.__globals__["Looked"] = Once
    remeasure(Workspace(root), EVERYTHING, at=at)


@pytest.mark.slow
def test_a_killed_run_goes_on(ingested: Workspace, at: datetime) -> None:
    """What was loaded before a kill is not measured again; the next run does the rest, and the end is the same."""
    ingested.settings_file.write_text(STRICT + "[engine]\nbatch_logs = 1\n")
    child = multiprocessing.get_context("spawn").Process(target=_killed_after_one, args=(ingested.root, at))
    child.start()
    child.join(120)

    assert child.exitcode == -signal.SIGKILL
    assert older(standing(ingested)).height == 2
    done = remeasure(ingested, EVERYTHING, at=at)
    assert (done.logs, done.still_older) == (2, 0)
    assert by_cause(standing(ingested)) == {}
    assert landings(ingested).height == 3


def test_command(ingested: Workspace, run: Run) -> None:
    """Status names the command; it says what would change, then what did; JSON holds the flips."""
    assert "remeasure" not in run("status")[1]
    ingested.settings_file.write_text(STRICT)

    assert "3 approaches held that rest on older rules (policy 3): `roundout remeasure`" in run("status")[1]
    status, out, _ = run("remeasure", "--dry-run")
    assert status == 0
    assert "3 logs with 3 approaches would be measured again; 3 approaches would change." in out
    assert "Nothing was kept" in out
    told = json.loads(run("remeasure", "--json")[1])
    assert told["causes"] == {"policy": 3}
    assert {flip["now"] for flip in told["flips"] if flip["kind"] == "gate"} >= {"not stable"}
    assert run("remeasure")[1] == "3 approaches held, all by the present rules.\n"


def test_nothing_held(run: Run) -> None:
    """Where nothing is held there is nothing to measure: one line, exit status 2."""
    status, out, err = run("remeasure")

    assert (status, out, err.count("\n")) == (2, "", 1)
    assert "ingest some logs first" in err


def test_a_map_amid_mending_does_not_stop_status(ingested: Workspace, run: Run) -> None:
    """Status says that it cannot tell what is older, and why; remeasure ends with the map's fault."""
    (ingested.maps / "metric.toml").write_text("time = ")

    status, out, _ = run("status")
    assert status == 0
    assert "cannot be told: map metric.toml" in out
    assert run("remeasure")[0] == 2

"""Faults put into invented logs are found and named, good logs are believed, and no landing is hidden by it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import polars as pl
import pytest

from flows.commands.words import ingested_lines
from flows.ingest import ingest
from flows.invented.scenario import write_scenario
from flows.workspace import Workspace
from pipeline.channels import CHANNELS
from pipeline.landings import find_approaches
from pipeline.quality.examine import examine, vetted
from pipeline.quality.vertical import HEIGHTS
from pipeline.reading.channel_map import choose_map, load_map
from pipeline.reading.record import recordings
from pipeline.reading.tabulate import tabulate
from pipeline.recording import Recording, Repair, Samples
from warehouse.database import reader
from warehouse.marts import read

Change = Callable[[np.ndarray], np.ndarray]
LOGS = 60


@pytest.fixture(scope="module")
def inbox(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An invented inbox of another seed than the checks were set on."""
    folder = tmp_path_factory.mktemp("quality") / "inbox"
    write_scenario(folder, seed=404, landings=0.03)
    return folder


@pytest.fixture(scope="module")
def good(inbox: Path) -> list[Recording]:
    """Up to sixty of its logs, of every recorder, read as ingest reads them."""
    maps = [load_map(path) for path in sorted((inbox / "maps").glob("*.toml"))]
    files = sorted(path for path in inbox.iterdir() if path.name[5:10].isdecimal())
    read_logs = []
    for file in files[:: max(len(files) // LOGS, 1)][:LOGS]:
        table = tabulate(file, inbox / "table.parquet")
        chosen = choose_map(table.columns, maps, log_file=file.name)
        read_logs += recordings(table.path, chosen, log_sha256=file.name, log_file=file.name)
    return read_logs


def _put(recording: Recording, **changes: Samples) -> Recording:
    """The recording with channels put in place of its own, freed of values out of range as reading does."""
    channels, repairs = dict(recording.channels), dict(recording.repairs)
    for name, samples in changes.items():
        held = (samples.value >= CHANNELS[name].low) & (samples.value <= CHANNELS[name].high)
        channels[name] = Samples(samples.t[held], samples.value[held])
        repairs[name] = Repair(outside=int((~held).sum()))
    return replace(recording, channels=channels, repairs=repairs)


def _with(recording: Recording, name: str, change: Change) -> Recording | None:
    samples = recording.channels.get(name)
    return None if samples is None else _put(recording, **{name: Samples(samples.t, change(samples.value))})


def _turns(log: Recording) -> bool:
    """Whether the track turns enough to confirm roll."""
    checks = examine(log).checks
    return any(check.passed and check.channels[0] == "roll_deg" and len(check.channels) > 1 for check in checks)


def test_good_logs_are_believed(good: list[Recording]) -> None:
    """No check fails in a good log, and nothing in it looks like a simulator."""
    found = {log.log_file: examine(log) for log in good}

    assert {name: quality.suspect for name, quality in found.items() if quality.suspect} == {}
    assert {name: quality.artefacts for name, quality in found.items() if quality.artefacts} == {}


@pytest.mark.parametrize(
    ("name", "change"),
    [
        pytest.param("radio_height_ft", lambda v: v * 0.3048, id="radio_height_ft metres"),
        pytest.param("radio_height_ft", lambda v: v / 0.3048, id="radio_height_ft feet as metres"),
        pytest.param("radio_height_ft", lambda v: -v, id="radio_height_ft negative height"),
        pytest.param("geometric_altitude_ft", lambda v: v * 0.3048, id="geometric_altitude_ft metres"),
        pytest.param("pressure_altitude_ft", lambda v: v * 0.3048, id="pressure_altitude_ft metres"),
        pytest.param("vertical_speed_fpm", lambda v: -v, id="vertical_speed_fpm sign"),
        pytest.param("vertical_speed_fpm", lambda v: v * 0.00508, id="vertical_speed_fpm m/s"),
        pytest.param("vertical_speed_fpm", lambda v: v / 60.0, id="vertical_speed_fpm ft/s"),
        pytest.param("normal_accel_g", lambda v: v - 1.0, id="normal_accel_g no 1 g"),
        pytest.param("normal_accel_g", lambda v: -v, id="normal_accel_g sign"),
        pytest.param("normal_accel_g", lambda v: v * 9.80665, id="normal_accel_g m/s2"),
        pytest.param("pitch_deg", lambda v: -v, id="pitch_deg sign"),
        pytest.param("pitch_deg", np.radians, id="pitch_deg radians"),
        pytest.param("roll_deg", lambda v: -v, id="roll_deg sign"),
        pytest.param("roll_deg", np.radians, id="roll_deg radians"),
        pytest.param("airspeed_kt", lambda v: v * 0.5144, id="airspeed_kt m/s"),
        pytest.param("airspeed_kt", lambda v: v * 1.852, id="airspeed_kt km/h"),
        pytest.param("ground_speed_kt", lambda v: v * 0.5144, id="ground_speed_kt m/s"),
        pytest.param("ground_speed_kt", lambda v: v * 1.1508, id="ground_speed_kt mph"),
        pytest.param("heading_true_deg", np.radians, id="heading_true_deg radians"),
        pytest.param("heading_true_deg", lambda v: (v + 180.0) % 360.0, id="heading_true_deg opposite"),
        pytest.param("track_true_deg", lambda v: (v + 180.0) % 360.0, id="track_true_deg opposite"),
        pytest.param("longitudinal_accel_g", lambda v: -v, id="longitudinal_accel_g sign"),
        pytest.param("thrust_lever_pct", lambda v: v / 100.0, id="thrust_lever_pct fraction"),
        pytest.param("engine_speed_pct", lambda v: v / 100.0, id="engine_speed_pct fraction"),
        pytest.param("flap_deg", np.radians, id="flap_deg radians"),
        pytest.param("main_on_ground", lambda v: 1.0 - v, id="main_on_ground yes for no"),
        pytest.param("gear_down", lambda v: 1.0 - v, id="gear_down yes for no"),
        pytest.param("wind_from_true_deg", lambda v: (v + 180.0) % 360.0, id="wind_from_true_deg blows to"),
    ],
)
def test_a_wrong_unit_sign_or_scale_is_found(good: list[Recording], name: str, change: Change) -> None:
    """At least 95 of 100 logs with one channel put wrong are suspect for it, where the log can tell.

    A wind too light, or a roll in a log whose track does not turn enough to confirm it, is nothing to judge by.
    """
    logs = [log for log in good if name != "roll_deg" or _turns(log)]
    wrong = [log for log in (_with(log, name, change) for log in logs) if log is not None]
    if name == "wind_from_true_deg":
        wrong = [log for log in wrong if np.median(log.channels["wind_speed_kt"].value) >= 12.0]
    named = [name in examine(log).suspect for log in wrong]

    assert len(named) >= 3
    assert np.mean(named) >= 0.95


def test_a_lever_turned_round_is_found_by_the_engine(good: list[Recording]) -> None:
    """Idle read as full shows against engine speed, in every log that has both."""
    logs = [log for log in good if "engine_speed_pct" in log.channels]
    wrong = [_with(log, "thrust_lever_pct", lambda v: 100.0 - v) for log in logs]

    assert np.mean(["thrust_lever_pct" in examine(log).suspect for log in wrong if log is not None]) >= 0.95


@pytest.mark.parametrize(
    ("first", "second"),
    [("pitch_deg", "roll_deg"), ("latitude_deg", "longitude_deg"), ("normal_accel_g", "longitudinal_accel_g")],
)
def test_swapped_columns_are_found(good: list[Recording], first: str, second: str) -> None:
    """Of two columns read as each other neither is believed."""
    wrong = [
        _put(log, **{first: log.channels[second], second: log.channels[first]})
        for log in good
        if first in log.channels and second in log.channels
    ]

    named = [{first, second} <= set(examine(log).suspect) for log in wrong]

    assert np.mean(named) >= 0.95


def test_a_wrong_channel_drags_no_other_down(good: list[Recording]) -> None:
    """Radio height in metres costs radio height alone: everything else is still believed."""
    wrong = [_with(log, "radio_height_ft", lambda v: v * 0.3048) for log in good]

    assert {tuple(examine(log).suspect) for log in wrong if log is not None} == {("radio_height_ft",)}


def test_the_firmest_and_longest_are_not_hidden(good: list[Recording]) -> None:
    """Landings made three times as firm, or a mile longer, are believed as the rest are, and nothing of them is cut."""
    for log in good:
        samples = log.channels["normal_accel_g"]
        touch = next((a.anchor_s for a in find_approaches(log) if a.grounded), None)
        if touch is None:
            continue
        near = np.abs(samples.t - touch - 0.3) < 0.6
        firm = _put(log, normal_accel_g=Samples(samples.t, 1.0 + (samples.value - 1.0) * np.where(near, 3.0, 1.0)))
        assert examine(firm).suspect == {}
        later = {
            name: Samples(np.where(s.t > touch - 6.0, s.t + 25.0, s.t), s.value) for name, s in log.channels.items()
        }
        assert examine(replace(log, channels=later)).suspect == {}


def _csv(path: Path, recording: Recording, changed: Callable[[pl.DataFrame], pl.DataFrame]) -> None:
    t = np.round(np.arange(recording.channels["pitch_deg"].t[0], recording.duration_s, 0.5), 3)
    columns = {name: np.interp(t, s.t, s.value) for name, s in recording.channels.items()}
    changed(pl.DataFrame({"t_s": t, **columns})).write_csv(path)


@pytest.fixture
def jet(good: list[Recording]) -> Recording:
    """A log with radio height and one landing to a full stop."""
    return next(
        log
        for log in good
        if "radio_height_ft" in log.channels and [a.outcome for a in find_approaches(log)] == ["full_stop"]
    )


def test_ingest_says_which_log_is_suspect_and_why(tmp_path: Path, jet: Recording) -> None:
    """The words of ingest, the logs and channels of the warehouse and the landing itself name channel and reason."""
    place = Workspace.at(tmp_path / "data")
    _csv(tmp_path / "metres.csv", jet, lambda frame: frame.with_columns(pl.col("radio_height_ft") * 0.3048))
    _csv(tmp_path / "whole.csv", jet, lambda frame: frame)

    done = ingest(place, [tmp_path], at=datetime(2026, 11, 25, tzinfo=UTC))

    ((name, why),) = done.suspect
    said = "\n".join(ingested_lines(done, place))
    assert name == "metres.csv"
    assert why.startswith("radio_height_ft reads 0.3")
    assert "1 log suspect" in said
    assert why in said
    with reader(place.database) as con:
        logs = dict(read(con, "logs").select("log_file", "suspect").iter_rows())
        landings = dict(read(con, "landing").select("log_file", "suspect").iter_rows())
        channels = read(con, "channel_quality")
        assert read(con, "status")["logs_suspect"].item() == 1
    assert logs == landings == {"metres.csv": "radio_height_ft", "whole.csv": None}
    assert channels.filter(pl.col("suspect").is_not_null())["channel"].to_list() == ["radio_height_ft"]


@pytest.mark.parametrize("other_ft", [33000.0, 40.0])
def test_another_aircrafts_altitudes_make_no_landing(tmp_path: Path, good: list[Recording], other_ft: float) -> None:
    """Five altitudes of another aircraft amid the approach and one in the rollout: still the one approach."""
    log = next(one for one in good if {"geometric_altitude_ft", "radio_height_ft"} <= set(one.channels))
    plain = replace(log, channels={name: s for name, s in log.channels.items() if name not in HEIGHTS[::2]})
    touched = find_approaches(plain)[0].anchor_s

    def mixed(frame: pl.DataFrame) -> pl.DataFrame:
        t = pl.col("t_s")
        amid = t.is_between(touched - 60.0, touched - 57.6) | t.is_between(touched + 9.9, touched + 10.1)
        own = pl.col("geometric_altitude_ft")
        return frame.with_columns(pl.when(amid).then(own * 0 + other_ft).otherwise(own).alias("geometric_altitude_ft"))

    found = []
    for file, changed in (("own.csv", lambda frame: frame), ("mixed.csv", mixed)):
        _csv(tmp_path / file, plain, changed)
        table = tabulate(tmp_path / file, tmp_path / "table.parquet")
        chosen = choose_map(table.columns, (), log_file=file)
        (log,) = recordings(table.path, chosen, log_sha256=file, log_file=file)
        found.append([approach.outcome for approach in find_approaches(vetted(log, examine(log)))])

    assert found[0] == found[1]
    assert log.repairs["geometric_altitude_ft"].spikes >= 5

"""The command line: every bad input ends in one sentence and its exit status; good ones do what they say."""

import gzip
import inspect
import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import polars as pl
import pytest

from flows import command_line
from flows.command_line import COMMANDS, app, main
from flows.ingest import ingest
from flows.settings import Settings
from flows.workspace import Workspace

Fill = Callable[[Path], None]
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(workspace: Workspace, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command in the workspace; give its exit status and what it printed."""
    monkeypatch.setenv("ROUNDOUT_WORKSPACE", str(workspace.root))

    def ran(*arguments: str | Path) -> tuple[int, str, str]:
        status = main([str(argument) for argument in arguments])
        out, err = capsys.readouterr()
        return status, out, err

    return ran


def _text(flight: Any) -> str:
    return str(flight().canonical().write_csv())


def _spoil_columns(text: str, column: str, value: str) -> str:
    log = pl.read_csv(text.encode())
    return log.with_columns(pl.lit(value).alias(column)).write_csv()


def _backward(text: str) -> bytes:
    return pl.read_csv(text.encode()).reverse().write_csv().encode()


BAD_LOGS: dict[str, tuple[Callable[[str], bytes], str]] = {
    "empty.csv": (lambda _: b"", "the file is empty"),
    "not a table.csv": (lambda _: b"Nothing was recorded on this flight.\n", "not a table"),
    "binary.parquet": (lambda _: bytes(range(256)) * 9, "not a table"),
    "cut.csv.gz": (lambda text: gzip.compress(text.encode())[:-2000], "ends too early"),
    "no rows.csv": (lambda text: text.split("\n", 1)[0].encode() + b"\n", "no rows"),
    "no time.csv": (lambda text: text.replace("t_s", "when", 1).encode(), "it has no column t_s"),
    "backward.csv": (_backward, "backward"),
    "still.csv": (lambda text: _spoil_columns(text, "t_s", "7").encode(), "never moves"),
    "words.csv": (lambda text: _spoil_columns(text, "t_s", "n/k").encode(), "t_s"),
}


@pytest.mark.parametrize("name", BAD_LOGS)
def test_bad_log(run: Run, workspace: Workspace, flight: Any, name: str) -> None:
    """A log that cannot be used is named with the reason, kept in quarantine, and the exit status is 3."""
    spoil, said = BAD_LOGS[name]
    (workspace.inbox / name).write_bytes(spoil(_text(flight)))
    (workspace.inbox / "good.csv").write_text(_text(flight))
    status, out, err = run("ingest")

    assert status == 3
    assert name in out
    assert said in out
    assert "1 log read, 1 landing measured" in out
    assert "Traceback" not in out + err
    (reason,) = workspace.quarantine.glob("*.reason.txt")
    assert said in reason.read_text()
    assert not (workspace.inbox / name).exists()


def test_words_in_one_channel_cost_that_channel_alone(run: Run, workspace: Workspace, flight: Any) -> None:
    """A column of words is named with the reason by ingest and status; the rest of the log is measured."""
    (workspace.inbox / "words.csv").write_text(_spoil_columns(_text(flight), "pitch_deg", "n/k"))

    status, out, _ = run("ingest")

    assert status == 0
    assert "1 log suspect" in out
    assert "words.csv: pitch_deg column 'pitch_deg'" in out
    assert "1 landing measured" in out
    assert "words.csv: pitch_deg column 'pitch_deg'" in run("status")[1]


def test_empty_channel_is_left_out(run: Run, workspace: Workspace, flight: Any) -> None:
    """A channel without a value is as good as none: the log is accepted, and inspect says what it lacks."""
    log = flight().canonical().with_columns(pl.lit(None, pl.Float64).alias("pitch_deg"))
    log.write_csv(workspace.inbox / "a.csv")
    _, seen, _ = run("inspect", workspace.inbox / "a.csv")
    status, _, _ = run("ingest")

    assert status == 0
    assert "pitch left out: column pitch_deg holds no value" in seen
    assert re.search(r"not supported, the log has no channel for it: .*flare_height_ft", seen)


def test_log_without_landing(run: Run, workspace: Workspace, flight: Any) -> None:
    """A log that holds no landing is accepted and said to hold none."""
    flight().canonical().head(200).write_csv(workspace.inbox / "climb.csv")
    status, out, _ = run("ingest")

    assert status == 0
    assert "Without a landing: climb.csv." in out


TIME = 'time = { column = "t_s", unit = "s" }\n[channels]\n'
BAD_MAPS = {
    "unknown unit": (TIME + 'pitch = { column = "pitch_deg", unit = "smoots" }', "smoots"),
    "wrong dimension": (TIME + 'pitch = { column = "pitch_deg", unit = "kt" }', "channels.pitch"),
    "unknown channel": (TIME + 'nose = { column = "pitch_deg", unit = "deg" }', "nose"),
    "unknown key": (TIME + 'pitch = { colum = "pitch_deg", unit = "deg" }', "colum"),
    "no time": ('[channels]\npitch = { column = "pitch_deg", unit = "deg" }', "time is missing"),
    "missing column": (TIME + 'pitch = { column = "Nose", unit = "deg" }', "'Nose'"),
    "not TOML": ("time = ", "not a TOML file"),
}


@pytest.mark.parametrize("kind", BAD_MAPS)
def test_bad_map(run: Run, workspace: Workspace, flight: Any, tmp_path: Path, kind: str) -> None:
    """A map that cannot be used ends in exit status 2, with the map and the key named, and nothing moved."""
    text, said = BAD_MAPS[kind]
    (tmp_path / "mine.toml").write_text(text)
    (workspace.inbox / "a.csv").write_text(_text(flight))
    status, out, err = run("ingest", "--map", tmp_path / "mine.toml")

    assert (status, out) == (2, "")
    assert err.count("\n") == 1
    assert "mine.toml" in err
    assert said in err
    assert (workspace.inbox / "a.csv").exists()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("log_file,pilot\nb.csv,Ada Quill\n", "line 2: log_file = 'b.csv' names no log"),
        ("log_file,pilot\na.csv,Ada Quill\na.csv,Bo Fen\n", "line 3: says again what line 2 says"),
        ("pilot\nAda Quill\n", "log_file"),
        ("log_file,device\na.csv,kite\n", "aircraft, qualified_simulator, desktop_simulator"),
        ("log_file,vref_kt\na.csv,fast\n", "vref_kt"),
        ("log_file,flown_at\na.csv,yesterday\n", "flown_at"),
        ("log_file,map\na.csv,none.toml\n", "map none.toml is neither at"),
    ],
)
def test_bad_manifest(run: Run, workspace: Workspace, flight: Any, text: str, said: str) -> None:
    """A manifest that cannot be used ends in exit status 2, with its line, and nothing moved."""
    (workspace.inbox / "a.csv").write_text(_text(flight))
    workspace.manifest_file.write_text(text)
    status, out, err = run("ingest")

    assert (status, out) == (2, "")
    assert said in err
    assert err.startswith("roundout: manifest.csv")
    assert err.count("\n") == 1
    assert (workspace.inbox / "a.csv").exists()
    assert workspace.manifest_file.read_text() == text


def test_bad_runways_and_exposure(run: Run, workspace: Workspace) -> None:
    """So do a runway or exposure table that cannot be used."""
    workspace.runways_file.write_text("runway,threshold_lat\nX,91\n")
    status, _, err = run("ingest")
    assert (status, "runways.csv" in err) == (2, True)

    workspace.runways_file.unlink()
    workspace.exposure_file.write_text("pilot,month,landings_flown\nAda Quill,2026-13,3\n")
    status, _, err = run("ingest")
    assert (status, "exposure.csv" in err) == (2, True)


def test_bad_settings(run: Run, workspace: Workspace) -> None:
    """Settings that cannot be used end every command in exit status 2 with the key."""
    workspace.settings_file.write_text("[policy.limits]\nhard_fpm = 'soft'\n")

    for command in (("ingest",), ("week",), ("serve",), ("inspect", workspace.runways_file)):
        status, _, err = run(*command)
        assert (status, "policy.limits.hard_fpm" in err) == (2, True), command


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["fly"], 'Unknown command "fly"'),
        (["ingest", "--speed", "3"], "--speed"),
        (["ingest", "no such.csv"], "no such.csv: there is no such file or folder"),
        (["ingest", "--map", "no such.toml"], "no such.toml"),
        (["ingest", "--manifest", "no such.csv"], "no such.csv"),
        (["week", "--as-of", "yesterday"], "yesterday"),
        (["export", "landings"], "--out"),
        (["inspect"], "name a log"),
        (["init"], "FOLDER"),
        (["export"], "TABLE"),
    ],
)
def test_wrong_usage(run: Run, arguments: list[str], said: str) -> None:
    """Wrong arguments end in exit status 2 and one line that names them."""
    status, out, err = run(*arguments)

    assert (status, out) == (2, "")
    assert said in err
    assert err.count("\n") == 1


def test_export_names_what_there_is(run: Run, tmp_path: Path) -> None:
    """An unknown table or ending is answered with those there are; without a warehouse, with what to do."""
    status, _, err = run("export", "landings", "--out", tmp_path / "a.csv")
    assert (status, "ingest some logs first" in err) == (2, True)

    run("ingest")
    status, _, err = run("export", "flights", "--out", tmp_path / "a.csv")
    assert (status, "landings" in err) == (2, True)
    status, _, err = run("export", "landings", "--out", tmp_path / "a.xlsx")
    assert (status, ".parquet" in err) == (2, True)


def test_export_writes_the_table(run: Run, workspace: Workspace, fill: Fill, tmp_path: Path) -> None:
    """Landings come out in each format with the same rows."""
    fill(workspace.inbox)
    run("ingest")
    for ending, reader in ((".csv", pl.read_csv), (".parquet", pl.read_parquet), (".arrow", pl.read_ipc)):
        status, out, _ = run("export", "landings", "--out", tmp_path / f"landings{ending}")
        assert (status, "3 rows of landings" in out) == (0, True)
        assert reader(tmp_path / f"landings{ending}")["log_file"].to_list() == [
            "first.csv",
            "second.parquet",
            "third.csv.gz",
        ]


def test_two_runs_at_once(run: Run, workspace: Workspace, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second run ends in exit status 4 and says that nothing was done."""
    monkeypatch.setattr("flows.workspace.WAIT_S", 0.1)
    program = (
        "import sys; from pathlib import Path; from flows.workspace import Workspace\n"
        "with Workspace.at(Path(sys.argv[1])).held():\n    print('held', flush=True); sys.stdin.read()"
    )
    other = subprocess.Popen(
        [sys.executable, "-c", program, str(workspace.root)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert other.stdout is not None
    assert other.stdout.readline() == "held\n"
    for command in ("ingest", "week"):
        status, out, err = run(command)
        assert (status, out) == (4, "")
        assert "another run holds this workspace; nothing was done" in err
    other.communicate("")

    assert run("ingest")[0] == 0


FULL_DISK = """
import resource, sys
from flows.command_line import main
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[1]),) * 2)
import signal; signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
sys.exit(main(["ingest"]))
"""


@pytest.mark.parametrize("limit", [1_000, 8_000, 40_000])
def test_full_disk(run: Run, workspace: Workspace, fill: Fill, at: datetime, flight: Any, limit: int) -> None:
    """When no more can be written, the status is 4, every log is still there, and the next run does the rest."""
    flight(contact_s=90.2).canonical().write_csv(workspace.inbox / "before.csv")
    ingest(workspace, at=at)
    fill(workspace.inbox)
    ended = subprocess.run(
        [sys.executable, "-c", FULL_DISK, str(limit)],
        env={**os.environ, "ROUNDOUT_WORKSPACE": str(workspace.root)},
        capture_output=True,
        text=True,
        check=False,
    )

    assert ended.returncode == 4, ended.stderr
    assert "Traceback" not in ended.stderr
    assert "nothing was lost" in ended.stderr
    assert {path.name for path in workspace.inbox.iterdir()} >= {"first.csv", "second.parquet", "third.csv.gz"}
    status, out, _ = run("ingest")
    assert status == 0
    assert "3 logs read, 3 landings measured" in out


def test_week_writes_pages_and_says_where(run: Run, workspace: Workspace, fill: Fill) -> None:
    """The weekly run prints the week and the folder of each audience."""
    fill(workspace.inbox)
    status, out, _ = run("week", "--as-of", "2026-11-25")

    assert status == 0
    assert "Edition 2026-W47" in out
    for audience in ("pilots", "training", "office"):
        assert str(workspace.reports / "2026-W47" / audience) in out


def test_json_is_json(run: Run, workspace: Workspace, fill: Fill) -> None:
    """Where a program would read it, the same is said as JSON."""
    fill(workspace.inbox)
    (seen,) = json.loads(run("inspect", workspace.inbox / "first.csv", "--json")[1])
    assert seen["map_name"] == "canonical names"
    (pitch,) = (channel for channel in seen["channels"] if channel["channel"] == "pitch_deg")
    assert (pitch["unit"], pitch["rate_hz"], pitch["samples"]) == ("deg", 8.0, seen["rows"])
    assert "flare_height_ft" in seen["supported"]

    assert json.loads(run("ingest", "--json")[1])["accepted"] == ["first.csv", "second.parquet", "third.csv.gz"]
    told = json.loads(run("status", "--json")[1])
    assert (told["logs"], told["landings"], told["pilots"], told["waiting"]) == (3, 3, 2, [])
    assert json.loads(run("week", "--as-of", "2026-11-25", "--json")[1])["week"] == "2026-W47"


def test_status_without_json(run: Run, workspace: Workspace, fill: Fill) -> None:
    """What is held, what waits and what was refused is said in words."""
    fill(workspace.inbox)
    (workspace.inbox / "bad.csv").write_bytes(b"")
    run("ingest")
    (workspace.inbox / "next.csv").write_bytes(b"")
    status, out, _ = run("status")

    assert status == 0
    assert "3 logs held" in out
    assert "1 log in the inbox" in out
    assert "bad.csv: the file is empty" in out


def test_init_writes_settings(run: Run, tmp_path: Path) -> None:
    """A new workspace has the commented settings; a second time nothing changes."""
    assert run("init", tmp_path / "new")[0] == 0
    assert Workspace.at(tmp_path / "new").settings() == Settings()
    status, out, _ = run("init", tmp_path / "new")
    assert (status, "stay as they are" in out) == (0, True)


def test_inspect_writes_nothing(
    run: Run, workspace: Workspace, fill: Fill, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Looking at a log leaves neither a workspace nor anything beside the log; a bad log ends in exit status 3."""
    folder = tmp_path / "flights"
    fill(folder)
    (folder / "bad.csv").write_bytes(b"")
    monkeypatch.setenv("ROUNDOUT_WORKSPACE", str(tmp_path / "none"))
    before = sorted(tmp_path.rglob("*"))
    status, out, _ = run("inspect", folder / "third.csv.gz", folder / "bad.csv")

    assert status == 3
    assert "map: stamped.toml" in out
    assert "approach 0: full stop, contact at 95." in out
    assert "cannot be read: bad.csv: the file is empty" in out
    assert sorted(tmp_path.rglob("*")) == before


def test_interrupt_ends_quietly(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C ends in 130 and a sentence."""

    def interrupted(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("flows.commands.ingest.run", interrupted)
    status, _, err = run("ingest")

    assert (status, err) == (130, "roundout: interrupted; nothing was lost, run again\n")


def test_escape_signs_reach_no_terminal(run: Run, workspace: Workspace) -> None:
    """A file name cannot steer the terminal it is printed on."""
    (workspace.inbox / "a\x1b[2Jb.csv").write_bytes(b"")
    _, out, _ = run("ingest")

    assert "\x1b" not in out
    assert "a\\x1b[2Jb.csv" in out


def test_help_lists_every_command_fast(run: Run) -> None:
    """Help names each command, and needs neither the measuring code nor the scheduler."""
    status, out, _ = run("--help")
    assert status == 0
    assert all(command in out for command in COMMANDS)

    program = (
        "import sys; from flows.command_line import main; main(['--help']);"
        "print([m for m in ('scipy', 'sklearn', 'duckdb', 'prefect', 'altair') if m in sys.modules], file=sys.stderr)"
    )
    ended = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert ended.stderr.strip() == "[]"


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_has_words_for_every_argument(run: Run, command: str) -> None:
    """No argument stands without a word of what it is."""
    status, out, _ = run(command, "--help")
    function = app[command].default_command
    said = inspect.getdoc(function) or ""
    told = {"workspace", "json"}

    assert (status, out.startswith(f"Usage: roundout {command}")) == (0, True)
    assert all(name in told or f"\n{name}\n    " in said for name in inspect.signature(function).parameters)


def test_every_command_is_one_that_works() -> None:
    """No command is listed that is not there."""
    folder = Path(command_line.__file__).parent / "commands"
    modules = {path.stem for path in folder.glob("*.py")} - {"__init__", "terminal", "words"}

    assert modules == set(COMMANDS)

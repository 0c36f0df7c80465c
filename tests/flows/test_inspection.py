"""`roundout inspect`: a log with no map gets one proposed, its traces on a page, and nothing else is written."""

import json
import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import polars as pl
import pytest

from flows.command_line import main
from flows.inspection import ApproachSeen, Inspection
from flows.inspection_words import inspection_lines
from pipeline.reading.channel_map import load_map

Run = Callable[..., tuple[int, str, str]]

NAMES = {
    "t_s": "Zeit [s]",
    "radio_height_ft": "Funkhöhe [ft]",
    "pitch_deg": "Nickwinkel [Grad]",
    "vertical_speed_fpm": "Vertikalgeschwindigkeit [ft/min]",
    "normal_accel_g": "Lastvielfaches [g]",
    "airspeed_kt": "IAS [kt]",
    "ground_speed_kt": "Fahrt über Grund [kt]",
    "thrust_lever_pct": "Leistungshebel [%]",
    "main_on_ground": "Hauptfahrwerk am Boden",
    "latitude_deg": "Breite",
    "longitude_deg": "Länge",
    "track_true_deg": "Kurs über Grund rechtweisend",
}


@pytest.fixture
def run(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Inspect with a workspace that is not there; give the exit status and what was printed."""
    monkeypatch.setenv("ROUNDOUT_WORKSPACE", str(tmp_path / "place" / "data"))

    def ran(*arguments: str | Path) -> tuple[int, str, str]:
        status = main(["inspect", *(str(argument) for argument in arguments)])
        out, err = capsys.readouterr()
        return status, out, err

    return ran


@pytest.fixture
def odd(tmp_path: Path, flight: Any) -> Path:
    """A log under names no map knows; it lies by itself."""
    log = tmp_path / "logs" / "seltsam.csv"
    log.parent.mkdir()
    table = flight().canonical().rename(NAMES)
    log.write_text(table.with_columns(pl.Series("Öltemperatur [°C]", np.full(len(table), 88.5))).write_csv())
    return log


def test_a_log_without_a_map_is_read_by_the_one_proposed(run: Run, odd: Path) -> None:
    """The sure lines read it, so that its landing is found; each line says how sure it is and why."""
    status, out, _ = run(odd)

    assert status == 0
    assert "no map reads it" in out
    assert "approach 0: full stop, contact at 100." in out
    assert re.search(r"Funkhöhe \[ft\] +radio_height +ft +as usual +9\d%  named funk hoehe", out)
    assert "nothing proposed for: Öltemperatur [°C]" in out


def test_the_map_written_reads_the_log(run: Run, odd: Path, tmp_path: Path) -> None:
    """What --write-map writes can be used as it is; a second time it is refused, since the file may hold work."""
    target = tmp_path / "proposed.toml"
    status, out, _ = run(odd, "--write-map", target)

    assert (status, str(target) in out) == (0, True)
    assert {"radio_height", "pitch", "vertical_speed", "main_on_ground"} <= set(load_map(target).rules)
    status, out, _ = run(odd, "--map", target)
    assert (status, "map: proposed.toml" in out, "no map reads it" in out) == (0, True, False)
    before = target.read_bytes()
    status, _, err = run(odd, "--write-map", target)
    assert (status, "there is such a file already" in err, target.read_bytes()) == (2, True, before)


def test_no_map_is_written_where_none_is_missing(run: Run, tmp_path: Path, flight: Any) -> None:
    """A log that canonical names or a map read needs none; logs of two recorders need two."""
    flight().canonical().write_csv(tmp_path / "plain.csv")
    status, _, err = run(tmp_path / "plain.csv", "--write-map", tmp_path / "m.toml")

    assert (status, "read by canonical names already" in err) == (2, True)
    assert not (tmp_path / "m.toml").exists()
    flight().canonical().rename(NAMES).write_csv(tmp_path / "one.csv")
    flight().canonical().rename(NAMES).drop("Breite").write_csv(tmp_path / "two.csv")
    status, _, err = run(tmp_path / "one.csv", tmp_path / "two.csv", "--write-map", tmp_path / "m.toml")
    assert (status, "have different columns" in err) == (2, True)


def test_columns_beside_a_map_are_proposed_for(run: Run, tmp_path: Path, flight: Any) -> None:
    """A map that reads a log leaves columns over; what they may be is said, and what the map gives is not said again."""
    table = flight().canonical()
    table.with_columns(pl.Series("Querlage [Grad]", np.sin(table["t_s"].to_numpy() / 9.0))).write_csv(
        tmp_path / "a.csv"
    )
    (seen,) = json.loads(run(tmp_path / "a.csv", "--json")[1])

    assert seen["map_name"] == "canonical names"
    assert [(line["key"], line["columns"]) for line in seen["proposal"]["lines"]] == [("roll", ["Querlage [Grad]"])]


def test_traces_go_beside_the_workspace_or_where_told(run: Run, odd: Path, tmp_path: Path) -> None:
    """--plot writes a page beside the workspace, a page named, or into a folder named; never beside the log."""
    assert run(odd, "--plot")[0] == 0
    assert run(odd, f"--plot={tmp_path / 'one.html'}")[0] == 0
    assert run(odd, "--plot", tmp_path / "pages")[0] == 0

    pages = sorted(page.relative_to(tmp_path).as_posix() for page in tmp_path.rglob("*.html"))
    assert pages == ["one.html", "pages/seltsam.csv.html", "place/inspected/seltsam.csv.html"]
    assert list(odd.parent.iterdir()) == [odd]
    assert not (tmp_path / "place" / "data").exists()
    text = (tmp_path / "one.html").read_text()
    assert all(f'"{moment}"' in text for moment in ("contact", "flare starts", "thrust starts to close", "lever idle"))


def test_a_log_named_as_the_page_is_not_written_over(run: Run, odd: Path) -> None:
    """`--plot LOG` takes the log for the page: one sentence, and the log is as it was."""
    before = odd.read_bytes()
    status, _, err = run(odd, "--plot", odd)

    assert (status, "neither a page (.html) nor a folder" in err, odd.read_bytes()) == (2, True, before)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "the file is empty"),
        (b"time,pitch\n", "no rows"),
        (b"a,b\nx,y\nz,w\n", "no column can be the time"),
        (b"time,x\n5,1\n5,2\n5,3\n", "write a map for its columns"),
        (bytes(range(256)) * 8, "not a table"),
    ],
)
def test_a_log_that_cannot_be_read_is_a_sentence(run: Run, tmp_path: Path, content: bytes, said: str) -> None:
    """Broken, empty, timeless: exit status 3, no traceback, with or without the page and the map asked for."""
    (tmp_path / "bad.csv").write_bytes(content)
    for options in ((), ("--plot",)):
        status, out, err = run(tmp_path / "bad.csv", *options)
        assert (status, said in out, err) == (3, True, "")
    status, _, err = run(tmp_path / "bad.csv", "--write-map", tmp_path / "m.toml")
    assert (status, err.count("\n"), (tmp_path / "m.toml").exists()) == (2, 1, False)


def test_a_pipe_and_a_missing_log_are_wrong_usage(run: Run, tmp_path: Path) -> None:
    """Neither hangs."""
    os.mkfifo(tmp_path / "pipe.csv")

    for name in ("pipe.csv", "missing.csv"):
        status, _, err = run(tmp_path / name)
        assert (status, "no such file or folder, or it is no regular file" in err) == (2, True)


def test_what_contradicts_is_said(run: Run, tmp_path: Path, flight: Any) -> None:
    """A channel that the others deny is named with why, in words and in JSON."""
    table = flight().canonical()
    table.with_columns(pl.col("vertical_speed_fpm") * 0.3).write_csv(tmp_path / "wrong.csv")
    _, out, _ = run(tmp_path / "wrong.csv")
    (seen,) = json.loads(run(tmp_path / "wrong.csv", "--json")[1])

    denied = [channel["channel"] for channel in seen["channels"] if channel["suspect"]]
    assert denied
    assert all(f"NOT BELIEVED {channel}: " in out for channel in denied)


def test_what_fails_beside_the_measuring_is_a_note(run: Run, odd: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where proposing, examining or drawing fails in a way nobody foresaw, the rest is told and no traceback is."""

    def failing(*_: object, **__: object) -> None:
        raise ZeroDivisionError("nobody foresaw this")

    target = odd.parent / "map.toml"
    run(odd, "--write-map", target)
    for part in ("look", "trace_page_of", "propose"):
        monkeypatch.setattr(f"flows.inspection.{part}", failing)
    status, out, err = run(odd, "--map", target, "--plot")

    assert (status, err) == (0, "")
    assert "approach 0: full stop" in out
    assert "its channels could not be looked at (ZeroDivisionError: nobody foresaw this)" in out
    assert "its traces could not be drawn (ZeroDivisionError: nobody foresaw this)" in out


def test_lines_of_a_log_without_anything_say_so() -> None:
    """Empty parts are said as none, not left out."""
    said = "\n".join(inspection_lines(Inspection("empty.csv", map_name="canonical names")))

    assert "no landing and no approach found" in said
    assert "no measures supported: none" in said


def test_many_approaches_are_counted() -> None:
    """A recorder's whole month does not fill the terminal: forty are listed, the others counted by how they ended."""
    many = (
        *tuple(ApproachSeen("full_stop", float(n), 0.1, "height") for n in range(50)),
        ApproachSeen("go_around", None, None, None),
    )
    said = list(inspection_lines(Inspection("month.csv", map_name="m", approaches=many)))

    assert sum(line.startswith("  approach ") for line in said) == 40
    assert "  11 further approaches: 10 full stop, 1 go around" in said

"""The page of a held landing: called by id or log, with the numbers as they are held."""

import json
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import polars as pl
import pytest

from flows.debrief import debrief
from flows.ingest import ingest
from flows.workspace import Workspace
from pipeline.errors import SettingsError, StoreError
from warehouse.database import reader
from warehouse.marts import read

Run = Callable[..., tuple[int, str, str]]


def landings(workspace: Workspace) -> pl.DataFrame:
    with reader(workspace.database) as con:
        return read(con, "approaches")


@pytest.mark.parametrize("called", ["id", "beginning", "log", "log and index", "hash"])
def test_a_landing_by_its_names(ingested: Workspace, called: str) -> None:
    """Each way of calling the second log's landing gives its page, in the folder of debriefs."""
    row = landings(ingested).row(by_predicate=pl.col("log_file") == "second.parquet", named=True)
    names: dict[str, tuple[str, int | None]] = {
        "id": (row["landing_id"], None),
        "beginning": (row["landing_id"][:6], None),
        "log": ("second.parquet", None),
        "log and index": ("second.parquet", 0),
        "hash": (row["log_sha256"][:10], None),
    }
    made = debrief(ingested, *names[called])

    assert made.landing_id == row["landing_id"]
    assert made.page == ingested.reports / "debriefs" / f"{row['landing_id']}.html"
    text = made.page.read_text()
    assert "Traces of second.parquet" in text
    assert "Approach 0: full stop" in text
    assert made.older == ()


@pytest.mark.parametrize(
    ("name", "index", "said"),
    [
        ("fourth.csv", None, "no landing or log held is called so"),
        ("first.csv", 4, "holds no landing 4; its landings are: 0"),
        ("abc", None, "no landing or log held is called so"),
    ],
)
def test_a_name_that_means_none(ingested: Workspace, name: str, index: int | None, said: str) -> None:
    """What is not held is said, with what there is."""
    with pytest.raises(SettingsError, match=said):
        debrief(ingested, name, index)


def test_one_of_several(workspace: Workspace, flight: Any, at: datetime, tmp_path: Path) -> None:
    """Of a log with a go-around and a landing each has its own page; the log alone does not tell which is meant."""
    first = flight(go_around=True).canonical()
    last = first["t_s"].max() + 0.125
    second = flight(contact_s=150.2).canonical().with_columns(pl.col("t_s") + last)
    pl.concat([first, second]).write_csv(workspace.inbox / "two.csv")
    ingest(workspace, at=at)
    held = landings(workspace)
    assert held["outcome"].to_list() == ["go_around", "full_stop"]
    with pytest.raises(SettingsError, match="holds 2 approaches"):
        debrief(workspace, "two.csv")

    around = debrief(workspace, held["landing_id"][0], page=tmp_path / "around.html").page.read_text()
    landed = debrief(workspace, "two.csv", 0, page=tmp_path / "landed.html").page.read_text()
    assert "2 approaches found in this log" in " ".join(landed.split()).replace("Two", "2")
    assert "Approach 1 is shown." in landed
    assert "Approach 1: full stop" in landed
    assert "Approach 0: go-around" in around


def test_a_log_that_is_gone(ingested: Workspace) -> None:
    """Without the accepted log there is no page, and how to mend it is said."""
    for path in ingested.logs.glob("?" * 64 + ".parquet"):
        path.unlink()
    with pytest.raises(StoreError, match="bring the log again"):
        debrief(ingested, "first.csv")


def test_command(ingested: Workspace, run: Run, tmp_path: Path) -> None:
    """The page goes where --out says; a landing that rests on older rules is told so; another ending is refused."""
    page = tmp_path / "page.html"
    ingested.settings_file.write_text("[[policy.gates]]\nheight_ft = 500.0\ncriteria = ['sink']\n")
    status, out, _ = run("debrief", "first.csv", "0", "--out", page)

    assert status == 0
    assert page.exists()
    assert "It rests on older rules (policy): `roundout remeasure" in out
    assert json.loads(run("debrief", "first.csv", "--json")[1])["older"] == ["policy"]
    assert run("debrief", "first.csv", "--out", tmp_path / "page.pdf")[0] == 2
    assert run("debrief", "fourth.csv")[0] == 2

"""Runways in a workspace: a user's own, imported ones, and which stands."""

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import polars as pl
import pytest

from flows.command_line import main
from flows.ingest import ingest
from flows.runways import import_runways, keep_runways, kept_runways
from flows.workspace import Workspace
from pipeline.errors import ManifestError
from warehouse.database import reader
from warehouse.marts import read

AT = datetime(2026, 11, 25, 6, tzinfo=UTC)
FT_A_DEG = 365_221.4
"""Length of a degree of longitude on the equator: 2 pi 6,378,137 m / 360."""
ENDS = ("ident", "latitude_deg", "longitude_deg", "elevation_ft", "heading_degT", "displaced_threshold_ft")
COLUMNS = [
    *("id", "airport_ref", "airport_ident", "length_ft", "width_ft", "surface", "lighted", "closed"),
    *(f"{end}_{name}" for end in ("le", "he") for name in ENDS),
]


def pavement(airport: str, lon: float, lat: float = 0.0, le: str = "09", he: str = "27") -> str:
    """A pavement of 8,000 ft due east from a place."""
    far = lon + 8000 / FT_A_DEG
    return f"1,1,{airport},8000,150,ASP,1,0,{le},{lat},{lon},10,90,,{he},{lat},{far},10,270,"


@pytest.fixture
def bare(workspace: Workspace) -> Workspace:
    """The workspace without its own runway table."""
    workspace.runways_file.unlink()
    return workspace


@pytest.fixture
def table(tmp_path: Path) -> Path:
    """Three invented airports: one where the workspace's own runway lies, one elsewhere, one with a helipad only."""
    path = tmp_path / "worldwide.csv"
    pad = "1,1,XXCC,80,80,ASP,1,0,H1,,,,,,,,,,,"
    path.write_text("\n".join([",".join(COLUMNS), pavement("XXAA", -30.0), pavement("XXBB", 10.0), pad]) + "\n")
    return path


def test_imported_runways_stand_behind_the_users_own(workspace: Workspace, table: Path) -> None:
    """The own end of XXAA 09 stays, its other end and the other airport come from the table; the own file is untouched."""
    before = workspace.runways_file.read_text()
    import_runways(workspace, table)

    assert kept_runways(workspace)["runway"].to_list() == ["Testfield 09", "XXAA 27", "XXBB 09", "XXBB 27"]
    assert workspace.runways_file.read_text() == before


def test_a_run_keeps_its_own_runways_and_not_the_imported_ones(bare: Workspace, table: Path) -> None:
    """What was imported is not written into the user's table, or it would stand over the next import."""
    import_runways(bare, table)
    keep_runways(bare, kept_runways(bare))
    before = bare.runways_file.is_file()
    own = kept_runways(bare).head(1).with_columns(runway=pl.lit("Mine"), threshold_lat=pl.lit(5.0))
    keep_runways(bare, pl.concat([own, kept_runways(bare)]))

    assert not before
    assert pl.read_csv(bare.runways_file)["runway"].to_list() == ["Mine"]


def test_a_second_import_stands_in_place_of_the_first(bare: Workspace, table: Path, tmp_path: Path) -> None:
    """All of it; or, asked for some airports, theirs alone, and the others stay as they were."""
    import_runways(bare, table)
    moved = tmp_path / "later.csv"
    moved.write_text(
        "\n".join([",".join(COLUMNS), pavement("XXBB", 11.0, le="08", he="26"), pavement("XXDD", 50.0)]) + "\n"
    )
    import_runways(bare, moved, only=["xxbb"])
    some = kept_runways(bare)["runway"].to_list()
    import_runways(bare, moved)

    assert some == ["XXAA 09", "XXAA 27", "XXBB 08", "XXBB 26"]
    assert kept_runways(bare)["runway"].to_list() == ["XXBB 08", "XXBB 26", "XXDD 09", "XXDD 27"]


def test_a_table_that_cannot_be_used_leaves_what_was_imported(bare: Workspace, table: Path, tmp_path: Path) -> None:
    """An airport that is not there, or another file: nothing changes."""
    import_runways(bare, table)
    other = tmp_path / "other.csv"
    other.write_text("a,b\n1,2\n")
    for bad, only in ((table, ["XXZZ"]), (other, [])):
        with pytest.raises(ManifestError):
            import_runways(bare, bad, only=only)

    assert kept_runways(bare).height == 4


def test_a_landing_finds_its_imported_runway(bare: Workspace, table: Path, flight: Any) -> None:
    """Without a runway table of one's own the import is enough, and the run writes no table of its own."""
    import_runways(bare, table)
    (bare.inbox / "log.csv").write_text(flight().canonical().write_csv())
    ingest(bare, (), at=AT)
    with reader(bare.database) as con:
        (found,) = read(con, "landing").rows(named=True)

    assert (found["runway"], found["runway_found"]) == ("XXAA 09", "matched")
    assert found["touchdown_distance_ft"] is not None
    assert not bare.runways_file.is_file()


def test_the_command_says_what_was_taken_and_what_was_refused(
    workspace: Workspace, table: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Counts with reasons; with --only the refused runways by name; --json for a program."""
    call = ["runways", "import", str(table), "--workspace", str(workspace.root)]
    statuses = [main(call)]
    said = capsys.readouterr().out
    statuses.append(main([*call, "--only", "xxcc, xxbb"]))
    some = capsys.readouterr().out
    statuses.append(main([*call, "--json"]))
    told = json.loads(capsys.readouterr().out)

    assert statuses == [0, 0, 0]
    assert "4 runway ends taken from 3 pavements." in said
    assert "helipad: 1" in said
    assert "helipad: 1 (XXCC H1)" in some
    assert (told["runway_ends"], told["refused"]) == (4, {"helipad": 1})


def test_a_wrong_table_is_one_sentence(
    workspace: Workspace, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Wrong usage: exit status 2 and no traceback."""
    wrong = tmp_path / "wrong.csv"
    wrong.write_text("a,b\n1,2\n")
    status = main(["runways", "import", str(wrong), "--workspace", str(workspace.root)])
    said = capsys.readouterr().err

    assert status == 2
    assert "wrong.csv: not the worldwide runway table: column airport_ident is missing" in said
    assert said.count("\n") == 1

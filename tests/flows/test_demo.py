"""The demo: an invented operator through the whole job, its truth recovered, only into an empty folder."""

from datetime import datetime
from pathlib import Path

import polars as pl
import pytest

from flows.demo import demo
from flows.workspace import Workspace
from pipeline.errors import SettingsError
from warehouse.checks import failed, run_checks
from warehouse.database import reader
from warehouse.marts import read


def _names(workspace: Workspace) -> pl.DataFrame:
    return pl.read_csv(workspace.names_file)


@pytest.mark.slow
@pytest.mark.parametrize("solo", [False, True])
def test_small_demo_reaches_the_pages(tmp_path: Path, at: datetime, *, solo: bool) -> None:
    """A twentieth of the landings goes the whole way: pages for each audience, broken logs refused, no name on a page."""
    workspace = Workspace.at(tmp_path / "demo")
    edition = demo(workspace, at=at, solo=solo, landings=0.05)
    with reader(workspace.database) as con:
        landings = read(con, "landing")
        assert failed(run_checks(con)) == {}
    audiences = {page.relative_to(workspace.reports / edition.week).parts[0] for page in edition.pages}

    assert edition.week == "2026-W47"
    assert {"training", "office"} <= audiences
    assert landings["pilot"].n_unique() <= (2 if solo else 25)
    assert landings["touchdown_distance_ft"].count() > 0.5 * landings.height
    assert [path.name for path in workspace.inbox.iterdir() if path.is_file() and path.name not in _TABLES] == []
    pages = "".join(page.read_text() for page in edition.pages)
    assert not any(name in pages for name in _names(workspace)["name"])


_TABLES = {"manifest.csv", "exposure.csv", "runways.csv"}


def test_demo_wants_an_empty_folder(tmp_path: Path, at: datetime) -> None:
    """Invented landings are not mixed into a workspace in use."""
    workspace = Workspace.at(tmp_path)
    (tmp_path / "mine.txt").write_text("")

    with pytest.raises(SettingsError, match="is not empty"):
        demo(workspace, at=at)
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]

"""Constants learned from what is held: when they are due, and that landings are measured again with them."""

from datetime import datetime, timedelta
from pathlib import Path

import polars as pl
import pytest

from flows.ingest import ingest
from flows.invented.scenario import write_scenario
from flows.renewal import outgrown, renew
from flows.workspace import Workspace
from pipeline.constants import CONSTANTS, LEAST, MOST
from warehouse.constants import current_constants
from warehouse.database import reader
from warehouse.marts import read

KEY = ("north-4", "Tovik L2")


def landings(n: int) -> pl.DataFrame:
    """Timed landings of one installation."""
    return pl.DataFrame({"recorder": [KEY[0]] * n, "map_sha256": ["m"] * n, "aircraft_type": [KEY[1]] * n})


def known(learned_from: int) -> pl.DataFrame:
    """Its constants, one of which no landing told."""
    rows = [("v", *KEY, "radio_delay_s", 0.1, 0.1, 0), ("v", *KEY, "vertical_speed_lag_s", 0.2, 0.03, learned_from)]
    return pl.DataFrame(rows, schema=CONSTANTS, orient="row")


@pytest.mark.parametrize(
    ("held", "learned_from", "due"),
    [
        (LEAST - 1, 0, False),
        (LEAST, 0, True),
        (2 * LEAST - 1, LEAST, False),
        (2 * LEAST, LEAST, True),
        (10 * MOST, MOST, False),
    ],
)
def test_constants_are_due_at_twice_the_landings(held: int, learned_from: int, *, due: bool) -> None:
    """First with enough landings, then each time they have doubled, until more would gain nothing."""
    constants = known(learned_from) if learned_from else pl.DataFrame(schema=CONSTANTS)
    assert outgrown(landings(held), constants) == ({KEY} if due else set())


def test_landings_that_came_a_few_at_a_time_are_learned_from_and_measured_again(tmp_path: Path, at: datetime) -> None:
    """Three parts too small to learn from are together enough: one version, on every row of the installation."""
    source = tmp_path / "all"
    write_scenario(source, seed=5, solo=True, landings=0.2)
    workspace = Workspace.at(tmp_path / "data")
    workspace.make()
    (workspace.runways_file).write_bytes((source / "runways.csv").read_bytes())
    for map_file in (source / "maps").iterdir() if (source / "maps").is_dir() else ():
        (workspace.maps / map_file.name).write_bytes(map_file.read_bytes())
    logs = sorted(source.glob("*.parquet"))
    heading, *rows = (source / "manifest.csv").read_text().splitlines()
    for turn in range(3):
        for log in logs[turn::3]:
            (workspace.inbox / log.name).write_bytes(log.read_bytes())
        told = [row for row in rows if row.split(",")[0] in {log.name for log in logs[turn::3]}]
        workspace.manifest_file.write_text("\n".join([heading, *told]) + "\n")
        ingest(workspace, at=at + timedelta(hours=turn))
    with reader(workspace.database) as con:
        assert current_constants(con).is_empty()
        assert set(read(con, "approaches")["constants"]) == {"none"}
    again = renew(workspace, at=at + timedelta(days=1))
    assert again is not None
    with reader(workspace.database) as con:
        (version,) = current_constants(con)["version"].unique()
        assert set(read(con, "approaches")["constants"]) == {version}
    assert renew(workspace, at=at + timedelta(days=2)) is None

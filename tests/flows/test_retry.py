"""The quarantine again: what can be read now leaves it under its own name, the rest stays with the reason of now."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from flows.ingest import ingest
from flows.preparing import Given
from flows.retry import retry
from flows.workspace import Workspace
from pipeline.errors import SettingsError
from warehouse.database import reader
from warehouse.marts import read

METRIC = """\
time = { column = "Clock", unit = "clock" }
[channels]
radio_height = { column = "HtRadio", unit = "m" }
pitch = { column = "Nose", unit = "rad" }
"""


def logs(workspace: Workspace) -> list[tuple[Any, ...]]:
    with reader(workspace.database) as con:
        return read(con, "logs").select("log_file", "original_name", "approaches").rows()


def refusals(workspace: Workspace) -> list[tuple[Any, ...]]:
    with reader(workspace.database) as con:
        return read(con, "refusals").select("log_file", "reason").rows()


@pytest.fixture
def refused(workspace: Workspace, flight: Any, at: datetime) -> Workspace:
    """A log in a folder of the inbox that no map reads, and one that is empty, both refused; a row speaks of the first."""
    (workspace.inbox / "tuesday").mkdir()
    flight().metric().write_parquet(workspace.inbox / "tuesday" / "metric.parquet")
    (workspace.inbox / "empty.csv").write_bytes(b"")
    workspace.manifest_file.write_text("log_file,pilot\ntuesday/metric.parquet,Ada Quill\n")
    ingest(workspace, at=at)
    assert len(refusals(workspace)) == 2
    return workspace


def test_a_mended_map_frees_a_log(refused: Workspace, at: datetime) -> None:
    """The log bears the name it first came with, its manifest row counts, and its file has left the quarantine."""
    (refused.maps / "metric.toml").write_text(METRIC)
    done = retry(refused, at=at)
    with reader(refused.database) as con:
        (landing,) = read(con, "landing").rows(named=True)

    assert done.accepted == ["tuesday/metric.parquet"]
    assert logs(refused) == [("tuesday/metric.parquet", "metric.parquet", 1)]
    assert landing["pilot"] is not None
    assert [name for name, _ in done.refused] == ["empty.csv"]
    assert sorted(path.name.split("-", 1)[1] for path in refused.quarantine.iterdir()) == [
        "empty.csv",
        "empty.csv.reason.txt",
    ]


def test_a_manifest_given_once_is_remembered(workspace: Workspace, flight: Any, at: datetime, tmp_path: Path) -> None:
    """What a manifest from elsewhere said of a log that was refused holds when the log is accepted at last."""
    flight().metric().write_parquet(tmp_path / "metric.parquet")
    (tmp_path / "said.csv").write_text("log_file,pilot\nmetric.parquet,Ada Quill\n")
    ingest(workspace, [tmp_path / "metric.parquet"], at=at, given=Given(manifest=tmp_path / "said.csv"))
    (workspace.maps / "metric.toml").write_text(METRIC)
    retry(workspace, at=at)
    with reader(workspace.database) as con:
        assert read(con, "landing")["pilot"].null_count() == 0


def test_what_stays_keeps_its_name_and_reason(refused: Workspace, at: datetime) -> None:
    """A log tried in vain is refused in the same words, under its own name, in the same place."""
    before, names = refusals(refused), sorted(path.name for path in refused.quarantine.iterdir())
    done = retry(refused, at=at)

    assert done.accepted == []
    assert refusals(refused) == before
    assert sorted(path.name for path in refused.quarantine.iterdir()) == names


def test_one_log_by_name(refused: Workspace, at: datetime) -> None:
    """Only the log that is named is tried; a name that no refused log has is an error."""
    (refused.maps / "metric.toml").write_text(METRIC)

    assert retry(refused, ["empty.csv"], at=at).accepted == []
    assert retry(refused, ["metric.parquet"], at=at).accepted == ["tuesday/metric.parquet"]
    with pytest.raises(SettingsError, match="no log in quarantine"):
        retry(refused, ["metric.parquet"], at=at)


@pytest.mark.parametrize("moved", [True, False])
def test_a_log_mended_by_hand(refused: Workspace, flight: Any, at: datetime, *, moved: bool) -> None:
    """A file mended in quarantine, or moved back to the inbox, is the log that was refused, whose refusal goes."""
    (file,) = refused.quarantine.glob("*-empty.csv")
    file.write_text(flight().canonical().write_csv())
    if moved:
        file.rename(refused.inbox / file.name)
        done = ingest(refused, at=at)
    else:
        done = retry(refused, ["empty.csv"], at=at)

    assert done.accepted == ["empty.csv"]
    assert logs(refused) == [("empty.csv", "empty.csv", 1)]
    assert [name for name, _ in refusals(refused)] == ["tuesday/metric.parquet"]
    assert list(refused.quarantine.glob("*-empty.csv*")) == []


def test_retry_command(refused: Workspace, run: Callable[..., tuple[int, str, str]]) -> None:
    """Some still refused is exit status 3; one log by name alone is tried; a name that is none ends in one line."""
    status, out, _ = run("retry")
    assert status == 3
    assert "empty.csv: the file is empty" in out

    (refused.maps / "metric.toml").write_text(METRIC)
    status, out, _ = run("retry", "metric.parquet")
    assert status == 0
    assert "1 log read, 1 landing measured" in out

    status, _, err = run("retry", "nothing.csv")
    assert (status, err.count("\n")) == (2, 1)

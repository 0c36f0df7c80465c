"""The workspace: where things are, who holds it."""

import subprocess
import sys
from pathlib import Path

import pytest

from flows.settings import Settings
from flows.workspace import VARIABLE, Workspace
from pipeline.errors import SettingsError, StoreError


def test_named_folder_wins_over_the_variable(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The order is: option, environment, `./data`; and the root is absolute each time."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv(VARIABLE, raising=False)
    assert Workspace.at(None).root == tmp_path / "data"

    monkeypatch.setenv(VARIABLE, "of environment")
    assert Workspace.at(None).root == tmp_path / "of environment"
    assert Workspace.at(Path("named")).root == tmp_path / "named"


def test_naming_a_workspace_makes_nothing(tmp_path: Path) -> None:
    """Only a run that needs the folders makes them."""
    Workspace.at(tmp_path / "new").settings()

    assert not (tmp_path / "new").exists()


def test_a_file_is_no_workspace(tmp_path: Path) -> None:
    """A file in the workspace's place is named, not written over."""
    (tmp_path / "file").write_text("mine")

    with pytest.raises(SettingsError, match="is a file"):
        Workspace.at(tmp_path / "file")


def test_settings_are_written_once(tmp_path: Path) -> None:
    """A second `init` leaves the settings that are there."""
    workspace = Workspace.at(tmp_path / "data")

    assert workspace.write_settings()
    assert workspace.settings() == Settings()
    workspace.settings_file.write_text('zone = "UTC" # mine')
    assert not workspace.write_settings()
    assert workspace.settings_file.read_text() == 'zone = "UTC" # mine'


def test_one_run_holds_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A second run is told so while another process holds the workspace, and may go on afterwards."""
    workspace = Workspace.at(tmp_path)
    monkeypatch.setattr("flows.workspace.WAIT_S", 0.1)
    program = (
        "import sys; from pathlib import Path; from flows.workspace import Workspace\n"
        "with Workspace.at(Path(sys.argv[1])).held():\n    print('held', flush=True); sys.stdin.read()"
    )
    other = subprocess.Popen(
        [sys.executable, "-c", program, str(tmp_path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert other.stdout is not None
    assert other.stdout.readline() == "held\n"

    with pytest.raises(StoreError, match="another run holds this workspace"), workspace.held():
        pass
    other.communicate("")

    with workspace.held():
        pass


def test_a_killed_run_does_not_hold_it(tmp_path: Path) -> None:
    """A lock dies with its process."""
    program = (
        "import os, sys; from pathlib import Path; from flows.workspace import Workspace\n"
        "with Workspace.at(Path(sys.argv[1])).held():\n    os.kill(os.getpid(), 9)"
    )
    killed = subprocess.run([sys.executable, "-c", program, str(tmp_path)], check=False)

    assert killed.returncode == -9
    with Workspace.at(tmp_path).held():
        pass


def test_a_place_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    """No workspace can be made inside a file: a sentence, not a traceback."""
    (tmp_path / "file").write_text("")

    with pytest.raises(StoreError, match="cannot make the workspace"):
        Workspace.at(tmp_path / "file" / "data").make()

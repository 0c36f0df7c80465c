"""The schedules: a scheduled run fires, works for the day of its slot, and fails aloud when it cannot work."""

import asyncio
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

from flows.serving import QUIET, deployments, quiet
from flows.settings_tables import ScheduleTable
from flows.workspace import Workspace
from pipeline.errors import SettingsError
from warehouse.database import reader
from warehouse.marts import read

Fill = Callable[[Path], None]
pytestmark = [
    pytest.mark.slow,
    pytest.mark.filterwarnings("ignore::DeprecationWarning"),  # the scheduler's own imports
]


@pytest.fixture(scope="module")
def scheduler(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """A scheduling server for these tests alone, quiet and offline."""
    with pytest.MonkeyPatch.context() as patch:
        for name, value in {**QUIET, "PREFECT_HOME": str(tmp_path_factory.mktemp("scheduler"))}.items():
            patch.setenv(name, value)
        from prefect.testing.utilities import prefect_test_harness  # noqa: PLC0415 - reads the environment

        with prefect_test_harness(server_startup_timeout=90):
            yield


@pytest.mark.usefixtures("scheduler")
def test_scheduled_run_fires_for_its_slot(workspace: Workspace, fill: Fill) -> None:
    """A run scheduled for Monday 06:00 local writes the edition of the week that ended the day before, whenever it runs."""
    from prefect import get_client  # noqa: PLC0415
    from prefect.runner import Runner  # noqa: PLC0415
    from prefect.states import Scheduled  # noqa: PLC0415

    fill(workspace.inbox)
    for log in workspace.inbox.iterdir():
        os.utime(log, (0, 0))
    weekly = deployments(workspace, ScheduleTable(zone="Pacific/Auckland"))[1]

    async def fire() -> Any:
        slot = datetime(2026, 11, 22, 17, tzinfo=UTC)  # Monday 23 November 06:00 in that zone
        runner = Runner(name="test", pause_on_shutdown=False)
        identity = await runner.aadd_deployment(weekly)
        async with get_client() as client:
            run = await client.create_flow_run_from_deployment(identity, state=Scheduled(scheduled_time=slot))
            await runner.start(run_once=True)
            return (await client.read_flow_run(run.id)).state

    state = asyncio.run(fire())

    assert state.type.value == "COMPLETED", state
    assert [path.name for path in workspace.reports.iterdir()] == ["2026-W47"]
    with reader(workspace.database) as con:
        assert read(con, "landing").height == 3


@pytest.mark.usefixtures("scheduler")
def test_flows_do_what_the_commands_do(workspace: Workspace, fill: Fill) -> None:
    """Called as flows, ingest and week load the same rows; files still growing wait."""
    from flows.scheduled import ingest_inbox, write_week  # noqa: PLC0415

    fill(workspace.inbox)
    assert ingest_inbox(str(workspace.root)) == 0
    assert (workspace.inbox / "first.csv").exists()

    for log in workspace.inbox.iterdir():
        os.utime(log, (0, 0))
    assert write_week(str(workspace.root), as_of=date(2026, 11, 25)) == "2026-W47"
    assert not (workspace.inbox / "first.csv").exists()


@pytest.mark.usefixtures("scheduler")
def test_a_run_that_cannot_work_fails(workspace: Workspace) -> None:
    """A bad settings file makes the run fail with the key named, so that the schedule shows it."""
    from flows.scheduled import ingest_inbox  # noqa: PLC0415

    workspace.settings_file.write_text("[engine]\nworkers = -1\n")
    with pytest.raises(SettingsError, match=r"engine\.workers"):
        ingest_inbox(str(workspace.root))


def test_schedules_are_those_of_the_settings(workspace: Workspace) -> None:
    """Each job has the schedule, time zone and workspace it was given; one that means nothing is named."""
    jobs = deployments(workspace, ScheduleTable(ingest="5 * * * *", week="0 6 * * 1", zone="Europe/Paris"))
    schedules = [job.schedules[0].schedule for job in jobs if job.schedules]

    assert [(schedule.cron, schedule.timezone) for schedule in schedules] == [  # type: ignore[union-attr]
        ("5 * * * *", "Europe/Paris"),
        ("0 6 * * 1", "Europe/Paris"),
    ]
    assert all(job.parameters == {"workspace": str(workspace.root)} for job in jobs)
    with pytest.raises(SettingsError, match=r'schedule\.week: "0 99 \* \* 1" is not a schedule'):
        deployments(workspace, ScheduleTable(week="0 99 * * 1"))


def test_serve_fires_and_ends(workspace: Workspace, fill: Fill) -> None:
    """Served with a schedule of every minute, the inbox is ingested by itself; ended, nothing of it keeps running."""
    workspace.settings_file.write_text('[schedule]\ningest = "* * * * *"\n')
    fill(workspace.inbox)
    for log in workspace.inbox.iterdir():
        os.utime(log, (0, 0))
    program = "import sys; from flows.command_line import main; sys.exit(main(['serve', '--workspace', sys.argv[1]]))"
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PREFECT_")}
    process = subprocess.Popen(
        [sys.executable, "-c", program, str(workspace.root)],
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    try:
        give_up = time.monotonic() + 240
        while (workspace.inbox / "first.csv").exists() and time.monotonic() < give_up and process.poll() is None:
            time.sleep(0.5)
        time.sleep(3)
        assert not (workspace.inbox / "first.csv").exists()
    finally:
        process.send_signal(signal.SIGTERM)
        out, err = process.communicate(timeout=60)

    assert b"Traceback" not in out + err, (out + err).decode()
    assert Path(quiet(workspace)["PREFECT_HOME"]).is_dir()
    running = subprocess.run(["ps", "-eo", "args"], capture_output=True, text=True, check=True).stdout
    assert str(workspace.root) not in running

"""A workspace in; the two jobs run on their schedules, offline and quiet, until the process is ended.

A scheduling server of its own listens on this machine alone and keeps its records in the workspace.
"""

import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, cast

from flows.settings_tables import ScheduleTable
from flows.workspace import Workspace
from pipeline.errors import SettingsError, StoreError

if TYPE_CHECKING:
    from prefect.deployments.runner import RunnerDeployment

QUIET = {
    "DO_NOT_TRACK": "1",
    "PREFECT_SERVER_ANALYTICS_ENABLED": "false",
    "PREFECT_CLIENT_SERVER_VERSION_CHECK_ENABLED": "false",
    "PREFECT_CLOUD_ENABLE_ORCHESTRATION_TELEMETRY": "false",
    "PREFECT_TELEMETRY_ENABLE_RESOURCE_METRICS": "false",
    "PREFECT_SERVER_UI_SHOW_PROMOTIONAL_CONTENT": "false",
    "PREFECT_SERVER_UI_ENABLED": "false",
    "PREFECT_LOGGING_TO_API_ENABLED": "false",
    "PREFECT_LOGGING_LEVEL": "ERROR",
    "PREFECT_SERVER_LOGGING_LEVEL": "CRITICAL",
}
"""Nothing is reported anywhere or asked of any network; read when the scheduler is imported, so set before."""

START_S = 90.0


def quiet(workspace: Workspace) -> dict[str, str]:
    """Return the environment of a scheduler whose records are in the workspace."""
    return {**QUIET, "PREFECT_HOME": str(workspace.root / ".scheduler")}


def serve(workspace: Workspace) -> None:
    """Run ingest and week on the schedules of the settings; return when the process is asked to end.

    Raises
    ------
    SettingsError
        A schedule that cannot be understood.
    StoreError
        The scheduling server did not start.
    """
    schedule = workspace.settings().schedule
    workspace.make()
    port = _free_port()
    url = f"http://127.0.0.1:{port}/api"
    os.environ.update({**quiet(workspace), "PREFECT_API_URL": url})
    from prefect import serve as run_jobs  # noqa: PLC0415 - reads the environment

    jobs = deployments(workspace, schedule)
    with _server(port, url):
        run_jobs(*jobs, pause_on_shutdown=False, print_starting_message=False, limit=1)


def deployments(workspace: Workspace, schedule: ScheduleTable) -> "list[RunnerDeployment]":
    """Return the two jobs with their schedules; the environment must be quiet by now.

    Raises
    ------
    SettingsError
        A schedule that cannot be understood.
    """
    from prefect.schedules import Cron  # noqa: PLC0415 - reads the environment
    from prefect.types.entrypoint import EntrypointType  # noqa: PLC0415

    from flows.scheduled import ingest_inbox, write_week  # noqa: PLC0415

    jobs = []
    for job, name, cron in ((ingest_inbox, "ingest", schedule.ingest), (write_week, "week", schedule.week)):
        try:
            deployment = job.to_deployment(
                name,
                schedule=Cron(cron, timezone=schedule.zone),
                parameters={"workspace": str(workspace.root)},
                entrypoint_type=EntrypointType.MODULE_PATH,
            )
        except ValueError as error:
            message = f'{workspace.settings_file}: schedule.{name}: "{cron}" is not a schedule; write it as "0 6 * * 1"'
            raise SettingsError(message) from error
        jobs.append(cast("RunnerDeployment", deployment))
    return jobs


@contextmanager
def _server(port: int, url: str) -> Iterator[None]:
    """Run a scheduling server on a port of this machine while the block runs."""
    command = (sys.executable, "-m", "prefect", "server", "start", "--host", "127.0.0.1", "--port", str(port))
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)  # noqa: S603 - our own
    try:
        _wait(process, url)
        yield
    finally:
        process.terminate()
        process.wait()


def _wait(process: "subprocess.Popen[bytes]", url: str) -> None:
    give_up = time.monotonic() + START_S
    while time.monotonic() < give_up and process.poll() is None:
        try:
            with urllib.request.urlopen(f"{url}/health", timeout=5):  # noqa: S310 - http on this machine
                return
        except (urllib.error.URLError, OSError):
            time.sleep(0.2)
    message = f"the scheduling server did not start within {START_S:.0f} s; nothing was run, try again"
    raise StoreError(message)


def _free_port() -> int:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        return int(listener.getsockname()[1])

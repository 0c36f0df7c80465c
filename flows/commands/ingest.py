"""`roundout ingest`: logs to the warehouse."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from flows.commands.terminal import JsonOption, WorkspaceOption, progress, say, say_json
from flows.commands.words import ingested_lines
from flows.ingest import ingest as run
from flows.preparing import Given
from flows.workspace import Workspace

SOME_REFUSED = 3


def ingest(
    *paths: Path,
    channel_map: Annotated[Path | None, Parameter(name="--map")] = None,
    manifest: Path | None = None,
    runways: Path | None = None,
    workspace: WorkspaceOption = None,
    json: JsonOption = False,
) -> int:
    """Read and measure logs, and load them into the warehouse.

    Logs are CSV or Parquet, plain or packed (.gz, .zst). Those in the inbox are moved on once they are loaded; those
    elsewhere are copied and never touched. Refused logs are kept in quarantine with the reason, and the exit status is
    3. Loading a log twice changes nothing.

    Parameters
    ----------
    paths
        Logs, or folders with logs, and beside them manifest.csv, runways.csv and maps/*.toml; else the inbox.
    channel_map
        Channel map (TOML) for all these logs; a manifest's own wins.
    manifest
        Table (CSV) of who flew what, one row a log or landing; speeds in kt, weights in kg, winds true in deg and kt.
    runways
        Table (CSV) of runways; lengths, heights and distances in ft, headings true in deg.
    """
    place = Workspace.at(workspace)
    with progress() as tell:
        given = Given(channel_map, manifest, runways)
        done = run(place, paths, at=datetime.now(UTC), given=given, tell=tell)
    if json:
        say_json(done)
    else:
        for line in ingested_lines(done, place):
            say(line)
    return SOME_REFUSED if done.refused else 0

"""`roundout retry`: the quarantine again."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from flows.commands.ingest import SOME_REFUSED
from flows.commands.terminal import JsonOption, WorkspaceOption, progress, say, say_json
from flows.commands.words import ingested_lines
from flows.retry import retry as run
from flows.workspace import Workspace


def retry(
    *names: str,
    channel_map: Annotated[Path | None, Parameter(name="--map")] = None,
    workspace: WorkspaceOption = None,
    json: JsonOption = False,
) -> int:
    """Try refused logs again, after a map, a manifest, the runways or the log itself was mended.

    Those that can be read leave the quarantine under the name they first came with; the others stay, with the reason of
    now, and the exit status is 3.

    Parameters
    ----------
    names
        Logs by name, or the beginning of the hash; else all that are in quarantine.
    channel_map
        Channel map (TOML) for these logs; a manifest's own wins.
    """
    place = Workspace.at(workspace)
    with progress() as tell:
        done = run(place, names, at=datetime.now(UTC), channel_map=channel_map, tell=tell)
    if json:
        say_json(done)
    elif not (done.accepted or done.refused):
        say("No log waits in quarantine.")
    else:
        for line in ingested_lines(done, place):
            say(line)
    return SOME_REFUSED if done.refused else 0

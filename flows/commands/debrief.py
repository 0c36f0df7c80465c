"""`roundout debrief`: the page of one held landing."""

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from flows.commands.terminal import JsonOption, WorkspaceOption, say, say_json
from flows.debrief import debrief as run
from flows.workspace import Workspace
from pipeline.errors import SettingsError


def debrief(
    landing: str,
    landing_index: int | None = None,
    /,
    *,
    out: Annotated[Path | None, Parameter(name="--out")] = None,
    workspace: WorkspaceOption = None,
    json: JsonOption = False,
) -> int:
    """Write the page of a held landing: its traces, the moments found, and every number as it is held.

    Times are in s from first contact; other units are written beside the numbers. Nothing is measured again.

    Parameters
    ----------
    landing
        The landing's id, or the beginning of it; or its log: name, or the beginning of the hash.
    landing_index
        Place among the log's landings, from 0; may be left out where the log has one approach.
    out
        The page (.html); else one named by the landing's id, in reports/debriefs.
    """
    if out is not None and out.suffix.lower() not in (".html", ".htm"):
        raise SettingsError(f"--out {out}: is no page; name a file that ends in .html")
    made = run(Workspace.at(workspace), landing, landing_index, page=out)
    if json:
        say_json(made)
        return 0
    say(f"{made.page}: landing {made.landing_id} of {made.log_file}.")
    if made.older:
        rules = ", ".join(made.older)
        say(f"It rests on older rules ({rules}): `roundout remeasure {made.landing_id}` measures it again.")
    return 0

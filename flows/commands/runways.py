"""`roundout runways`: runways of the public worldwide table into the workspace."""

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from flows.commands.terminal import JsonOption, WorkspaceOption, say, say_json
from flows.runways import import_runways
from flows.workspace import Workspace
from pipeline.reading.worldwide_runways import WorldwideRunways
from reports.words import counted, number

LISTED = 10


def runways(
    action: Literal["import"],  # noqa: ARG001 - there is one; the word leaves room for others
    table: Path,
    *,
    only: Annotated[str | None, Parameter(name="--only")] = None,
    workspace: WorkspaceOption = None,
    json: JsonOption = False,
) -> int:
    """Take runway ends from the public-domain worldwide runway table, one pavement with two ends a row.

    Positions in it are of pavement ends: the landing threshold is put the displaced distance further on, the true
    heading is that of the line between the ends, and the slope that between their elevations, ft. Rows that cannot be
    trusted are refused and counted. A runway of your own runways.csv stands over an imported one.

    Parameters
    ----------
    action
        `import`: in place of the runways imported before; with `only`, in place of those of these airports.
    table
        The table (CSV, plain or .gz), as it was published.
    only
        Airport identifiers separated by commas, such as XXAA,XXBB; else all.
    """
    place = Workspace.at(workspace)
    taken = import_runways(place, table, only=[name for name in (only or "").split(",") if name.strip()])
    if json:
        say_json(_told(taken))
    else:
        for line in _lines(taken, listed=only is not None):
            say(line)
    return 0


def _by_reason(taken: WorldwideRunways) -> list[tuple[str, int]]:
    counts = taken.refused["reason"].value_counts()
    return counts.sort("count", "reason", descending=[True, False]).rows()


def _told(taken: WorldwideRunways) -> dict[str, object]:
    return {
        "runway_ends": taken.runways.height,
        "pavements": taken.pavements,
        "refused": dict(_by_reason(taken)),
        "noted": taken.noted,
    }


def _lines(taken: WorldwideRunways, *, listed: bool) -> list[str]:
    """What was taken and what was not, by reason; the refused ones by name where only some airports were asked for."""
    lines = [f"{counted(taken.runways.height, 'runway end')} taken from {counted(taken.pavements, 'pavement')}."]
    lines += [f"  {what}: {counted(count, 'pavement')}" for what, count in taken.noted.items() if count]
    if taken.refused.height:
        lines.append(f"Refused: {counted(taken.refused.height, 'pavement')}")
    for reason, count in _by_reason(taken):
        names = taken.refused.filter(reason=reason).select("airport", "runway").rows() if listed else []
        which = ", ".join(" ".join(part for part in name if part) for name in names[:LISTED])
        more = f" and {number(len(names) - LISTED)} more" if len(names) > LISTED else ""
        lines.append(f"  {reason}: {number(count)}" + (f" ({which}{more})" if which else ""))
    return lines

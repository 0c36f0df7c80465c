"""`roundout remeasure`: held landings brought to the present rules."""

from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Annotated

from cyclopts import Parameter

from flows.changes import Change
from flows.commands.ingest import SOME_REFUSED
from flows.commands.terminal import JsonOption, WorkspaceOption, progress, say, say_json
from flows.commands.words import reason_line
from flows.remeasure import Asked, Remeasured
from flows.remeasure import remeasure as run
from flows.workspace import Workspace
from pipeline.measures.table import BY_NAME
from reports.words import counted

LISTED = 25


def remeasure(
    *names: str,
    dry_run: Annotated[bool, Parameter(name="--dry-run", negative="")] = False,
    again: Annotated[bool, Parameter(name="--again", negative="")] = False,
    workspace: WorkspaceOption = None,
    json: JsonOption = False,
) -> int:
    """Measure held landings again that rest on older rules than the present, and say what that changed.

    Rules are the policy of the settings, the channel maps of the inbox (a corrected map keeps its name), the runways,
    the program's definition of the measures, and the constants learned of gear and instruments. Only logs of which
    anything rests on an older rule are measured; the measurements before are kept, superseded. A number is said to have
    moved where it differs by more than its standard uncertainty, the greater of the old and the new; shifts are medians
    in the measure's unit. A run that was ended goes on where it was. Logs that the present rules cannot read stay as
    they are, and the exit status is 3.

    Parameters
    ----------
    names
        Landings (id, or the beginning of it) or logs (name, or the beginning of the hash); else all that are held.
    dry_run
        Say what would change, and keep nothing.
    again
        Measure too what rests on the present rules, as after traces were lost.
    """
    place = Workspace.at(workspace)
    with progress() as tell:
        done = run(place, Asked(names, again=again, dry_run=dry_run), at=datetime.now(UTC), tell=tell)
    if json:
        say_json(done)
    else:
        for line in _lines(done):
            say(line)
    return SOME_REFUSED if done.refused else 0


def _lines(done: Remeasured) -> Iterator[str]:
    if not done.logs and not done.refused:
        yield f"{counted(done.held, 'approach', 'approaches')} held, all by the present rules."
        return
    listed = ", ".join(f"{cause} {count}" for cause, count in done.causes.items()) or "none"
    yield f"Of {counted(done.held, 'approach', 'approaches')} held, on older rules rested: {listed}."
    if done.logs:
        would, be = ("would be ", "would change") if done.dry_run else ("", "changed")
        measured = f"{counted(done.logs, 'log')} with {counted(done.approaches, 'approach', 'approaches')}"
        yield f"{measured} {would}measured again; {counted(done.changed_landings, 'approach', 'approaches')} {be}."
    yield from (_change_line(change) for change in done.changed[:LISTED])
    if len(done.changed) > LISTED:
        yield f"  and {len(done.changed) - LISTED} more kinds of change; --json lists them all"
    if done.refused:
        yield "Cannot be measured by the present rules, and stay as they are:"
        yield from (f"  {reason_line(name, reason)}" for name, reason in done.refused[:LISTED])
        if len(done.refused) > LISTED:
            yield f"  and {len(done.refused) - LISTED} more; --json lists them all"
    if done.dry_run:
        yield "Nothing was kept. Without --dry-run it is."
    elif done.still_older and not done.refused:
        yield f"{counted(done.still_older, 'approach', 'approaches')} still on older rules; run again."


def _change_line(change: Change) -> str:
    """One way of changing, how often; verdicts and names as they were and are, numbers by their shift."""
    if change.kind == "measure" and change.was == change.now:
        shift, unit = change.median_shift, BY_NAME[change.name].unit
        if shift is None:
            return f"  {change.name}: {change.landings} changed"
        moved = f"moved by more than the uncertainty, median {shift:+.3g} {unit}".rstrip()
        return f"  {change.name}: {change.landings} {moved}"
    what = change.name if change.kind in ("measure", "approach") else f"{change.kind} {change.name}"
    return f"  {what}: {change.landings} from {change.was} to {change.now}"

"""`roundout week`: the inbox, the statistics and the edition of the last whole week."""

from datetime import UTC, datetime

from flows.commands.ingest import SOME_REFUSED
from flows.commands.terminal import AsOfOption, JsonOption, WorkspaceOption, progress, say, say_json
from flows.commands.words import edition_lines
from flows.week import week as run
from flows.workspace import Workspace


def week(*, as_of: AsOfOption = None, workspace: WorkspaceOption = None, json: JsonOption = False) -> int:
    """Ingest the inbox, and write the edition of the last ISO week that ended on or before a date.

    This is what the schedule runs. Weeks are those of UTC; landings after the week take no part.

    Parameters
    ----------
    as_of
        The date, as 2026-11-25, not after today; today (UTC) where none is given.
    """
    now = datetime.now(UTC)
    place = Workspace.at(workspace)
    with progress() as tell:
        edition = run(place, as_of or now.date(), at=now, tell=tell)
    if json:
        say_json(edition)
    else:
        for line in edition_lines(edition, place):
            say(line)
    return SOME_REFUSED if edition.ingested is not None and edition.ingested.refused else 0

"""`roundout report`: an edition again, from the warehouse."""

from datetime import UTC, datetime

from flows.commands.terminal import AsOfOption, JsonOption, WorkspaceOption, progress, say, say_json
from flows.commands.words import edition_lines
from flows.week import report as run
from flows.workspace import Workspace


def report(*, as_of: AsOfOption = None, workspace: WorkspaceOption = None, json: JsonOption = False) -> int:
    """Write the edition of the last ISO week that ended on or before a date again, and leave the inbox alone.

    The edition is made from what the warehouse holds now: of an old week too, whose landings may have been corrected
    or measured again since. Weeks are those of UTC.

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
    return 0

"""`roundout serve`: the schedules."""

from flows.commands.terminal import WorkspaceOption, say
from flows.serving import serve as run
from flows.workspace import Workspace


def serve(*, workspace: WorkspaceOption = None) -> int:
    """Run ingest and week on the schedules of the settings, until it is ended (Ctrl-C).

    Nothing is asked of any network; the scheduler listens on this machine alone.
    """
    place = Workspace.at(workspace)
    schedule = place.settings().schedule
    say(f'Workspace {place.root}: ingest "{schedule.ingest}", week "{schedule.week}", time zone {schedule.zone}.')
    run(place)
    return 0

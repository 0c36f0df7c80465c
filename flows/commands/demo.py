"""`roundout demo`: an invented scenario through the whole job."""

import time
from datetime import UTC, datetime

from flows.commands.terminal import WorkspaceOption, progress, say
from flows.commands.words import edition_lines
from flows.demo import demo as run
from flows.workspace import Workspace


def demo(*, workspace: WorkspaceOption = None, solo: bool = False, seed: int = 7) -> int:
    """Invent an operator's landings, measure them, and write the pages of their last week, in about a minute.

    Everything in it is invented: pilots, aircraft, airfields. A few of its logs are broken on purpose.

    Parameters
    ----------
    solo
        A lone pilot with one aircraft and one home runway, instead of an operator with 24 pilots.
    seed
        The same number gives the same landings.
    """
    begun = time.monotonic()
    place = Workspace.at(workspace)
    with progress() as tell:
        edition = run(place, at=datetime.now(UTC), seed=seed, solo=solo, tell=tell)
    for line in edition_lines(edition, place):
        say(line)
    first = edition.pages[0] if solo else place.reports / edition.week / "training" / "index.html"
    say(f"Done in {time.monotonic() - begun:.0f} s. Begin with {first}")
    return 0

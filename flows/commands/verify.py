"""`roundout verify`: proof that everything that is held is there."""

from collections.abc import Iterator

from flows.commands.terminal import JsonOption, WorkspaceOption, progress, say, say_json
from flows.verify import Verified
from flows.verify import verify as run
from flows.workspace import Workspace
from reports.words import counted

FAULTY = 3


def verify(*, workspace: WorkspaceOption = None, json: JsonOption = False) -> int:
    """Prove that everything that is held is there and whole, or say what is not and how to mend it.

    Each accepted log is held against its hash, each trace against the name its content gave it, and the warehouse
    against its own checks. Nothing is changed. Where anything is wrong the exit status is 3.
    """
    place = Workspace.at(workspace)
    with progress() as tell:
        done = run(place, tell=tell)
    if json:
        say_json(done)
    else:
        for line in _lines(done):
            say(line)
    return FAULTY if done.faults else 0


def _lines(done: Verified) -> Iterator[str]:
    yield f"{counted(done.logs, 'log')} held, {done.by_content} of them whole by their hash."
    if done.by_rows:
        yield f"{done.by_rows} by their rows alone: neither a hash nor a copy of them as they came is kept."
    yield (
        f"{counted(done.landings, 'landing')}, {counted(done.traces, 'file')} of traces, "
        f"{counted(done.refused, 'log')} in quarantine, {counted(done.checks, 'check')} of the warehouse."
    )
    if not done.faults:
        yield "All of it is there and whole."
        return
    yield f"{counted(len(done.faults), 'thing')} wrong:"
    yield from (f"  {fault.what}: {fault.found}; to mend it: {fault.mend}" for fault in done.faults)

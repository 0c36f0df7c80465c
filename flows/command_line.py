"""Arguments in, an exit status out: the command `roundout`.

0 done; 2 wrong usage, map, manifest, runways or settings; 3 done, but some logs were refused; 4 lock or disk, nothing
was lost. What is wrong is said in one line on standard error.
"""

import os
import sys
from collections.abc import Sequence
from importlib import metadata

from cyclopts import App, CycloptsError

WRONG_USAGE, TROUBLE, INTERRUPTED = 2, 4, 130

COMMANDS = {
    "demo": "Invent an operator's landings and carry them through the whole job, in about two minutes.",
    "init": "Make a workspace whose settings file says what every setting means.",
    "inspect": "Say what is in a log, what it can and cannot support, and what is wrong with it.",
    "measures": "Say what every measure means, in which unit, and why one may be missing.",
    "faults": "Say what each fault is judged by, with which limits, and what is published about it.",
    "ingest": "Read and measure logs, and load them into the warehouse.",
    "week": "Ingest the inbox, and write the edition of the last whole week.",
    "report": "Write an edition again from what the warehouse holds.",
    "debrief": "Write the page of one held landing's traces, with the moments found.",
    "runways": "Bring runways into the workspace from the public worldwide table.",
    "note": "Keep a remark on a landing with it, or dispute who flew it.",
    "export": "Write a table to a file: CSV, Parquet or Arrow.",
    "status": "Say what the workspace holds and what waits.",
    "retry": "Try refused logs again, after a map or manifest was mended.",
    "remeasure": "Bring held landings to the present policy, maps, runways and definition, and say what changed.",
    "verify": "Prove that everything that is held is there and whole.",
    "serve": "Run ingest and week on their schedules.",
}
"""Each command and what it does; a command's module is loaded only when it runs."""


def _version() -> str:
    try:
        return metadata.version("roundout")
    except metadata.PackageNotFoundError:
        return "not installed: run from a checkout"


app = App(
    name="roundout",
    help=(
        "Landings measured from flight logs: technique, consistency and drift, with their uncertainty, on a weekly "
        "page. Speeds are in kt, heights and distances in ft, vertical speeds in ft/min, unless a name says otherwise."
    ),
    version=_version,
    result_action="return_value",
    exit_on_error=False,
    print_error=False,
    suppress_keyboard_interrupt=False,
)
for _name, _help in COMMANDS.items():
    app.command(f"flows.commands.{_name}:{_name}", name=_name, help=_help)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command; return the exit status."""
    from flows.commands.terminal import complain  # noqa: PLC0415 - loads what `--help` does not need
    from pipeline.errors import RoundoutError  # noqa: PLC0415

    try:
        return app(arguments) or 0
    except CycloptsError as error:
        complain(f"{error} (roundout --help says how)")
        return WRONG_USAGE
    except RoundoutError as error:
        complain(str(error))
        return error.exit_status
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # whoever read our words has had enough
        return 0
    except OSError as error:
        complain(f"the disk or the system refused: {error}; nothing was lost, run again")
        return TROUBLE
    except KeyboardInterrupt:
        complain("interrupted; nothing was lost, run again")
        return INTERRUPTED

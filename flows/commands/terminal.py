"""Words and progress in, a terminal out: results on standard output, progress on standard error for a person."""

import dataclasses
import json
import re
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter, Token
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, SpinnerColumn, TextColumn, TimeElapsedColumn

from flows.progress import Progress as Tell


def named_folder(_type: object, tokens: Sequence[Token]) -> Path:
    """Return the folder an argument names; a blank one names none, though it would be read as this folder.

    Raises
    ------
    ValueError
        It is blank.
    """
    (token,) = tokens
    if not token.value.strip():
        message = "no folder is named; write its path, or . for this folder"
        raise ValueError(message)
    return Path(token.value)


def named_day(_type: object, tokens: Sequence[Token]) -> date:
    """Return the date an argument writes as 2026-11-25, and no other way.

    Raises
    ------
    ValueError
        It is written in another way, such as a week, or is after today (UTC).
    """
    (token,) = tokens
    if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", token.value):
        message = f"{token.value!r} is no date; write it as 2026-11-25, for a week any date from its Sunday on"
        raise ValueError(message)
    day = date.fromisoformat(token.value)
    if day > (today := datetime.now(UTC).date()):
        message = f"{day} is to come, and an edition stands on a week that is over; today is {today} (UTC)"
        raise ValueError(message)
    return day


WorkspaceOption = Annotated[
    Path | None,
    Parameter(
        name="--workspace",
        help="Folder of the workspace; else ROUNDOUT_WORKSPACE, else ./data.",
        converter=named_folder,
    ),
]
AsOfOption = Annotated[date | None, Parameter(name="--as-of", converter=named_day)]
JsonOption = Annotated[bool, Parameter(name="--json", negative="", help="Print JSON for a program to read.")]

STEPS = {
    "inventing": "inventing approaches",
    "reading": "reading logs",
    "learning": "learning gears and recorders",
    "measuring": "measuring logs",
    "verifying": "holding logs against their hashes",
    "weighing": "weighing the landings",
    "drawing": "drawing the pages",
}


def readable(text: str) -> str:
    """Return `text` with every sign that could steer a terminal, or that is no text, spelled out."""
    return "".join(sign if sign.isprintable() or sign == "\n" else f"\\x{ord(sign):02x}" for sign in text)


def say(text: str = "") -> None:
    """Print a line of the result."""
    sys.stdout.write(readable(text) + "\n")


def complain(text: str) -> None:
    """Print one line of what is wrong on standard error."""
    sys.stderr.write("roundout: " + readable(" ".join(text.split())) + "\n")


def say_json(content: object) -> None:
    """Print a dataclass, mapping or sequence as JSON; instants in ISO form, paths as text."""
    sys.stdout.write(json.dumps(content, default=_plain, ensure_ascii=True, indent=2) + "\n")


def _plain(value: object) -> object:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: getattr(value, field.name) for field in dataclasses.fields(value)}
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return dict(value)
    return str(value)


@contextmanager
def progress() -> Iterator[Tell]:
    """Show how far a run is while the block runs, on a terminal only."""
    console = Console(stderr=True)
    columns = (
        SpinnerColumn(),
        TextColumn("{task.description}"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeElapsedColumn(),
    )
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as bar:
        tasks = {step: bar.add_task(words, total=None, visible=False) for step, words in STEPS.items()}

        def tell(step: str, done: int, of: int) -> None:
            bar.update(tasks[step], completed=done, total=of or None, visible=True)

        yield tell

"""`roundout measures`: what is measured, what each number means, and why one may be missing."""

from collections.abc import Iterator

from rich import box
from rich.console import Console
from rich.table import Table

from flows.commands.terminal import JsonOption, say, say_json
from pipeline.errors import SettingsError
from pipeline.measures.table import DEFINITION, GROUPS, MEASURES, Measure
from reports.words import REASON_WORDS

_WIDE = 200
"""Columns of a page that is not a terminal."""


def measures(*names: str, json: JsonOption = False) -> int:
    """Say what every measure means, by the part of the landing it belongs to.

    A measure `m` stands in exports beside `m_u`, its standard uncertainty in the same unit, where it is a number, or
    `m_confidence`, from 0 to 1, where it is yes or no, a count or words; and beside `m_reason` where it is null.

    Parameters
    ----------
    names
        Parts of names: only measures whose name holds one of them.
    """
    for part in names:
        if not any(part in measure.name for measure in MEASURES):
            message = f'no measure\'s name holds "{part}"; roundout measures lists all'
            raise SettingsError(message)
    chosen = {m.name for m in MEASURES if not names or any(part in m.name for part in names)}
    if json:
        say_json({"definition": DEFINITION, "measures": _rows(chosen), "reasons": REASON_WORDS})
        return 0
    console = Console(highlight=False)
    if not console.is_terminal:
        console.width = _WIDE
    for group, held in GROUPS.items():
        shown = [measure for measure in held if measure.name in chosen]
        if shown:
            console.print(_table(group, shown))
    say(f"Definition {DEFINITION}. Where a measure is null, its reason is one of:")
    for line in _reasons():
        say(line)
    return 0


def _table(group: str, held: list[Measure]) -> Table:
    table = Table(title=group, title_justify="left", box=box.SIMPLE, pad_edge=False)
    for heading in ("measure", "unit", "meaning"):
        table.add_column(heading, overflow="fold", no_wrap=heading != "meaning")
    for measure in held:
        table.add_row(measure.name, measure.unit or {"number": "-"}.get(measure.kind, measure.kind), measure.meaning)
    return table


def _rows(chosen: set[str]) -> list[dict[str, str]]:
    return [
        {
            "measure": measure.name,
            "part": group,
            "unit": measure.unit,
            "kind": measure.kind,
            "title": measure.title,
            "meaning": measure.meaning,
            "quality": measure.quality,
            "reason": measure.reason,
        }
        for group, held in GROUPS.items()
        for measure in held
        if measure.name in chosen
    ]


def _reasons() -> Iterator[str]:
    width = max(len(reason) for reason in REASON_WORDS)
    return (f"  {reason:<{width}}  {words}" for reason, words in REASON_WORDS.items())

"""Results of a run in, lines for a person out."""

from collections.abc import Iterator, Mapping
from pathlib import Path

from flows.ingest import Ingested
from flows.week import Edition
from flows.workspace import Workspace
from reports.words import counted

LISTED = 10


def ingested_lines(done: Ingested, workspace: Workspace) -> Iterator[str]:
    """Say what an ingest did."""
    yield (
        f"{counted(len(done.accepted), 'log')} read, {counted(done.landings, 'landing')} measured"
        f"{_beside(done)}; {done.new} new or changed."
    )
    if done.remeasured:
        yield f"Measured again, since a manifest says something new of them: {_some(done.remeasured)}."
    if done.overruled:
        yield f"Older in a manifest than what was said later and stands: {_some(done.overruled)}."
    if done.without_landing:
        yield f"Without a landing: {_some(done.without_landing)}."
    if done.copies:
        yield f"Copies of logs read in this run: {_some(done.copies)}."
    if done.suspect:
        yield f"{counted(len(done.suspect), 'log')} suspect: what rests on these channels is not measured."
        yield from (f"  {name}: {why}" for name, why in done.suspect[:LISTED])
        if len(done.suspect) > LISTED:
            yield f"  and {len(done.suspect) - LISTED} more; `roundout export logs` lists them all"
    if done.unread_reports:
        told = [f"{name} ({found})" for name, found in done.unread_reports]
        yield f"Weather reports that told no wind: {_some(told)}."
    if done.left_aside:
        yield f"Left aside: {_some([Path(path).name for path in done.left_aside])}."
    if done.refused:
        yield f"Refused, kept in {workspace.quarantine} with the reason:"
        yield from (f"  {reason_line(name, reason)}" for name, reason in done.refused)


def edition_lines(edition: Edition, workspace: Workspace) -> Iterator[str]:
    """Say what a weekly run did."""
    if edition.ingested is not None:
        yield from ingested_lines(edition.ingested, workspace)
    flags = counted(edition.open_flags, "flag")
    yield f"Edition {edition.week}: {counted(len(edition.pages), 'page')}, {flags} open. Pages, one audience a folder:"
    folder = workspace.reports / edition.week
    yield from (
        f"  {path}" for path in dict.fromkeys(folder / page.relative_to(folder).parts[0] for page in edition.pages)
    )
    if edition.older_landings:
        yield older_line(edition.older_landings, {})


def older_line(approaches: int, causes: Mapping[str, int]) -> str:
    """Say that held approaches rest on older rules, on which, and what brings them to the present."""
    listed = ", ".join(f"{cause} {count}" for cause, count in causes.items())
    return (
        f"{counted(approaches, 'approach', 'approaches')} held that rest on older rules"
        f"{f' ({listed})' if listed else ''}: `roundout remeasure` measures them again; --dry-run first says what "
        "would change."
    )


def _beside(done: Ingested) -> str:
    others = done.approaches - done.landings
    return f" and {counted(others, 'approach without contact', 'approaches without contact')}" if others else ""


def _some(names: list[str]) -> str:
    more = len(names) - LISTED
    return ", ".join(names[:LISTED]) + (f" and {more} more" if more > 0 else "")


def reason_line(name: str, reason: str) -> str:
    """Return a reason that begins with the name of what it is about."""
    return reason if reason.startswith(name) else f"{name}: {reason}"

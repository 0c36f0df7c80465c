"""`roundout status`: what the workspace holds, and what waits."""

from collections.abc import Iterator
from typing import Any

import polars as pl

from flows.commands.terminal import JsonOption, WorkspaceOption, say, say_json
from flows.commands.words import LISTED, older_line
from flows.discovery import discover
from flows.standing import by_cause, older, standing
from flows.workspace import Workspace
from pipeline.errors import RoundoutError
from reports.words import counted
from warehouse.checks import failed, run_checks
from warehouse.database import reader
from warehouse.marts import read


def status(*, workspace: WorkspaceOption = None, json: JsonOption = False) -> int:
    """Say what the workspace holds and what waits in the inbox.

    Instants are UTC.
    """
    place = Workspace.at(workspace)
    waiting = [log.name for log in discover(place.inbox, ()).logs] if place.inbox.is_dir() else []
    with reader(place.database) as con:
        held = read(con, "status").row(0, named=True)
        refused = read(con, "refusals").rows(named=True)
        offending = failed(run_checks(con))
        suspect = read(con, "logs").filter(pl.col("suspect").is_not_null()).select("log_file", "suspect_why").rows()
    told = {
        **held,
        "suspect": suspect,
        **_older(place),
        "waiting": waiting,
        "refusals": refused,
        "checks_failed": offending,
    }
    if json:
        say_json(told)
    else:
        for line in _lines(place, told):
            say(line)
    return 0


def _older(place: Workspace) -> dict[str, Any]:
    """What rests on older rules, or why that cannot be told: a map or the runways may be amid being mended."""
    try:
        rows = standing(place)
    except RoundoutError as error:
        return {"older": None, "older_by_cause": {}, "older_unknown": str(error)}
    return {"older": older(rows)["landing_id"].count(), "older_by_cause": by_cause(rows), "older_unknown": None}


def _lines(place: Workspace, told: dict[str, Any]) -> Iterator[str]:
    yield f"Workspace {place.root}"
    yield (
        f"{counted(told['logs'], 'log')} held, {told['logs_without_landing']} without a landing; "
        f"{counted(told['landings'], 'landing')} of {counted(told['pilots'], 'pilot')}, "
        f"{told['landings_without_pilot']} without a pilot; {counted(told['go_arounds'], 'go-around')}."
    )
    if told["first_contact_at"] is not None:
        yield f"Landings from {told['first_contact_at']:%Y-%m-%d} to {told['last_contact_at']:%Y-%m-%d} (UTC)."
    if told["landings_without_instant"]:
        yield f"{told['landings_without_instant']} without a date: their logs and the manifest tell none."
    if told["suspect"]:
        yield f"{counted(len(told['suspect']), 'log')} suspect:"
        yield from (f"  {name}: {why}" for name, why in told["suspect"][:LISTED])
        if len(told["suspect"]) > LISTED:
            yield f"  and {len(told['suspect']) - LISTED} more; `roundout export logs` lists them all"
    if told["older_unknown"]:
        yield f"What rests on older rules cannot be told: {told['older_unknown']}."
    if told["older_by_cause"]:
        yield older_line(told["older"], told["older_by_cause"])
    yield f"Last edition: {told['last_edition'] or 'none yet'}."
    yield f"{counted(len(told['waiting']), 'log')} in the inbox."
    if told["refusals"]:
        yield f"{counted(len(told['refusals']), 'log')} refused:"
        yield from (
            f"  {row['log_file']}: {row['reason'].removeprefix(row['log_file'] + ': ')}" for row in told["refusals"]
        )
    for name, rows in told["checks_failed"].items():
        yield f"Check {name} finds {counted(rows, 'row')} it should not."

"""Refused logs in; out: each in quarantine with its reason beside it, and a row of the warehouse; and back again."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import polars as pl

from flows.discovery import Found, LogFile, as_text
from flows.files import copy_atomically, move, safe_name, sync_folder, write_atomically
from flows.intake import Refused
from flows.workspace import Workspace
from warehouse.database import writer
from warehouse.frames import REFUSAL
from warehouse.load import drop_refusals, load_refusals

REASON = ".reason.txt"


def set_aside(workspace: Workspace, refused: Iterable[Refused], *, at: datetime) -> None:
    """Keep each refused log with its reason; logs of the inbox are moved, others copied.

    The reason and the row come before the move, so that a run that is killed amid this finds the log where it was.
    """
    refusals = list(refused)
    if not refusals:
        return
    rows = [(one.log_sha256, one.log.name, as_text(one.reason)) for one in refusals]
    with writer(workspace.database) as con:
        load_refusals(con, pl.DataFrame(rows, schema=REFUSAL, orient="row"), at=at)
    for one in refusals:
        target = place(workspace, one.log_sha256, one.log.name)
        reason = as_text(f"{one.log.name}\n{one.reason}\n")
        write_atomically(target.with_name(target.name + REASON), reason.encode())
        if one.log.owned:
            move(one.log.path, target)
        elif one.log.path.is_file():
            copy_atomically(one.log.path, target)
    sync_folder(workspace.quarantine)


def forget(workspace: Workspace, mended: Iterable[tuple[str, str]]) -> None:
    """Take what was refused (hash, name) and has come back with another content out of quarantine and warehouse."""
    rows = list(mended)
    if not rows:
        return
    with writer(workspace.database) as con:
        drop_refusals(con, pl.DataFrame(rows, schema=["log_sha256", "log_file"], orient="row"))
    for sha256, name in rows:
        path = place(workspace, sha256, name)
        for file in (path, path.with_name(path.name + REASON)):
            file.unlink(missing_ok=True)


def release(workspace: Workspace, log_sha256: str) -> None:
    """Take a log that is accepted now out of quarantine; the accepted one is kept with the logs."""
    for path in workspace.quarantine.glob(f"{log_sha256[:12]}-*"):
        path.unlink()


def place(workspace: Workspace, log_sha256: str, name: str) -> Path:
    """Return where a refused log is kept."""
    return workspace.quarantine / f"{log_sha256[:12]}-{safe_name(name)}"


def returned(found: Found, refusals: pl.DataFrame, workspace: Workspace) -> Found:
    """Give logs that come back from quarantine the names they first came with.

    `refusals` has the rows of that mart: a log that bears the name of its place in quarantine, wherever it lies now, is
    that refused log, also where it was mended by hand.
    """
    first = {
        place(workspace, sha256, name).name: (name, sha256)
        for sha256, name in refusals.select("log_sha256", "log_file").iter_rows()
    }

    def under_first_name(log: LogFile) -> LogFile:
        if log.path.name not in first:
            return log
        name, sha256 = first[log.path.name]
        return replace(log, name=name, came_as=workspace.inbox / name, refused_as=sha256)

    return replace(
        found,
        logs=tuple(under_first_name(log) for log in found.logs),
        growing=tuple(under_first_name(log) for log in found.growing),
    )

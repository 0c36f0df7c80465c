"""A workspace and a date in; out: the inbox ingested, statistics stored, the edition of the last whole week written."""

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from pathlib import Path

import polars as pl

from flows.edition import drop_old, edition_data, stock
from flows.engine import Spread
from flows.ingest import Ingested, ingest
from flows.preparing import Given
from flows.progress import Progress
from flows.renewal import renew
from flows.standing import older, standing
from flows.workspace import Workspace
from pipeline.errors import SettingsError
from pipeline.statistics.week import weekly_statistics
from reports.edition import write_edition
from warehouse.database import writer
from warehouse.results import load_edition, load_results


@dataclass(frozen=True)
class Edition:
    """What a weekly run did: the ISO week, its last day, the pages, the flags open now, and what was ingested.

    `ingested` is None where the inbox was left alone. `older_landings`: approaches held that rest on older rules than
    the present ones.
    """

    week: str
    as_of: date
    pages: tuple[Path, ...]
    open_flags: int
    ingested: Ingested | None = None
    older_landings: int = 0


def last_whole_week(as_of: date) -> tuple[str, date]:
    """Return the last ISO week that ended on or before `as_of`, and its Sunday.

    >>> last_whole_week(date(2026, 11, 25))
    ('2026-W47', datetime.date(2026, 11, 22))
    """
    if as_of < date(1970, 1, 5):
        message = f"--as-of {as_of}: no log is that old; give a date from 1970-01-05 on"
        raise SettingsError(message)
    sunday = as_of - timedelta(days=as_of.isoweekday() % 7)
    year, number, _ = sunday.isocalendar()
    return f"{year}-W{number:02d}", sunday


def week(
    workspace: Workspace,
    as_of: date,
    *,
    at: datetime,
    given: Given | None = None,
    spread: Spread | None = None,
    tell: Progress | None = None,
) -> Edition:
    """Ingest the inbox, and write the edition of the last ISO week (UTC) that ended on or before `as_of`.

    Landings after that week's Sunday take no part, so that a date gives the same pages whenever it is run. Where gear
    and instruments are known from half the landings that are held, they are learned anew first.

    Parameters
    ----------
    at : UTC instant of this run, noted with new rows.
    given, spread, tell : as for ingest.

    Raises
    ------
    SettingsError, MapError, ManifestError
        The settings or a table of the inbox cannot be used; nothing was moved, loaded or written.
    StoreError
        Another run holds the workspace, or the disk refused; nothing was lost.
    """
    ingested = ingest(workspace, at=at, given=given, spread=spread, tell=tell)
    renew(workspace, at=at, spread=spread, tell=tell)
    return replace(report(workspace, as_of, at=at, tell=tell), ingested=ingested)


def report(workspace: Workspace, as_of: date, *, at: datetime, tell: Progress | None = None) -> Edition:
    """Write the edition of the last ISO week (UTC) that ended on or before `as_of` from what the warehouse holds.

    The inbox is left alone; the statistics are those of now, over the landings up to that week's Sunday.

    Parameters
    ----------
    at : UTC instant of this run, noted with the edition.
    tell : told how far the run is.

    Raises
    ------
    SettingsError
        The settings cannot be used, or the workspace holds nothing yet.
    StoreError
        Another run holds the workspace, or the disk refused; nothing was lost.
    """
    workspace.require_warehouse()
    name, sunday = last_whole_week(as_of)
    with workspace.held():
        held = stock(workspace, as_of=sunday)
        _say(tell, "weighing")
        found = weekly_statistics(held.landings, held.faults, as_of=sunday)
        with writer(workspace.database) as con:
            load_results(con, sunday, found, inputs_sha256=held.inputs_sha256)
        _say(tell, "drawing")
        data = edition_data(workspace, held, found, week=name, as_of=sunday)
        pages = write_edition(workspace.reports / name, data)
        with writer(workspace.database) as con:
            load_edition(con, sunday, week=name, inputs_sha256=held.inputs_sha256, at=at)
        drop_old(workspace, workspace.settings().keep.editions)
        older_landings = older(standing(workspace))["landing_id"].count()
    flags = found.drift_flag.filter(pl.col("open")).height
    return Edition(name, sunday, tuple(pages), flags, older_landings=older_landings)


def _say(tell: Progress | None, step: str) -> None:
    if tell is not None:
        tell(step, 0, 0)

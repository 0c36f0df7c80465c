"""Logs about to be measured in; out: the constants of gear and instruments to measure them with.

An installation of which nothing is known yet is learned from the logs that are there.
Which logs teach is told by their hashes, so that the same logs in any order teach the same. What is learned is stored
before anything is measured with it: a run after a kill measures with the same.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import polars as pl

from flows.engine import Spread
from flows.intake import Tabled
from flows.measured_logs import Known, recordings_of
from flows.workspace import Workspace
from pipeline.constants import MOST, SEEN, installation_of, learned
from pipeline.errors import LogError, MapError, StoreError
from pipeline.learning import constants_seen
from pipeline.policy import Policy
from pipeline.recording import Recording
from warehouse.constants import current_constants, keep_constants
from warehouse.database import writer

Installation = tuple[str, str]


@dataclass(frozen=True)
class Learning:
    """The logs one installation is learned from, in the order they are read; the files as in measuring."""

    logs: tuple[Tabled, ...]
    context: Path
    runways: Path
    policy: Policy


def constants_for(
    workspace: Workspace, logs: Sequence[Tabled], tables: tuple[Path, Path, Policy], *, spread: Spread, at: datetime
) -> pl.DataFrame:
    """Return the constants held, after learning those of installations in `logs` that have none.

    `tables`: the context rows and runways as Parquet, and the policy.
    """
    with writer(workspace.database) as con:
        held = current_constants(con)
    known = set(held.select("recorder", "aircraft_type").iter_rows())
    wanted = {key: some for key, some in by_installation(logs, pl.read_parquet(tables[0])).items() if key not in known}
    return learn(workspace, wanted, tables, spread=spread, at=at) if wanted else held


def learn(
    workspace: Workspace,
    wanted: dict[Installation, list[Tabled]],
    tables: tuple[Path, Path, Policy],
    *,
    spread: Spread,
    at: datetime,
) -> pl.DataFrame:
    """Learn the constants of each installation from its logs, keep them, and return all that are held."""
    jobs = [Learning(tuple(some), *tables) for _, some in sorted(wanted.items())]
    told = [row for rows in spread(see, jobs) for row in rows]
    found = learned(pl.DataFrame(told, schema=SEEN, orient="row"))
    of_these = pl.DataFrame(list(wanted), schema={"recorder": pl.String, "aircraft_type": pl.String}, orient="row")
    with writer(workspace.database) as con:
        keep_constants(con, found.join(of_these, on=["recorder", "aircraft_type"], how="semi"), at=at)
        return current_constants(con)


def by_installation(logs: Sequence[Tabled], context: pl.DataFrame) -> dict[Installation, list[Tabled]]:
    """Part logs by the installation their manifest rows and maps tell, each part in the order of the logs' hashes."""
    names = [name for name in ("recorder", "aircraft_type") if name in context.columns]
    stated = {row["log_sha256"]: row for row in context.select("log_sha256", *names).iter_rows(named=True)}
    parts: defaultdict[Installation, list[Tabled]] = defaultdict(list)
    for log in sorted(logs, key=lambda one: one.log_sha256):
        row = stated.get(log.log_sha256, {})
        parts[installation_of(row.get("recorder"), log.channel_map.sha256, row.get("aircraft_type"))].append(log)
    return dict(parts)


def see(job: Learning) -> list[tuple[str | float, ...]]:
    """What the landings of the job's logs tell, rows of SEEN, until enough have told."""
    known = Known(pl.read_parquet(job.context, glob=False), pl.read_parquet(job.runways, glob=False), job.policy)
    try:
        return constants_seen(_read(job.logs, known), known, most=MOST).rows()
    except StoreError:
        raise
    except Exception:  # measuring tells which log is at fault and refuses it; until then nothing is learned here
        return []


def _read(logs: Sequence[Tabled], known: Known) -> Iterator[Recording]:
    """Recordings of the logs that can be read; measuring refuses the others."""
    dates = known.dates()
    for log in logs:
        try:
            yield from recordings_of(log, dates)
        except (LogError, MapError):
            continue

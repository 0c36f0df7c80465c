"""Held landings that rest on older rules in; out: the same measured by the present ones, and what that changed.

A log is measured again as a whole where anything of it rests on an older policy, map, runway, definition or constants.
Each batch is loaded at once, so that a run that is killed has done what it has done, and the next does the rest. The
measurements before stay, superseded.
"""

import shutil
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from datetime import datetime

import polars as pl

from flows.acceptance import Accepting, accept
from flows.batches import Staged
from flows.changes import Change, State, changes, summary
from flows.engine import Spread, spread_for
from flows.held import Held
from flows.intake import Refused, Tabled
from flows.landing_names import logs_named
from flows.manifests import Statements
from flows.maps import Maps
from flows.measuring_run import Rules, measured
from flows.progress import Progress, silent
from flows.runways import kept_runways
from flows.settings import Settings
from flows.standing import Present, by_cause, older, present_maps, standing
from flows.workspace import Workspace
from pipeline.errors import MapError
from pipeline.reading.channel_map import require_columns
from warehouse.database import reader, writer
from warehouse.marts import read

ROUNDS = 3
"""Constants learned in a run make landings older that were not; after so many rounds the next run does the rest."""


@dataclass(frozen=True)
class Asked:
    """What is to be measured again.

    `names`: landings or logs, as `logs_named` reads them; all where there is none. `again`: also what rests on the
    present rules. `dry_run`: say what would change and keep nothing.
    """

    names: Sequence[str] = ()
    again: bool = False
    dry_run: bool = False


@dataclass
class Remeasured:
    """What a run did, or with `dry_run` would do.

    `held`: approaches looked at. `causes`: how many rest on older rules, by rule; a log without an approach counts as
    one. `logs`, `approaches`: how many were measured again. `refused`: logs that cannot be measured by the present
    rules, which stay as they were, and why. `changed`: what became another, counted; `flips`: each approach that was
    found otherwise, or judged otherwise at a gate or of a fault. `still_older`: approaches that rest on older rules
    after the run.
    """

    dry_run: bool
    held: int = 0
    causes: dict[str, int] = field(default_factory=dict)
    logs: int = 0
    approaches: int = 0
    refused: list[tuple[str, str]] = field(default_factory=list)
    changed: tuple[Change, ...] = ()
    changed_landings: int = 0
    flips: list[dict[str, str]] = field(default_factory=list)
    still_older: int = 0


@dataclass(frozen=True)
class _Run:
    workspace: Workspace
    settings: Settings
    maps: Maps
    present: Present
    statements: Statements
    spread: Spread | None
    tell: Progress


def remeasure(
    workspace: Workspace,
    asked: Asked,
    *,
    at: datetime,
    spread: Spread | None = None,
    tell: Progress | None = None,
) -> Remeasured:
    """Measure held landings again that rest on anything older than the present rules.

    Parameters
    ----------
    asked : which landings, and whether anything is kept.
    at : UTC instant of this run, noted with new rows.
    spread, tell : as for ingest.

    Raises
    ------
    SettingsError, MapError, ManifestError
        The settings, a map or the runways cannot be used, or a name means no log; nothing was changed.
    StoreError
        Another run holds the workspace, or the disk refused; nothing was lost.
    """
    workspace.require_warehouse()
    with workspace.held():
        shutil.rmtree(workspace.staging, ignore_errors=True)
        with writer(workspace.database):
            pass  # a warehouse of an older program is brought up to date
        maps, runways = present_maps(workspace), kept_runways(workspace)
        run = _Run(
            workspace,
            workspace.settings(),
            maps,
            Present.of(workspace, maps, runways),
            Statements(workspace.statements_file, workspace.said_file),
            spread,
            tell or silent,
        )
        result = Remeasured(asked.dry_run)
        try:
            _bring_up(run, asked, result, at=at)
        finally:
            shutil.rmtree(workspace.staging, ignore_errors=True)
        return result


def _bring_up(run: _Run, asked: Asked, result: Remeasured, *, at: datetime) -> None:
    """Measure what is older, round after round, until nothing is that can be."""
    rows = _chosen(run, asked.names)
    result.held, result.causes = rows["landing_id"].count(), by_cause(rows)
    parts: list[pl.DataFrame] = []
    bad: set[str] = set()
    for turn in range(1 if result.dry_run else ROUNDS):
        wanted = rows if asked.again and turn == 0 else older(rows)
        todo = [sha256 for sha256 in wanted["log_sha256"].unique(maintain_order=True) if sha256 not in bad]
        if not todo:
            break
        refused = _measure(run, todo, result, parts, at=at)
        bad.update(one.log_sha256 for one in refused)
        result.refused += [(one.log.name, one.reason) for one in refused]
        if not result.dry_run:
            rows = _chosen(run, asked.names)
    if not result.dry_run:
        _drop_traces(run.workspace)
    result.still_older = older(rows)["landing_id"].count()
    result.changed = summary(parts)
    changed = pl.concat(parts) if parts else pl.DataFrame(schema={"landing_id": pl.String, "kind": pl.String})
    result.changed_landings = changed["landing_id"].n_unique()
    result.flips = changed.filter(pl.col("kind") != "measure").drop("shift", strict=False).to_dicts()


def _chosen(run: _Run, names: Sequence[str]) -> pl.DataFrame:
    rows = standing(run.workspace, run.present)
    return rows.filter(pl.col("log_sha256").is_in(logs_named(rows, names))) if names else rows


def _measure(
    run: _Run, todo: Sequence[str], result: Remeasured, parts: list[pl.DataFrame], *, at: datetime
) -> list[Refused]:
    """Measure the logs, hold each batch against what is held, and load it unless nothing is to be kept."""
    ready, refused = _ready(run, todo)
    accepting = Accepting(run.workspace, run.maps, keep_originals=run.settings.keep.originals)
    for staged in measured(ready, run.statements.of(todo), _rules(run, len(ready), result.dry_run), at=at):
        landings = staged.frame("landings")
        after = State(landings, staged.frame("gates"), staged.frame("faults"))
        parts.append(changes(_state(run.workspace, staged), after))
        result.logs += len(staged.read)
        result.approaches += landings.height
        refused += staged.refused
        if not result.dry_run:
            accept(staged, accepting, at=at)
            run.present.looked.note((log.log_sha256 for log in staged.read), run.present.runways)
            run.present.looked.save()
    return refused


def _rules(run: _Run, logs: int, dry_run: bool) -> Rules:  # noqa: FBT001 - a run's own
    """The rules of the run; with a warehouse of its own for what is learned where nothing is to be kept."""
    place = _trial(run.workspace) if dry_run else run.workspace
    spread = run.spread or spread_for(run.settings.engine, logs)
    return Rules(place, run.settings, run.present.runways, spread, run.tell)


def _trial(workspace: Workspace) -> Workspace:
    """A workspace amid the staged work, with a copy of the warehouse."""
    trial = Workspace(workspace.staging / "trial")
    trial.staging.mkdir(parents=True)
    for ending in ("", ".wal"):
        held = workspace.database.with_name(workspace.database.name + ending)
        if held.exists():
            shutil.copyfile(held, trial.root / held.name)
    return trial


def _ready(run: _Run, todo: Collection[str]) -> tuple[list[Tabled], list[Refused]]:
    """The logs with their present maps; and those that are gone, or that their present map does not fit."""
    held = Held.by(run.workspace)
    map_names = dict(held.logs.select("log_sha256", "map_name").iter_rows())
    ready: list[Tabled] = []
    refused: list[Refused] = []
    for sha256 in todo:
        channel_map = run.present.maps.get(map_names[sha256])
        log = held.again(sha256, run.workspace.logs, run.maps, channel_map=channel_map)
        if log is None:
            refused.append(held.missing(sha256, run.workspace.logs))
            continue
        try:
            require_columns(log.channel_map, log.table.columns, log_file=log.log.name)
        except MapError as error:
            refused.append(Refused(log.log, sha256, str(error)))
        else:
            ready.append(log)
    return ready, refused


def _state(workspace: Workspace, staged: Staged) -> State:
    """What is held now of the logs of a batch."""
    with reader(workspace.database) as con:
        landings = read(con, "approaches", where={"log_sha256": [log.log_sha256 for log in staged.read]})
        ids = {"landing_id": landings["landing_id"].to_list()}
        return State(landings, read(con, "gate_verdicts", where=ids), read(con, "faults", where=ids))


def _drop_traces(workspace: Workspace) -> None:
    """Take away files of traces that no landing is in any more."""
    with reader(workspace.database) as con:
        named = set(read(con, "trace_files")["trace_file"])
    for file in workspace.traces.glob("*.parquet"):
        if file.name not in named:
            file.unlink()

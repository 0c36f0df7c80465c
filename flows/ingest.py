"""Logs in, rows of the warehouse out: what the inbox or the given places hold is read, measured, loaded, moved on.

Nothing is moved or loaded before every table and map was found good. After that each log stands for itself: a bad one
is refused and the rest go on. A run may be killed at any moment; the next one does what is left.
"""

import shutil
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

import polars as pl

from flows.acceptance import Accepting, accept, move_on
from flows.batches import Staged
from flows.discovery import LogFile
from flows.engine import Spread
from flows.held import Held
from flows.intake import Refused, Tabled
from flows.looked import Looked
from flows.manifests import Statements, source_of
from flows.measuring_run import Rules, measured
from flows.preparing import Given, Run, prepare
from flows.privacy import rewrite_names
from flows.progress import Progress, silent
from flows.quarantine import forget, set_aside
from flows.runways import keep_runways
from flows.taking import Taken, take_all
from flows.workspace import Workspace
from pipeline.wind import READ


@dataclass
class Ingested:
    """What a run did, in names of logs as they were found.

    `accepted` were read and measured, `copies` hold what another log holds, `remeasured` were held already and a
    manifest says something new of them, `overruled` have an older row in a manifest than the one that stands,
    `left_aside` are files that are neither log nor table, and exposure tables outside the inbox. `suspect` has logs
    with a channel that is not to be believed, and the reasons; `unread_reports` logs whose weather report told no wind,
    and why. `approaches` and `landings` count what was measured, `new` how many of the approaches the warehouse did not
    hold like this before.
    """

    accepted: list[str] = field(default_factory=list)
    refused: list[tuple[str, str]] = field(default_factory=list)
    copies: list[str] = field(default_factory=list)
    remeasured: list[str] = field(default_factory=list)
    overruled: list[str] = field(default_factory=list)
    without_landing: list[str] = field(default_factory=list)
    left_aside: list[str] = field(default_factory=list)
    suspect: list[tuple[str, str]] = field(default_factory=list)
    unread_reports: list[tuple[str, str]] = field(default_factory=list)
    approaches: int = 0
    landings: int = 0
    new: int = 0


def ingest(
    workspace: Workspace,
    paths: Sequence[Path] = (),
    *,
    at: datetime,
    given: Given | None = None,
    spread: Spread | None = None,
    tell: Progress | None = None,
) -> Ingested:
    """Ingest the inbox, or the files and folders in `paths`.

    Parameters
    ----------
    workspace : made where it is missing.
    paths : logs of the inbox are moved on once loaded; all others are copied and never touched.
    at : UTC instant of this run, noted with new rows.
    given : what the command line names beside the logs.
    spread : how batches are done; None leaves it to the settings.
    tell : told how far the run is.

    Raises
    ------
    SettingsError, MapError, ManifestError
        The settings, a path, map, manifest or runway table cannot be used; nothing was moved or loaded.
    StoreError
        Another run holds the workspace, or the disk refused; nothing was lost.
    """
    with workspace.held():
        run = prepare(workspace, paths, given=given or Given(), spread=spread, tell=tell or silent)
        taken = take_all(run)
        exposures = (path for path in run.found.named("exposure.csv") if path != workspace.exposure_file)
        result = Ingested(left_aside=[str(path) for path in (*run.found.left_aside, *exposures)])
        statements = Statements(workspace.statements_file, workspace.said_file)
        again = _said_anew(run, taken, statements, result, at=at)
        result.remeasured = [log.log.name for log in again]
        run.pseudonyms.save()
        unread = _measure(run, [*taken.firsts, *again], statements, result, at=at)
        refused = [*taken.refused, *unread]
        refused += taken.copies_of(refused)
        set_aside(workspace, refused, at=at)
        result.refused = [(one.log.name, one.reason) for one in refused]
        result.copies = _finish(run, taken, statements, refused)
        return result


def _said_anew(run: Run, taken: Taken, statements: Statements, result: Ingested, *, at: datetime) -> list[Tabled]:
    """Take down what the manifests say; return the held logs, not in this run, of which they say something new."""
    came = {log.log.path: log.log_sha256 for log in (*taken.firsts, *taken.copies)}
    by_path = came | {one.log.path: one.log_sha256 for one in taken.refused}
    again: list[Tabled] = []
    for manifest in run.manifests:
        here = {name: by_path[log.path] for name, log in manifest.logs.items() if log.path in by_path}
        held = {name: sha256 for name, sha256 in run.held.sha256_of().items() if name not in manifest.logs}
        names = {**held, **here}
        source = source_of(manifest.file, run.workspace.root)
        news = statements.add(manifest.rows, names, source=source, at=at)
        result.overruled += sorted(name for name, sha256 in names.items() if sha256 in news.overruled)
        for sha256 in sorted(news.changed - set(by_path.values())):
            log = run.held.again(sha256, run.workspace.logs, run.maps)
            if log is not None:
                again.append(log)
    return again


def _measure(
    run: Run, logs: Sequence[Tabled], statements: Statements, result: Ingested, *, at: datetime
) -> list[Refused]:
    """Measure and load the logs batch by batch; return those that could not be read."""
    context = statements.of(log.log_sha256 for log in logs)
    rules = Rules(run.workspace, run.settings, run.runways, run.spread, run.tell)
    accepting = _accepting(run)
    refused: list[Refused] = []
    for staged in measured(logs, context, rules, at=at):
        loaded = accept(staged, accepting, at=at)
        result.new += loaded.measured + loaded.restored
        _count(staged, result)
        refused += staged.refused
    return refused


def _count(staged: Staged, result: Ingested) -> None:
    landings = staged.frame("landings")
    grounded = landings.filter(pl.col("landing_index").is_not_null())
    with_landing = set(grounded["log_sha256"])
    why = _suspicions(staged.frame("channel_quality"))
    result.unread_reports += _unread_reports(landings)
    result.approaches += landings.height
    result.landings += grounded.height
    for log in staged.read:
        if log.log.name not in result.remeasured:
            result.accepted.append(log.log.name)
        if log.log_sha256 not in with_landing:
            result.without_landing.append(log.log.name)
        if log.log_sha256 in why:
            result.suspect.append((log.log.name, why[log.log_sha256]))


def _suspicions(channels: pl.DataFrame) -> dict[str, str]:
    """Why logs are suspect, by hash: each channel that is not to be believed with its reason."""
    wrong = channels.filter(pl.col("suspect").is_not_null())
    said = wrong.select("log_sha256", pl.format("{} {}", "channel", "suspect").alias("why"))
    return dict(said.group_by("log_sha256").agg(pl.col("why").str.join("; ")).iter_rows())


def _unread_reports(landings: pl.DataFrame) -> list[tuple[str, str]]:
    """Logs whose weather report told no wind, each with what became of it."""
    lost = landings.filter(pl.col("report_found").is_not_null() & (pl.col("report_found") != READ))
    return lost.select("log_file", "report_found").unique(maintain_order=True).rows()


def _accepting(run: Run) -> Accepting:
    return Accepting(run.workspace, run.maps, keep_originals=run.settings.keep.originals)


def _finish(run: Run, taken: Taken, statements: Statements, refused: Sequence[Refused]) -> list[str]:
    """Move the copies on, keep what the tables said, take the names out of the inbox; return the copies' names."""
    workspace = run.workspace
    bad = {one.log.path for one in refused}
    copies = [log for log in taken.copies if log.log.path not in bad]
    move_on(copies, _accepting(run))
    content = {log.log.path: log.log_sha256 for log in (*taken.firsts, *taken.copies)}
    content |= {one.log.path: one.log_sha256 for one in refused}
    forget(workspace, _mended(run.found.logs, content))
    held = Held.by(workspace)
    statements.save(held.sha256s)
    accepted = [log.log_sha256 for log in taken.firsts if log.log.path not in bad]
    looked = Looked(workspace.looked_file)
    looked.note(accepted, run.runways)
    looked.save()
    came = {log.log.path: log.log_sha256 for log in (*taken.firsts, *taken.copies) if log.log.path not in bad}
    held.remember(((log.name, came[log.path]) for log in run.found.logs if log.path in came), workspace)
    keep_runways(workspace, run.runways)
    for table in (workspace.manifest_file, workspace.exposure_file):
        if table.is_file():
            rewrite_names(table, run.pseudonyms)
    run.pseudonyms.save()
    shutil.rmtree(workspace.staging, ignore_errors=True)
    return [log.log.name for log in copies]


def _mended(logs: Sequence[LogFile], content: Mapping[Path, str]) -> Iterator[tuple[str, str]]:
    """Hash and name of logs that were refused before and have come back with another content."""
    for log in logs:
        if log.refused_as is not None and content.get(log.path, log.refused_as) != log.refused_as:
            yield log.refused_as, log.name

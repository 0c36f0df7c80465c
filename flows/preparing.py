"""What a run was given in; out: everything it needs, found good before anything is moved or loaded."""

import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import polars as pl

from flows.discovery import Found, LogFile, discover
from flows.engine import Spread, spread_for
from flows.held import Held
from flows.manifests import names_from, stated
from flows.maps import Maps
from flows.privacy import Pseudonyms
from flows.progress import Progress
from flows.quarantine import returned
from flows.runways import runway_table
from flows.settings import Settings
from flows.workspace import Workspace
from pipeline.reading.channel_map import ChannelMap
from pipeline.reading.exposure import read_exposure


@dataclass(frozen=True)
class Given:
    """What is named beside the logs: a channel map for all of them, a manifest, a runway table.

    `settled_by`: files written to after this instant are left for the next run, since they may still be growing.
    """

    channel_map: Path | None = None
    manifest: Path | None = None
    runways: Path | None = None
    settled_by: datetime | None = None


@dataclass(frozen=True)
class Manifest:
    """One manifest: its rows, and the logs of this run by the names its rows give them."""

    file: Path
    rows: pl.DataFrame
    logs: dict[str, LogFile]


@dataclass(frozen=True)
class Run:
    """Everything one ingest works with; `named` has the channel map named for a log, by the log's path."""

    workspace: Workspace
    settings: Settings
    found: Found
    held: Held
    runways: pl.DataFrame
    maps: Maps
    named: dict[Path, ChannelMap]
    manifests: tuple[Manifest, ...]
    pseudonyms: Pseudonyms
    spread: Spread
    tell: Progress


def prepare(workspace: Workspace, paths: Sequence[Path], *, given: Given, spread: Spread | None, tell: Progress) -> Run:
    """Find the logs and read every table and map of a run.

    Raises
    ------
    SettingsError, MapError, ManifestError
        One of them cannot be used.
    """
    shutil.rmtree(workspace.staging, ignore_errors=True)
    settings = workspace.settings()
    held = Held.by(workspace)
    found = returned(discover(workspace.inbox, paths).settled(given.settled_by), held.refused, workspace)
    for exposure in found.named("exposure.csv"):
        read_exposure(exposure)
    pseudonyms = Pseudonyms(workspace.root / settings.privacy.key_file, workspace.names_file)
    maps = Maps((*sorted(workspace.maps.glob("*.toml")), *found.maps), kept=workspace.kept_maps)
    manifests = tuple(_manifests(found, held, given.manifest, pseudonyms))
    return Run(
        workspace=workspace,
        settings=settings,
        found=found,
        held=held,
        runways=runway_table(workspace, given.runways, found),
        maps=maps,
        named=_named(found, manifests, given.channel_map, maps),
        manifests=manifests,
        pseudonyms=pseudonyms,
        spread=spread or spread_for(settings.engine, len(found.logs)),
        tell=tell,
    )


def _manifests(found: Found, held: Held, given: Path | None, pseudonyms: Pseudonyms) -> list[Manifest]:
    files = (given,) if given is not None else found.named("manifest.csv")
    manifests = []
    for file in files:
        logs = names_from(file, found.logs)
        later = names_from(file, found.growing)
        here = {Path(name).name for name in (*logs, *later)}
        elsewhere = (name for name in held.names if name not in here)  # a log that lies there now is meant first
        manifests.append(Manifest(file, stated(file, (*logs, *later, *elsewhere), pseudonyms), logs))
    return manifests


def _named(found: Found, manifests: tuple[Manifest, ...], given: Path | None, maps: Maps) -> dict[Path, ChannelMap]:
    """Return the map named for each log: by its manifest's row, else for all of them."""
    named = {} if given is None else dict.fromkeys((log.path for log in found.logs), maps.named(given))
    for manifest in manifests:
        stating = manifest.rows.filter(pl.col("map").is_not_null() & pl.col("log_file").is_in(list(manifest.logs)))
        for name, channel_map in stating.select("log_file", "map").unique(maintain_order=True).iter_rows():
            named[manifest.logs[name].path] = maps.beside(manifest.file, channel_map)
    return named

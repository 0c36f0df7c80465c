"""Logs of the quarantine in; out: those that can be read now in the warehouse, the others with their new reasons."""

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from flows.engine import Spread
from flows.held import Held
from flows.ingest import Ingested, ingest
from flows.landing_names import LEAST
from flows.preparing import Given
from flows.progress import Progress
from flows.quarantine import place
from flows.workspace import Workspace
from pipeline.errors import SettingsError


def retry(
    workspace: Workspace,
    names: Sequence[str] = (),
    *,
    at: datetime,
    channel_map: Path | None = None,
    spread: Spread | None = None,
    tell: Progress | None = None,
) -> Ingested:
    """Try refused logs again, by the maps, manifest, runways and settings of now, under the names they came with.

    Parameters
    ----------
    names : logs by name, the last part of it, or the beginning of the hash; all that are in quarantine where none is.
    at : UTC instant of this run, noted with new rows.
    channel_map : the map to read them by.
    spread, tell : as for ingest.

    Raises
    ------
    SettingsError
        A name means no refused log, or its file is gone from quarantine.
    SettingsError, MapError, ManifestError, StoreError
        As for ingest.
    """
    workspace.require_warehouse()
    refused = _refused(workspace)
    chosen = list(dict.fromkeys(file for name in names for file in _meant(refused, name))) if names else list(refused)
    there = [file for file in chosen if file.is_file()]
    if names and len(there) < len(chosen):
        gone = next(file for file in chosen if not file.is_file())
        message = f"{gone}: is gone from quarantine; bring the log again with roundout ingest"
        raise SettingsError(message)
    if not there:
        return Ingested()
    manifest = workspace.manifest_file if workspace.manifest_file.is_file() else None
    given = Given(channel_map, manifest)
    return ingest(workspace, there, at=at, given=given, spread=spread, tell=tell)


def _refused(workspace: Workspace) -> dict[Path, tuple[str, str]]:
    """The place of each refused log in quarantine, with its name and hash."""
    rows = Held.by(workspace).refused.select("log_sha256", "log_file").iter_rows()
    return {place(workspace, sha256, name): (name, sha256) for sha256, name in rows}


def _meant(refused: dict[Path, tuple[str, str]], called: str) -> list[Path]:
    """Places of the refused logs that are called so; two of one name are both meant."""
    found = [
        file
        for file, (name, sha256) in refused.items()
        if called in (name, file.name)
        or name.endswith(f"/{called}")
        or (len(called) >= LEAST and sha256.startswith(called))
    ]
    if not found:
        message = f"{called}: no log in quarantine is called so; `roundout status` lists them"
        raise SettingsError(message)
    return found

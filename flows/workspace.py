"""A folder in, the places of a workspace out: absolute paths, made on demand, held by one run at a time."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from filelock import FileLock, Timeout

from flows.settings import Settings, commented_text
from pipeline.errors import SettingsError, StoreError

VARIABLE = "ROUNDOUT_WORKSPACE"
DEFAULT = Path("data")
WAIT_S = 2.0


@dataclass(frozen=True)
class Workspace:
    """The places of one workspace; `root` is absolute."""

    root: Path

    @classmethod
    def at(cls, folder: Path | None) -> "Workspace":
        """Return the workspace in `folder`, else of the environment variable, else `./data`; nothing is made."""
        chosen = folder or Path(os.environ.get(VARIABLE) or DEFAULT)
        root = chosen.expanduser().absolute()
        if root.exists() and not root.is_dir():
            message = f"{root}: is a file; a workspace is a folder; name another with --workspace or {VARIABLE}"
            raise SettingsError(message)
        return cls(root)

    @property
    def settings_file(self) -> Path:
        """The settings; may be absent."""
        return self.root / "roundout.toml"

    @property
    def inbox(self) -> Path:
        """Where logs, manifest, maps and runways land."""
        return self.root / "inbox"

    @property
    def maps(self) -> Path:
        """Channel maps that are tried on every log."""
        return self.inbox / "maps"

    @property
    def runways_file(self) -> Path:
        """The runway table."""
        return self.inbox / "runways.csv"

    @property
    def imported_runways_file(self) -> Path:
        """The runways taken from the worldwide table."""
        return self.root / "imported-runways.parquet"

    @property
    def manifest_file(self) -> Path:
        """The manifest of the logs in the inbox."""
        return self.inbox / "manifest.csv"

    @property
    def exposure_file(self) -> Path:
        """How many landings were flown, logged or not."""
        return self.inbox / "exposure.csv"

    @property
    def logs(self) -> Path:
        """Accepted logs as Parquet, by content hash."""
        return self.root / "logs"

    @property
    def originals(self) -> Path:
        """Accepted logs as they came."""
        return self.logs / "originals"

    @property
    def kept_maps(self) -> Path:
        """The channel maps that accepted logs were read with, by hash."""
        return self.logs / "maps"

    @property
    def statements_file(self) -> Path:
        """What manifests have said of accepted logs."""
        return self.logs / "manifest.parquet"

    @property
    def said_file(self) -> Path:
        """What each manifest said last, so that an older row undoes no correction."""
        return self.logs / "said.parquet"

    @property
    def table_hashes_file(self) -> Path:
        """The hashes that the tables of accepted logs had when they were accepted."""
        return self.logs / "hashes.parquet"

    @property
    def looked_file(self) -> Path:
        """By which definition and runways each accepted log was looked through last."""
        return self.logs / "looked.parquet"

    @property
    def quarantine(self) -> Path:
        """Refused logs with their reasons."""
        return self.root / "quarantine"

    @property
    def traces(self) -> Path:
        """Aligned traces, one Parquet file a batch."""
        return self.root / "traces"

    @property
    def database(self) -> Path:
        """The warehouse."""
        return self.root / "landings.duckdb"

    @property
    def reports(self) -> Path:
        """Weekly editions."""
        return self.root / "reports"

    @property
    def names_file(self) -> Path:
        """The only file that holds names."""
        return self.root / "names.csv"

    @property
    def further_names_file(self) -> Path:
        """Names under which held logs came again."""
        return self.logs / "further-names.parquet"

    @property
    def staging(self) -> Path:
        """Work of the run that holds the workspace; emptied when a run begins."""
        return self.root / ".staging"

    def settings(self) -> Settings:
        """Return the workspace's settings; the defaults where it has no file of them."""
        return Settings.read(self.settings_file)

    def require_warehouse(self) -> None:
        """Refuse a workspace that holds nothing yet.

        Raises
        ------
        SettingsError
            It has no warehouse.
        """
        if not self.database.is_file():
            message = f"{self.root}: holds nothing yet; ingest some logs first, or name another with --workspace"
            raise SettingsError(message)

    def make(self) -> None:
        """Make the folders that are missing; what is there stays."""
        try:
            for folder in (self.maps, self.originals, self.kept_maps, self.quarantine, self.traces, self.reports):
                folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            message = f"{self.root}: cannot make the workspace ({error}); name a folder that can be written to"
            raise StoreError(message) from error

    def write_settings(self) -> bool:
        """Write the commented settings; False where there are some already, which stay as they are."""
        self.make()
        try:
            with self.settings_file.open("x", encoding="utf-8") as file:
                file.write(commented_text())
        except FileExistsError:
            return False
        return True

    @contextmanager
    def held(self) -> Iterator[None]:
        """Hold the workspace for one run.

        Raises
        ------
        StoreError
            Another run holds it; nothing was done.
        """
        self.make()
        lock = FileLock(self.root / ".lock", timeout=WAIT_S)
        try:
            lock.acquire()
        except Timeout as error:
            message = f"{self.root}: another run holds this workspace; nothing was done, run again when it has ended"
            raise StoreError(message) from error
        except OSError as error:
            message = f"{self.root}: cannot be locked ({error}); nothing was done"
            raise StoreError(message) from error
        try:
            yield
        finally:
            lock.release()

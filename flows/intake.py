"""One found log in; out: its raw table and the channel map that reads it, or why it is refused."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from flows.discovery import LogFile, as_text
from pipeline.errors import LogError, MapError, StoreError
from pipeline.reading.channel_map import ChannelMap, choose_map, require_columns
from pipeline.reading.tabulate import RawTable, content_sha256, tabulate


@dataclass(frozen=True)
class Tabled:
    """A log that was made a raw table, and the map chosen for it; `original_name` is the file name it came with."""

    log: LogFile
    original_name: str
    log_sha256: str
    table: RawTable
    channel_map: ChannelMap


@dataclass(frozen=True)
class Refused:
    """A log that goes to quarantine; `log_sha256` is of its content, or of the packed bytes where they are damaged."""

    log: LogFile
    log_sha256: str
    reason: str


def take_in(log: LogFile, folder: Path, *, named: ChannelMap | None, maps: Sequence[ChannelMap]) -> Tabled | Refused:
    """Make `log` a raw table in `folder`, read by the map `named` for it or else the one of `maps` that fits.

    Raises
    ------
    MapError
        The map named for the log does not fit it. (Two maps that fit, or none, refuse the log alone.)
    StoreError
        The disk refused.
    """
    sha256 = None
    try:
        sha256 = content_sha256(log.path)
        table = tabulate(log.path, folder / f"{sha256}.parquet")
    except LogError as error:
        return Refused(log, sha256 or bytes_sha256(log.path), str(error).replace(log.path.name, log.place.name))
    except StoreError:
        raise
    except Exception as error:  # one log that nobody foresaw must not stop the others
        return Refused(log, sha256 or bytes_sha256(log.path), unforeseen(log.name, error))
    if named is not None:
        require_columns(named, table.columns, log_file=log.name)
        return Tabled(log, as_text(log.place.name), sha256, table, named)
    try:
        return Tabled(log, as_text(log.place.name), sha256, table, choose_map(table.columns, maps, log_file=log.name))
    except (LogError, MapError) as error:
        return Refused(log, sha256, str(error))


def unforeseen(name: str, error: Exception) -> str:
    """Return the sentence for an error that no check foresaw."""
    return f"{name}: reading it failed in a way nobody foresaw ({type(error).__name__}: {error}); please report it"


def bytes_sha256(path: Path) -> str:
    """Return the hash of a file's bytes as they lie there; of its path where it may not be read."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return hashlib.sha256(str(path).encode()).hexdigest()

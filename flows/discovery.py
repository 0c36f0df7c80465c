"""Files and folders in, the logs and tables among them out; what is left aside is listed, never dropped unseen."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path

from pipeline.errors import SettingsError

LOG_ENDINGS = (".csv", ".tsv", ".txt", ".parquet")
PACKINGS = (".gz", ".zst")
TABLES = ("manifest.csv", "exposure.csv", "runways.csv")
"""Tables a folder may bring beside its logs, at its top."""
MAPS = "maps"


@dataclass(frozen=True)
class LogFile:
    """One log as found.

    `name` is its path below the folder that was given, with forward slashes; a file given by itself has its own name.
    `owned` logs lie in the inbox and are moved on once loaded; the others are copied and never touched. `stamp` tells
    whether the file was written to since. A log that was refused before has its hash of then as `refused_as`, and as
    `came_as` the path under which it first came; manifests mean it by that.
    """

    path: Path
    name: str
    owned: bool
    stamp: tuple[int, int]
    came_as: Path | None = None
    refused_as: str | None = None

    @property
    def place(self) -> Path:
        """The path by which a manifest means the log."""
        return self.came_as or self.path


@dataclass(frozen=True)
class Found:
    """What lies in the places given: logs in order of name, tables by their file name, maps, and what is neither.

    `growing` are logs that are left for the next run, since they may still be written to.
    """

    logs: tuple[LogFile, ...] = ()
    growing: tuple[LogFile, ...] = ()
    tables: tuple[Path, ...] = ()
    maps: tuple[Path, ...] = ()
    left_aside: tuple[Path, ...] = ()

    def named(self, table: str) -> tuple[Path, ...]:
        """Return the tables of that file name, one a folder at most."""
        return tuple(path for path in self.tables if path.name == table)

    def settled(self, by: datetime | None) -> "Found":
        """Return the same with the logs written to after `by` as growing; none of them where it is None."""
        if by is None:
            return self
        latest = by.timestamp() * 1e9
        settled = tuple(log for log in self.logs if log.stamp[1] <= latest)
        growing = tuple(log for log in self.logs if log.stamp[1] > latest)
        return replace(self, logs=settled, growing=growing)


@dataclass
class _Gathered:
    logs: list[LogFile] = field(default_factory=list)
    tables: list[Path] = field(default_factory=list)
    maps: list[Path] = field(default_factory=list)
    left_aside: list[Path] = field(default_factory=list)


def discover(inbox: Path, paths: Iterable[Path]) -> Found:
    """Look through `paths`, or through the inbox where none is given; folders with all that lies below them.

    Raises
    ------
    SettingsError
        A path that is not there.
    """
    gathered = _Gathered()
    for given in tuple(paths) or (inbox,):
        path = given.expanduser().absolute()
        if path.is_dir():
            _gather_folder(path, inbox, gathered)
        elif path.name in TABLES and path.is_file():
            gathered.tables.append(path)
        elif path.is_file():
            gathered.logs.append(LogFile(path, as_text(path.name), path.is_relative_to(inbox), stamp(path)))
        else:
            message = f"{given}: there is no such file or folder, or it is no regular file"
            raise SettingsError(message)
    logs = {log.path: log for log in sorted(gathered.logs, key=lambda log: (log.name, str(log.path)))}
    return Found(
        logs=tuple(logs.values()),
        tables=tuple(dict.fromkeys(gathered.tables)),
        maps=tuple(sorted(set(gathered.maps))),
        left_aside=tuple(sorted(set(gathered.left_aside))),
    )


def stamp(path: Path) -> tuple[int, int]:
    """Return the size and time of last writing of a file."""
    found = path.stat()
    return found.st_size, found.st_mtime_ns


def as_text(name: str) -> str:
    """Return a file's name as text that can be stored: bytes of it that are no text become a question mark."""
    return name.encode("utf-8", "replace").decode()


def is_log(path: Path) -> bool:
    """Whether a file's name says that it may be a log: CSV, text or Parquet, packed or not."""
    endings = [ending.lower() for ending in path.suffixes]
    if endings and endings[-1] in PACKINGS:
        endings.pop()
    return bool(endings) and endings[-1] in LOG_ENDINGS


def _gather_folder(folder: Path, inbox: Path, gathered: _Gathered) -> None:
    for path in _files(folder):
        below = path.relative_to(folder)
        hidden = any(part.startswith(".") for part in below.parts)
        if hidden or not path.is_file() or (path.is_relative_to(inbox.parent) and not path.is_relative_to(inbox)):
            gathered.left_aside.append(path)
        elif below.as_posix() in TABLES:
            gathered.tables.append(path)
        elif below.parts[0] == MAPS and path.suffix.lower() == ".toml":
            gathered.maps.append(path)
        elif is_log(path):
            gathered.logs.append(LogFile(path, as_text(below.as_posix()), path.is_relative_to(inbox), stamp(path)))
        else:
            gathered.left_aside.append(path)


def _files(folder: Path) -> Iterator[Path]:
    """Yield what lies below a folder in order of name; links to folders are not followed, so that no ring is walked."""
    for path in sorted(folder.iterdir()):
        if path.is_dir() and not path.is_symlink():
            yield from _files(path)
        else:
            yield path

"""Errors of the database or the disk in, ours out: what a person can mend about a lock, a disk or a file."""

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import duckdb

from pipeline.errors import StoreError

_FULL = ("no space left", "file too large", "disk quota", "disk full", "max_temp_directory_size")
_FULL_NUMBERS = (errno.ENOSPC, errno.EFBIG, errno.EDQUOT)
_REFUSED = ("could not write", "could not read", "could not fsync")
_HELD = ("could not set lock", "conflicting lock", "different configuration")
_NOT_OURS = ("not a valid duckdb database", "version number", "serialization", "corrupt", "checksum")


def is_held(error: duckdb.Error) -> bool:
    """Whether the error says that somebody else has the database open."""
    return _says(str(error), _HELD)


@contextmanager
def database_trouble(path: Path) -> Iterator[None]:
    """Turn the database's errors of disk, lock and file inside the block into a StoreError that names `path`.

    Errors in the data or the SQL pass through: those are ours to mend, not the reader's.
    """
    try:
        yield
    except duckdb.Error as error:
        if not _is_trouble(error):
            raise
        raise StoreError(_sentence(path, str(error))) from error


@contextmanager
def file_trouble(path: Path) -> Iterator[None]:
    """Turn errors of the disk inside the block into a StoreError that names `path`."""
    try:
        yield
    except OSError as error:
        full = error.errno in _FULL_NUMBERS or _says(str(error), _FULL)
        raise StoreError(_full(path) if full else _refused(path, str(error))) from error


def _is_trouble(error: duckdb.Error) -> bool:
    """Whether the disk or the file is at fault; some classes of error are so only by their words."""
    if isinstance(error, duckdb.TransactionException):
        return _says(str(error), (*_FULL, *_REFUSED))
    if isinstance(error, duckdb.SerializationException | duckdb.InvalidInputException):
        return _says(str(error), _NOT_OURS)
    return isinstance(error, duckdb.IOException | duckdb.FatalException | duckdb.OutOfMemoryException)


def _sentence(path: Path, found: str) -> str:
    if _says(found, _FULL):
        return _full(path)
    if _says(found, _NOT_OURS):
        return f"{path}: is not a database this version can read ({_first_line(found)}); move it away and ingest again"
    return _refused(path, found)


def _full(path: Path) -> str:
    return f"{path}: disk full; nothing was lost; free space and run again"


def _refused(path: Path, found: str) -> str:
    return f"{path}: the disk refused ({_first_line(found)}); nothing was lost; run again"


def _first_line(found: str) -> str:
    return found.splitlines()[0] if found else "no reason given"


def _says(found: str, signs: tuple[str, ...]) -> bool:
    return any(sign in found.lower() for sign in signs)

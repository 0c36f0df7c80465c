"""Paths in, files moved or written so that a kill or a power cut leaves the old state or the new one."""

import errno
import io
import os
import re
import shutil
import unicodedata
from pathlib import Path

import polars as pl

PARTIAL = ".partial"
"""Ending of a file that is being written; whatever bears it is nobody's."""


def write_atomically(target: Path, content: bytes, *, mode: int = 0o644) -> None:
    """Write `content` to `target` at once, readable by `mode`."""
    partial = target.with_name(target.name + PARTIAL)
    partial.unlink(missing_ok=True)
    handle = os.open(partial, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode)
    with os.fdopen(handle, "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    partial.replace(target)
    sync_folder(target.parent)


def write_table(frame: pl.DataFrame, target: Path) -> None:
    """Write `frame` to `target` as Parquet, for this run alone; a refusal of the disk is an OSError."""
    target.write_bytes(_parquet(frame))


def write_table_atomically(frame: pl.DataFrame, target: Path) -> None:
    """Write `frame` to `target` as Parquet at once."""
    write_atomically(target, _parquet(frame))


def _parquet(frame: pl.DataFrame) -> bytes:
    content = io.BytesIO()
    frame.write_parquet(content)
    return content.getvalue()


def copy_atomically(source: Path, target: Path) -> None:
    """Copy `source` to `target` at once; `source` is only read."""
    partial = target.with_name(target.name + PARTIAL)
    with source.open("rb") as original, partial.open("wb") as copy:
        shutil.copyfileobj(original, copy, 1 << 20)
        copy.flush()
        os.fsync(copy.fileno())
    partial.replace(target)
    sync_folder(target.parent)


def move(source: Path, target: Path) -> None:
    """Move `source` to `target`, over whatever is there, also from one disk to another.

    The folder's entry is brought to the disk by `sync_folder`, once for all that is moved there.
    """
    try:
        source.replace(target)
    except OSError as error:
        if error.errno != errno.EXDEV:
            raise
        copy_atomically(source, target)
        source.unlink()


def sync_folder(folder: Path) -> None:
    """Bring the folder's entries to the disk."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def safe_name(name: str, *, longest: int = 120) -> str:
    """Return a file name that any disk takes: letters, digits, dot, dash and underscore; the ending is kept.

    `longest` is in bytes.

    >>> safe_name("../last week's “flight”.csv")
    'last_week_s_flight_.csv'
    """
    plain = unicodedata.normalize("NFKC", name.replace("\\", "/").rsplit("/", 1)[-1])
    cleaned = re.sub(r"[^\w.-]+", "_", plain)
    ending = cleaned.encode()[-longest:].decode(errors="ignore")
    return ending.strip("._-") or "log"

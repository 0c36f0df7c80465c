"""A log file in (CSV or Parquet, packed or plain), the same table as raw Parquet out, nothing in it altered."""

import hashlib
import os
import shutil
from dataclasses import dataclass, replace
from pathlib import Path
from typing import BinaryIO

from pipeline.errors import LogError, StoreError
from pipeline.reading.csv_rows import copy_rows
from pipeline.reading.header import NOT_UTF8, read_header
from pipeline.reading.opening import opened

_PARQUET = b"PAR1"
_BLOCK = 1 << 20


@dataclass(frozen=True)
class RawTable:
    """One log as Parquet: where it is, its columns in order, its rows, and what was noticed on the way."""

    path: Path
    columns: tuple[str, ...]
    rows: int
    notes: tuple[str, ...]


def content_sha256(source: Path) -> str:
    """Hash of the log's decompressed bytes, read as a stream: packed and plain copies are one log.

    Raises
    ------
    LogError
        The file cannot be read or its packing is cut short or damaged.
    """
    with opened(source) as stream:
        digest = hashlib.sha256()
        while block := stream.read(_BLOCK):
            digest.update(block)
        return digest.hexdigest()


def tabulate(source: Path, target: Path) -> RawTable:
    """Write `source` to `target` as Parquet, whole or not at all.

    A CSV keeps every value as the text that was written; blanks become null. Lines with another number of fields than
    the header are left out and counted. A Parquet log is kept byte for byte with its own types.

    Raises
    ------
    LogError
        The file is empty, not a table, has no rows, or is cut short.
    StoreError
        The disk refused.
    """
    with opened(source) as stream:
        head = _first_bytes(stream)
    if not head.strip():
        raise LogError(f"{source.name}: the file is empty; export it again")
    partial = target.with_name(target.name + ".partial")
    try:
        with partial.open("wb") as out:
            columns, rows, notes = (_keep if head[:4] == _PARQUET else _convert)(source, head, out)
            out.flush()
            os.fsync(out.fileno())
        if rows == 0:
            raise LogError(f"{source.name}: has a header but no rows; export it again")
        partial.replace(target)
        _sync_folder(target.parent)
    except OSError as error:
        message = f"{target.name}: the disk refused ({error}); nothing was lost: free space and run again"
        raise StoreError(message) from error
    finally:
        partial.unlink(missing_ok=True)
    return RawTable(target, columns, rows, notes)


Kept = tuple[tuple[str, ...], int, tuple[str, ...]]


def _first_bytes(stream: BinaryIO) -> bytes:
    head = b""
    while len(head) < _BLOCK and (block := stream.read(_BLOCK)):
        head += block
    return head


def _convert(source: Path, head: bytes, out: BinaryIO) -> Kept:
    header = read_header(head, log_file=source.name)
    try:
        with opened(source) as stream:
            rows, notes = copy_rows(stream, out, header=header, log_file=source.name)
    except UnicodeError:
        header = replace(header, encoding="latin-1", notes=(*header.notes, NOT_UTF8))
        out.seek(0)
        out.truncate()
        with opened(source) as stream:
            rows, notes = copy_rows(stream, out, header=header, log_file=source.name)
    return header.columns, rows, header.notes + notes


def _keep(source: Path, _: bytes, out: BinaryIO) -> Kept:
    import pyarrow as pa  # noqa: PLC0415 - as in opening
    import pyarrow.parquet as pq  # noqa: PLC0415

    name = source.name
    with opened(source) as stream:
        shutil.copyfileobj(stream, out, _BLOCK)
    out.flush()
    try:
        metadata = pq.read_metadata(out.name)
    except (pa.ArrowException, OSError) as error:
        raise LogError(f"{name}: a Parquet file that cannot be read ({error}); copy or export it again") from error
    columns = tuple(metadata.schema.to_arrow_schema().names)
    twice = sorted({column for column in columns if columns.count(column) > 1})
    if twice:
        raise LogError(f"{name}: two columns are named {twice[0]!r}; give each column its own name")
    return columns, metadata.num_rows, ()


def _sync_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)

"""A log's path in, its decompressed bytes as a stream out, whatever it was packed with."""

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO, cast

from pipeline.errors import LogError, StoreError

_GZIP = b"\x1f\x8b"
_ZSTANDARD = b"\x28\xb5\x2f\xfd"
_DISK = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO, errno.EROFS}


@contextmanager
def opened(source: Path) -> Iterator[BinaryIO]:
    """Open `source` for reading: gzip and Zstandard are unpacked, told by their first bytes and not by the name.

    Raises
    ------
    LogError
        The file is missing, may not be read, or its packed bytes are cut short or damaged, also while it is read.
    StoreError
        A disk refused while the file was in use.
    """
    import pyarrow as pa  # noqa: PLC0415 - a tenth of a second that only reading a log should cost

    try:
        with source.open("rb") as plain:
            first = plain.read(4)
            plain.seek(0)
            packing = "gzip" if first[:2] == _GZIP else "zstd" if first == _ZSTANDARD else None
            yield plain if packing is None else cast("BinaryIO", pa.CompressedInputStream(plain, packing))
    except OSError as error:
        raise _explained(source, error) from error


def _explained(source: Path, error: OSError) -> LogError | StoreError:
    name = source.name
    if error.errno in _DISK:
        return StoreError(f"{name}: the disk refused ({error.strerror}); nothing was lost: free space and run again")
    if isinstance(error, FileNotFoundError):
        return LogError(f"{name}: there is no such file as {source}; check the path")
    if isinstance(error, IsADirectoryError):
        return LogError(f"{name}: is a folder, not a log; name the logs in it")
    if isinstance(error, PermissionError):
        return LogError(f"{name}: may not be read; give this user the right to read {source}")
    if "runcated" in str(error):
        return LogError(f"{name}: the packed file ends too early (a copy that was cut short?); copy it again")
    return LogError(f"{name}: the packed bytes are damaged ({error}); copy or pack it again")

"""The path of a database in, sole right to write it for a block out, or a sentence that says who has it."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from filelock import FileLock, Timeout

from pipeline.errors import StoreError
from warehouse.trouble import file_trouble


@contextmanager
def alone(path: Path, *, wait_s: float) -> Iterator[None]:
    """Hold `<path>.lock` inside the block, signed with this process's number; the system frees it if we are killed.

    Raises
    ------
    StoreError
        Another run still holds it after `wait_s` seconds.
    """
    lock = FileLock(_lock_file(path), timeout=wait_s, on_acquired=_sign)
    with file_trouble(path):
        try:
            lock.acquire()
        except Timeout as error:
            raise StoreError(held_by(path)) from error
    try:
        yield
    finally:
        lock.release()


def held_by(path: Path) -> str:
    """Say that another run holds the database at `path`, and which process that is where it is known."""
    try:
        number = _lock_file(path).read_text(encoding="ascii").strip()
    except (OSError, UnicodeDecodeError):
        number = ""
    holder = f"another run (process {number})" if number.isdecimal() else "another run"
    return f"{path}: {holder} holds the warehouse; nothing was done, run again when it has ended"


def _sign(handle: int) -> None:
    """Leave this process's number in the lock file for whoever waits."""
    os.ftruncate(handle, 0)
    os.pwrite(handle, str(os.getpid()).encode(), 0)


def _lock_file(path: Path) -> Path:
    return path.with_name(path.name + ".lock")

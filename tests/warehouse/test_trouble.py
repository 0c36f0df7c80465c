"""Which errors are the disk's or the file's, and the sentence each becomes."""

import errno
from pathlib import Path

import duckdb
import pytest

from pipeline.errors import StoreError
from warehouse.trouble import database_trouble, file_trouble

PATH = Path("place/landings.duckdb")


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (duckdb.IOException('Could not write file "x": No space left on device'), "disk full; nothing was lost"),
        (duckdb.TransactionException("Failed to commit: Could not write file: File too large"), "disk full"),
        (duckdb.TransactionException("Failed to commit: Could not fsync file"), "the disk refused"),
        (duckdb.FatalException("database has been invalidated"), "the disk refused"),
        (duckdb.OutOfMemoryException("could not allocate block: max_temp_directory_size"), "disk full"),
        (duckdb.SerializationException("Corrupt database file"), "is not a database this version can read"),
    ],
    ids=lambda value: type(value).__name__ if isinstance(value, Exception) else value,
)
def test_trouble_of_the_disk_is_a_sentence(error, said):
    """The sentence names the file and what to do, and keeps the database's own words as its cause."""
    with pytest.raises(StoreError, match=said) as caught, database_trouble(PATH):
        raise error

    assert str(caught.value).startswith(f"{PATH}: ")
    assert caught.value.__cause__ is error
    assert caught.value.exit_status == 4


@pytest.mark.parametrize(
    "error",
    [
        duckdb.ConstraintException("CHECK constraint failed: 'no space left' could not write"),
        duckdb.TransactionException("Conflict on update!"),
        duckdb.InvalidInputException("wrong number of parameters"),
        duckdb.BinderException("checksum: no such column"),
        ValueError("a mistake"),
    ],
    ids=lambda error: type(error).__name__,
)
def test_mistakes_in_data_or_sql_are_not_the_disks(error):
    """Whatever their words, they pass through as they are."""
    with pytest.raises(type(error)) as caught, database_trouble(PATH):
        raise error

    assert caught.value is error


@pytest.mark.parametrize(
    ("number", "said"), [(errno.ENOSPC, "disk full"), (errno.EDQUOT, "disk full"), (errno.EACCES, "the disk refused")]
)
def test_trouble_with_a_file_is_a_sentence(number, said):
    """Errors of the system are told apart by their number."""
    with pytest.raises(StoreError, match=said), file_trouble(PATH):
        raise OSError(number, "words of the system")

"""Notes on approaches: one added at a time, kept for good; whether an approach is disputed now."""

import hashlib
from datetime import datetime
from typing import Literal

from duckdb import DuckDBPyConnection

from warehouse.marts import read
from warehouse.statements import fetch, transaction

Kind = Literal["remark", "dispute", "settled"]


def add_note(con: DuckDBPyConnection, landing_id: str, *, kind: Kind, note: str, at: datetime) -> None:
    """Keep a note; the same note at the same instant is kept once."""
    said = f"{landing_id}\x1f{at.isoformat()}\x1f{kind}\x1f{note}"
    note_id = hashlib.sha256(said.encode()).hexdigest()[:16]
    with transaction(con):
        fetch(con, "insert or ignore into note values (?, ?, ?, ?, ?)", [note_id, landing_id, at, kind, note])


def is_disputed(con: DuckDBPyConnection, landing_id: str) -> bool:
    """Whether the flying pilot of an approach is disputed now."""
    return bool(read(con, "disputed", where={"landing_id": landing_id}).height)

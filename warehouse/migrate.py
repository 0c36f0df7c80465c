"""A connection in, a database of this version out: the numbered files of sql/schema, each once, each whole."""

import hashlib
from dataclasses import dataclass

from duckdb import DuckDBPyConnection

from pipeline.errors import StoreError
from warehouse import sql_files
from warehouse.statements import fetch, transaction

_TABLE = """
create table if not exists schema_version (
    version integer primary key,
    name varchar not null,
    sha256 varchar not null,
    applied_at timestamptz not null default now()
)
"""


@dataclass(frozen=True)
class Step:
    """One numbered file: `version` counts from 1, `sha256` of its text."""

    version: int
    name: str
    sql: str

    @property
    def sha256(self) -> str:
        """Hash of the text."""
        return hashlib.sha256(self.sql.encode()).hexdigest()


def steps() -> tuple[Step, ...]:
    """Return the numbered files in order; their numbers are 1, 2, 3 and so on."""
    found = tuple(
        Step(int(stem.split("_", 1)[0]), stem.split("_", 1)[1], sql)
        for stem, sql in sql_files.statements("schema").items()
    )
    numbers = [step.version for step in found]
    if numbers != list(range(1, len(found) + 1)):
        message = f"sql/schema: the files must be numbered 0001, 0002 and so on without gap or double; found {numbers}"
        raise ValueError(message)
    return found


def migrate(con: DuckDBPyConnection, *, name: str, todo: tuple[Step, ...] | None = None) -> int:
    """Apply the steps that the database lacks, one transaction each; return how many were applied.

    Raises
    ------
    StoreError
        The database is newer than the code, was made from another text of an old step, or is somebody else's.
    """
    wanted = steps() if todo is None else todo
    held = _held(con)
    if not held and fetch(con, "select count(*) from duckdb_tables() where not internal") != [(0,)]:
        message = f"{name}: is a database, but not one of ours; name another file"
        raise StoreError(message)
    _refuse_other(held, wanted, name=name)
    missing = [step for step in wanted if step.version not in held]
    for step in missing:
        _apply(con, step)
    return len(missing)


def require_current(con: DuckDBPyConnection, *, name: str) -> None:
    """Refuse a database that is not exactly of this version; nothing is written."""
    held = _held(con)
    wanted = steps()
    _refuse_other(held, wanted, name=name)
    if len(held) < len(wanted):
        message = (
            f"{name}: holds schema version {max(held, default=0)}, this program reads version {len(wanted)}; "
            "ingest or retry once to bring it up to date"
        )
        raise StoreError(message)


def _held(con: DuckDBPyConnection) -> dict[int, tuple[str, str]]:
    """Return the steps already applied: version -> (name, hash)."""
    there = fetch(con, "select 1 from duckdb_tables() where table_name = 'schema_version' and not internal")
    if not there:
        return {}
    rows = fetch(con, "select version, name, sha256 from schema_version order by version")
    return {version: (step, sha256) for version, step, sha256 in rows}


def _refuse_other(held: dict[int, tuple[str, str]], wanted: tuple[Step, ...], *, name: str) -> None:
    newest = max(held, default=0)
    if newest > len(wanted):
        message = f"{name}: schema version {newest} is newer than this program's {len(wanted)}; update the program"
        raise StoreError(message)
    for step in wanted:
        if step.version in held and held[step.version][1] != step.sha256:
            message = (
                f"{name}: schema step {step.version} ({held[step.version][0]}) was applied from another text than "
                "this program has; use the program that made the database, or move it away and ingest again"
            )
            raise StoreError(message)


def _apply(con: DuckDBPyConnection, step: Step) -> None:
    with transaction(con):
        con.execute(_TABLE)
        con.execute(step.sql)
        con.execute(
            "insert into schema_version (version, name, sha256) values (?, ?, ?)",
            [step.version, step.name, step.sha256],
        )

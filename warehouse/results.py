"""Statistics of one date in, rows of the warehouse out: all of a date's at once, the same ones never twice."""

from datetime import date, datetime
from typing import Protocol

import polars as pl
from duckdb import DuckDBPyConnection

from warehouse import frames, keys
from warehouse.statements import fetch, registered, transaction


class Results(Protocol):
    """Statistics of one date; columns and types as in warehouse.frames under the names of these tables."""

    @property
    def pilot_outcome(self) -> pl.DataFrame:
        """One row a pilot and measure."""

    @property
    def fault_share(self) -> pl.DataFrame:
        """One row a pilot, type and fault."""

    @property
    def drift_point(self) -> pl.DataFrame:
        """One row a pilot, chart and landing."""

    @property
    def drift_flag(self) -> pl.DataFrame:
        """One row a flag."""

    @property
    def consistency(self) -> pl.DataFrame:
        """One row a pilot and measure."""

    @property
    def review(self) -> pl.DataFrame:
        """One row a pilot and measure: the newest review."""

    @property
    def style(self) -> pl.DataFrame:
        """One row a style and feature."""

    @property
    def landing_style(self) -> pl.DataFrame:
        """One row a landing."""


_SCHEMAS: dict[str, frames.Schema] = {
    "pilot_outcome": frames.PILOT_OUTCOME,
    "fault_share": frames.FAULT_SHARE,
    "drift_point": frames.DRIFT_POINT,
    "drift_flag": frames.DRIFT_FLAG,
    "consistency": frames.CONSISTENCY,
    "review": frames.REVIEW,
    "style": frames.STYLE,
    "landing_style": frames.LANDING_STYLE,
}


def inputs_sha256(con: DuckDBPyConnection, as_of: date) -> str:
    """Return the hash of every landing measured now up to the end of `as_of` (UTC) or without an instant."""
    rows = fetch(
        con,
        "select approach.landing_id, measurement.measured_key, approach.context_key "
        "from approach inner join measurement using (landing_id) "
        "where measurement.superseded_at is null "
        "and (approach.contact_at is null or approach.contact_at < ($as_of::date + 1)::timestamptz) "
        "order by all",
        {"as_of": as_of},
    )
    return keys.frame_sha256([pl.DataFrame(rows, schema=["landing_id", "measured_key", "context_key"], orient="row")])


def load_results(con: DuckDBPyConnection, as_of: date, results: Results, *, inputs_sha256: str) -> bool:
    """Put `results` in the place of what is held for `as_of`, in one transaction; return whether anything changed.

    The same inputs with the same results change nothing.

    Raises
    ------
    ValueError
        A frame has other columns than the warehouse holds.
    """
    rows = {name: frames.conform(getattr(results, name), schema, what=name) for name, schema in _SCHEMAS.items()}
    wanted = (inputs_sha256, keys.frame_sha256(rows.values()))
    if fetch(con, "select inputs_sha256, results_sha256 from result_set where as_of = ?", [as_of]) == [wanted]:
        return False
    with registered(con, rows), transaction(con):
        con.execute("insert or replace into result_set values (?, ?, ?)", [as_of, *wanted])
        for name in rows:
            _replace(con, name, as_of)
    return True


def load_edition(con: DuckDBPyConnection, as_of: date, *, week: str, inputs_sha256: str, at: datetime) -> bool:
    """Note that the edition of `week` ("2026-W47") was written `at`; return False where the same is noted already."""
    held = fetch(con, "select week, inputs_sha256 from edition where as_of = ?", [as_of])
    if held == [(week, inputs_sha256)]:
        return False
    with transaction(con):
        con.execute("insert or replace into edition values (?, ?, ?, ?)", [as_of, week, inputs_sha256, at])
    return True


def _replace(con: DuckDBPyConnection, table: str, as_of: date) -> None:
    con.execute(f"delete from {table} where as_of = ?", [as_of])  # noqa: S608 - a table of this module
    con.execute(
        f"insert into {table} by name select $as_of as as_of, * from incoming_{table}",  # noqa: S608 - as above
        {"as_of": as_of},
    )

"""A connection in, the offending rows of every check out: no rows, no offence."""

import polars as pl
from duckdb import DuckDBPyConnection

from warehouse import sql_files, views


def run_checks(con: DuckDBPyConnection) -> dict[str, pl.DataFrame]:
    """Return the offending rows of each check by its name; a check that passes has an empty frame."""
    views.ensure(con)
    return {name: con.sql(text).pl() for name, text in sql_files.statements("checks").items()}


def failed(results: dict[str, pl.DataFrame]) -> dict[str, int]:
    """Return how many rows offend, by check, of the checks that do not pass."""
    return {name: rows.height for name, rows in results.items() if rows.height}

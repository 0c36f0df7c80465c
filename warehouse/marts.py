"""The name of a mart in, its rows as a frame out, in the order of its keys."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

import polars as pl
from duckdb import DuckDBPyConnection

from pipeline.errors import SettingsError
from warehouse import views
from warehouse.catalogue import MARTS
from warehouse.statements import fetch

Scalar = str | int | float | bool | date | datetime


@dataclass(frozen=True)
class Between:
    """Values from `low` on and before `high`; either may be None, for no bound."""

    low: Scalar | None = None
    high: Scalar | None = None


Condition = Scalar | list[str] | Between | None
"""A value, one of several texts, a range, or None for rows without a value."""


def read(con: DuckDBPyConnection, mart: str, *, where: Mapping[str, Condition] | None = None) -> pl.DataFrame:
    """Return the rows of `mart` that meet every condition, ordered by the mart's keys, nulls last.

    Examples
    --------
    `read(con, "landing", where={"pilot": "P-2", "contact_at": Between(high=monday)})`

    Raises
    ------
    SettingsError
        There is no such mart, or it has no such column.
    """
    if mart not in MARTS:
        message = f"{mart}: no such mart; there are {', '.join(sorted(MARTS))}"
        raise SettingsError(message)
    views.ensure(con)
    wanted = where or {}
    _require_columns(con, mart, wanted)
    parameters: dict[str, Scalar | list[str]] = {}
    terms = [_term(column, condition, parameters) for column, condition in wanted.items()]
    order = ", ".join(f'"{key}" nulls last' for key in MARTS[mart].keys)
    sql = f"from {mart} where {' and '.join(terms) or 'true'} order by {order}"
    rows: pl.DataFrame = con.sql(sql, params=parameters).pl()
    return rows


def _require_columns(con: DuckDBPyConnection, mart: str, wanted: Mapping[str, Condition]) -> None:
    there = [row[0] for row in fetch(con, f"describe {mart}")] if wanted else []
    for column in wanted:
        if column not in there:
            message = f"{mart}: has no column {column}; it has {', '.join(there)}"
            raise SettingsError(message)


def _term(column: str, condition: Condition, parameters: dict[str, Scalar | list[str]]) -> str:
    """One condition as SQL over parameters, which are added; `column` is known to be one of the mart's."""
    if condition is None:
        return f'"{column}" is null'
    if isinstance(condition, Between):
        bounds = [(">=", condition.low), ("<", condition.high)]
        return (
            " and ".join(f'"{column}" {sign} {_bind(bound, parameters)}' for sign, bound in bounds if bound is not None)
            or "true"
        )
    if isinstance(condition, list):
        return f'list_contains({_bind(condition, parameters)}, "{column}")'
    return f'"{column}" = {_bind(condition, parameters)}'


def _bind(value: Scalar | list[str], parameters: dict[str, Scalar | list[str]]) -> str:
    name = f"p{len(parameters)}"
    parameters[name] = value
    return f"${name}"

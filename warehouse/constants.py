"""Constants of gear and instruments: versions in, kept for good; the one learned last of each installation out."""

from datetime import datetime

import polars as pl
from duckdb import DuckDBPyConnection

from pipeline.constants import CONSTANTS
from warehouse import frames
from warehouse.marts import read
from warehouse.statements import registered, transaction


def keep_constants(con: DuckDBPyConnection, learned: pl.DataFrame, *, at: datetime) -> None:
    """Add versions (columns of pipeline.constants.CONSTANTS); one that is held already stays as it is."""
    rows = frames.conform(learned, CONSTANTS, what="constants").with_columns(
        pl.lit(at).cast(pl.Datetime("us", "UTC")).alias("learned_at")
    )
    with registered(con, {"constant": rows}), transaction(con):
        con.execute("insert or ignore into constant by name select * from incoming_constant")


def current_constants(con: DuckDBPyConnection) -> pl.DataFrame:
    """Return the constants landings are measured with now, columns of pipeline.constants.CONSTANTS."""
    return read(con, "constants").select(list(CONSTANTS))

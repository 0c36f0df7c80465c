"""A batch in, rows of the warehouse out: all of a batch or nothing of it, and nothing twice."""

from dataclasses import dataclass
from datetime import datetime

import polars as pl
from duckdb import DuckDBPyConnection

from warehouse import frames
from warehouse.batch import Batch, rows_by_table
from warehouse.merge import Merge, differs
from warehouse.statements import fetch, registered, transaction


@dataclass(frozen=True)
class Loaded:
    """What a load changed, in rows: logs new and corrected, measurements new, superseded, restored and unchanged."""

    logs_new: int
    logs_changed: int
    measured: int
    superseded: int
    restored: int
    unchanged: int


def load_batch(con: DuckDBPyConnection, batch: Batch, *, at: datetime) -> Loaded:
    """Load one batch in one transaction; the same batch again changes nothing.

    A landing that is measured differently supersedes its current measurement, one that was measured so before takes
    its place back, and one its log no longer holds is superseded too. Context (pilot, runway ...) is corrected in
    place. A refusal of a log that is now accepted goes.

    Parameters
    ----------
    con : a writer's connection.
    batch : the frames.
    at : UTC instant of this load; new logs and superseded measurements bear it.

    Raises
    ------
    ValueError
        A frame has other columns, a key twice, or a row of a log or landing that is not in the batch.
    """
    incoming = rows_by_table(batch)
    with registered(con, incoming), transaction(con):
        logs = [action for (action,) in fetch(con, _LOGS.sql, {"ingested_at": at})]
        con.execute(_APPROACHES.sql)
        superseded = len(fetch(con, _SUPERSEDE, {"at": at}))
        restored = len(fetch(con, _RESTORE))
        measured = len(fetch(con, _MEASURE))
        for insert in _OWNED:
            con.execute(insert)
        con.execute(_TRACES.sql)
        con.execute(_FORGET_CHANNELS)
        con.execute(_CHANNELS)
        con.execute(_ACCEPT)
    unchanged = incoming["measurement"].height - measured - restored
    return Loaded(logs.count("INSERT"), logs.count("UPDATE"), measured, superseded, restored, unchanged)


def load_refusals(con: DuckDBPyConnection, refusals: pl.DataFrame, *, at: datetime) -> int:
    """Load refused logs (columns as in warehouse.frames.REFUSAL); return how many are new or have a new reason.

    `at`: UTC instant; a refusal for the reason already held keeps its own.
    """
    conformed = frames.conform(refusals, frames.REFUSAL, what="refusals")
    last = conformed.unique(["log_sha256", "log_file"], keep="last", maintain_order=True)
    with registered(con, {"refusal": last}), transaction(con):
        return len(fetch(con, _REFUSE, {"at": at}))


def drop_refusals(con: DuckDBPyConnection, refusals: pl.DataFrame) -> None:
    """Take refusals out (log_sha256, log_file) of logs that have come back with another content."""
    with registered(con, {"refusal": refusals}), transaction(con):
        con.execute(_DROP)


_LOG_COLUMNS = (*frames.LOG, "landings")
_LOGS = Merge("log", "log_sha256", _LOG_COLUMNS, differs("log", _LOG_COLUMNS), once=("ingested_at",))
_APPROACHES = Merge("approach", "landing_id", (*frames.APPROACH, "context_key"), differs("approach", ("context_key",)))
_TRACES = Merge("trace_file", "landing_id", tuple(frames.TRACE_FILE), differs("trace_file", ("trace_file",)))

_SUPERSEDE = """
update measurement
set superseded_at = $at
from approach
where
    approach.landing_id = measurement.landing_id
    and approach.log_sha256 in (select log_sha256 from incoming_log)
    and measurement.superseded_at is null
    and (measurement.landing_id, measurement.measured_key)
    not in (select (landing_id, measured_key) from incoming_measurement)
returning measurement.landing_id
"""

_RESTORE = """
update measurement
set superseded_at = null
where
    superseded_at is not null
    and (landing_id, measured_key) in (select (landing_id, measured_key) from incoming_measurement)
returning landing_id
"""

_MEASURE = """
insert into measurement by name
select incoming_measurement.*
from incoming_measurement
anti join measurement using (landing_id, measured_key)
returning landing_id
"""

_OWNED = tuple(
    f"insert into {table} by name select incoming_{table}.* from incoming_{table} "  # noqa: S608 - names from here
    f"anti join {table} using ({', '.join(('landing_id', 'measured_key', *keys))})"
    for table, keys in (
        ("contact", ("contact_index",)),
        ("gate", ("gate",)),
        ("approach_expected", ()),
        ("fault", ("fault",)),
    )
)
"""What belongs to a measurement; rows of one that is held already stay."""

_FORGET_CHANNELS = """
delete from log_channel
where
    log_sha256 in (select log_sha256 from incoming_log)
    and (log_sha256, channel) not in (select (log_sha256, channel) from incoming_log_channel)
"""

_CHANNELS = "insert or replace into log_channel by name select * from incoming_log_channel"

_ACCEPT = "delete from refusal where log_sha256 in (select log_sha256 from incoming_log)"

_DROP = "delete from refusal where (log_sha256, log_file) in (select (log_sha256, log_file) from incoming_refusal)"

_REFUSE = """
merge into refusal
using incoming_refusal as incoming
on refusal.log_sha256 = incoming.log_sha256 and refusal.log_file = incoming.log_file
when matched and refusal.reason <> incoming.reason
    then update set reason = incoming.reason, refused_at = $at
when not matched
    then insert (log_sha256, log_file, reason, refused_at)
    values (incoming.log_sha256, incoming.log_file, incoming.reason, $at)
returning merge_action
"""

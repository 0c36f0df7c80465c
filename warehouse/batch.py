"""The frames of a batch in, the rows of each table out, keyed, or a refusal of a batch that is not whole."""

from dataclasses import dataclass

import polars as pl

from warehouse import frames, keys


@dataclass(frozen=True)
class Batch:
    """What was read and measured from some logs; every approach of each of these logs is in it.

    Columns and types as in warehouse.frames: `logs` LOG, `landings` LANDING (approaches too), `contacts` CONTACT,
    `gates` GATE, `expected` EXPECTED, `faults` FAULT, `traces` TRACE_FILE, `channel_quality` CHANNEL_QUALITY.
    """

    logs: pl.DataFrame
    landings: pl.DataFrame
    contacts: pl.DataFrame
    gates: pl.DataFrame
    expected: pl.DataFrame
    faults: pl.DataFrame
    traces: pl.DataFrame
    channel_quality: pl.DataFrame


def rows_by_table(batch: Batch) -> dict[str, pl.DataFrame]:
    """Return the rows a batch stands for, by table.

    Raises
    ------
    ValueError
        A frame has other columns, a key twice, or a row of a log or landing that is not in the batch.
    """
    logs = frames.conform(batch.logs, frames.LOG, what="logs")
    landings = frames.conform(batch.landings, frames.LANDING, what="landings")
    contacts = frames.conform(batch.contacts, frames.CONTACT, what="contacts")
    gates = frames.conform(batch.gates, frames.GATE, what="gates")
    expected = frames.conform(batch.expected, frames.EXPECTED, what="expected")
    faults = frames.conform(batch.faults, frames.FAULT, what="faults")
    traces = frames.conform(batch.traces, frames.TRACE_FILE, what="traces")
    channels = frames.conform(batch.channel_quality, frames.CHANNEL_QUALITY, what="channel_quality")
    _require_unique(logs, ["log_sha256"], what="logs")
    _require_unique(landings, ["landing_id"], what="landings")
    _require_unique(contacts, ["landing_id", "contact_index"], what="contacts")
    _require_unique(gates, ["landing_id", "gate"], what="gates")
    _require_unique(expected, ["landing_id"], what="expected")
    _require_unique(faults, ["landing_id", "fault"], what="faults")
    _require_unique(traces, ["landing_id"], what="traces")
    _require_unique(channels, ["log_sha256", "channel"], what="channel_quality")
    _require_owner(landings, logs, "log_sha256", what="landings")
    _require_owner(contacts, landings, "landing_id", what="contacts")
    _require_owner(gates, landings, "landing_id", what="gates")
    _require_owner(expected, landings, "landing_id", what="expected")
    _require_owner(faults, landings, "landing_id", what="faults")
    _require_owner(traces, landings, "landing_id", what="traces")
    _require_owner(channels, logs, "log_sha256", what="channel_quality")
    measurement = _measurements(landings, contacts)
    by = measurement.select("landing_id", "measured_key")
    return {
        "log": _counted(logs, landings),
        "approach": _approaches(landings),
        "measurement": measurement,
        "contact": contacts.join(by, on="landing_id", how="inner"),
        "gate": gates.join(by, on="landing_id", how="inner"),
        "approach_expected": expected.join(by, on="landing_id", how="inner"),
        "fault": faults.join(by, on="landing_id", how="inner"),
        "trace_file": traces,
        "log_channel": channels,
    }


def _counted(logs: pl.DataFrame, landings: pl.DataFrame) -> pl.DataFrame:
    counts = landings.group_by("log_sha256").agg(pl.col("landing_index").count().cast(pl.Int64).alias("landings"))
    joined = logs.join(counts, on="log_sha256", how="left", maintain_order="left")
    return joined.with_columns(pl.col("landings").fill_null(0))


def _approaches(landings: pl.DataFrame) -> pl.DataFrame:
    """Identity and context; contact_at follows from flown_at and contact_t_s, to the microsecond, so no key has it."""
    approach = landings.select(*frames.APPROACH)
    return approach.with_columns(keys.content_key(approach.drop("contact_at")).alias("context_key"))


def _measurements(landings: pl.DataFrame, contacts: pl.DataFrame) -> pl.DataFrame:
    measured = [*frames.INPUTS, *frames.MEASURES]
    key = keys.measured_key(landings, contacts, columns=measured)
    return landings.select("landing_id", key.alias("measured_key"), *measured)


def _require_unique(frame: pl.DataFrame, columns: list[str], *, what: str) -> None:
    twice = frame.select(columns).filter(frame.select(columns).is_duplicated())
    if twice.height:
        message = f"{what}: {', '.join(columns)} must tell the rows apart; found twice: {twice.row(0)}"
        raise ValueError(message)


def _require_owner(frame: pl.DataFrame, owner: pl.DataFrame, column: str, *, what: str) -> None:
    strays = frame.join(owner, on=column, how="anti")
    if strays.height:
        message = f"{what}: {column} {strays[column][0]} is not in the batch; a batch holds the whole of its logs"
        raise ValueError(message)

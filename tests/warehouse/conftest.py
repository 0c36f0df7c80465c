"""Given rows for the warehouse's tests: invented pilots, aircraft, airports."""

import hashlib
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

import polars as pl
import pytest
from duckdb import DuckDBPyConnection

from pipeline.measures.table import MEASURES
from warehouse import database, frames
from warehouse.batch import Batch

START = datetime(2026, 11, 16, 9, 0, tzinfo=UTC)
Row = dict[str, Any]

_VALUES = {"number": 1.5, "flag": True, "count": 0, "text": ""}

_CONTEXT: Row = {
    "outcome": "full_stop",
    "contact_t_s": 200.0,
    "contact_u_s": 0.05,
    "contact_evidence": "radio height, normal acceleration",
    "flown_at": START,
    "pilot": "P-AAAA1",
    "pilot_monitoring": None,
    "seat": "left",
    "role": "line",
    "takeover": "none",
    "device": "aircraft",
    "exercise": "normal",
    "why_logged": "routine",
    "aircraft": "XQ-ONE",
    "aircraft_type": "Heron 4",
    "recorder": "box one",
    "recorder_rate_hz": 8.0,
    "runway": "Skarholm 09",
    "vref_kt": 118.0,
    "target_speed_kt": None,
    "landing_flap": "30",
    "weight_kg": 8100.0,
    "conditions": "visual",
    "intent": "normal",
    "runway_condition": "dry",
    "landing_mode": "manual",
    "lowest_height_ft": 0.0,
    "runway_found": "stated",
    "wind_source": "stated",
    "report_found": None,
    "report_age_min": None,
    "suspect": None,
    "artefact": None,
    "definition": "1",
    "constants": "none",
    "policy_sha256": "policy-a",
    "map_sha256": "map-a",
    "runways_sha256": "runways-a",
}


def _measures() -> Row:
    row: Row = {}
    for measure in MEASURES:
        row[measure.name] = _VALUES[measure.kind]
        row[measure.quality] = 0.5
        row[measure.reason] = None
    return row


def _landing(log: str, index: int, changes: Row | None = None) -> Row:
    """Row `index` of the landing frame of `log`; a measure changed to None gets the reason not_reached."""
    sha = hashlib.sha256(log.encode()).hexdigest()
    given = changes or {}
    row = {
        "landing_id": hashlib.sha256(f"{sha}{index}".encode()).hexdigest()[:16],
        "log_sha256": sha,
        "log_file": f"{log}.csv",
        "approach_index": index,
        "landing_index": index,
        **_CONTEXT,
        **_measures(),
        **given,
    }
    for measure in MEASURES:
        if row[measure.name] is None and measure.reason not in given:
            row |= {measure.quality: None, measure.reason: "not_reached"}
    if row["flown_at"] is not None and row["contact_t_s"] is not None and "contact_at" not in given:
        row["contact_at"] = row["flown_at"] + timedelta(seconds=row["contact_t_s"])
    return row


GO_AROUND: Row = {
    "outcome": "go_around",
    "landing_index": None,
    "contact_t_s": None,
    "contact_u_s": None,
    "contact_evidence": None,
    "lowest_height_ft": 62.0,
    "vertical_speed_at_contact_fpm": None,
}


def _channel(log_sha256: str) -> Row:
    counts = dict.fromkeys(("gaps", "repeats", "spikes", "outside"), 0)
    times = {"longest_gap_s": 0.0, "stuck_s": 1.0}
    return {"log_sha256": log_sha256, "channel": "pitch_deg", "samples": 2000, "rate_hz": 8.0, **counts, **times}


def _gate(row: Row) -> Row:
    verdict = {"stable": row.get("gate_500_stable"), "failed": row.get("gate_500_failed"), "judged": 6}
    named = {"gate": "500 ft", "height_ft": 500.0, "reference": "threshold", "conditions": "any"}
    return {"landing_id": row["landing_id"], **named, **verdict}


def _expected(row: Row) -> Row:
    pitch = {"approach_pitch_over_expected_deg": 0.4, "approach_pitch_over_expected_deg_u": 0.2}
    return {"landing_id": row["landing_id"], **pitch}


def _fault(row: Row) -> Row:
    return {"landing_id": row["landing_id"], "fault": "float", "verdict": "not_seen", "probability": 0.01}


def _batch(rows: list[Row], extra_logs: tuple[str, ...] = ()) -> Batch:
    landings = pl.DataFrame(rows, schema=frames.LANDING)
    names = dict.fromkeys([*(row["log_file"].removesuffix(".csv") for row in rows), *extra_logs])
    logs = [
        {
            "log_sha256": hashlib.sha256(name.encode()).hexdigest(),
            "log_file": f"{name}.csv",
            "original_name": f"{name}.csv",
            "map_sha256": "map-a",
            "map_name": "box one",
            "rows": 2000,
            "duration_s": 260.0,
            "started_at": START,
            "channels": ["radio_height_ft", "pitch_deg"],
            "notes": [],
        }
        for name in names
    ]
    touched = [row for row in rows if row["contact_t_s"] is not None]
    contacts = [
        {
            "landing_id": row["landing_id"],
            "contact_index": 0,
            "t_s": row["contact_t_s"],
            "vertical_speed_fpm": row["vertical_speed_at_contact_fpm"],
            "vertical_speed_fpm_u": row["vertical_speed_at_contact_fpm_u"],
            "peak_g": 1.2,
            "peak_g_u": 0.02,
        }
        for row in touched
    ]
    traces = [{"landing_id": row["landing_id"], "trace_file": "batch-1.parquet"} for row in touched]
    return Batch(
        logs=pl.DataFrame(logs, schema=frames.LOG),
        landings=landings,
        contacts=pl.DataFrame(contacts, schema=frames.CONTACT),
        gates=pl.DataFrame([_gate(row) for row in rows], schema=frames.GATE),
        expected=pl.DataFrame([_expected(row) for row in rows], schema=frames.EXPECTED),
        faults=pl.DataFrame([_fault(row) for row in touched], schema=frames.FAULT),
        traces=pl.DataFrame(traces, schema=frames.TRACE_FILE),
        channel_quality=pl.DataFrame([_channel(row["log_sha256"]) for row in logs], schema=frames.CHANNEL_QUALITY),
    )


@pytest.fixture
def at() -> datetime:
    """Instant of a load."""
    return datetime(2026, 11, 25, 6, 0, tzinfo=UTC)


@pytest.fixture(scope="session")
def memory() -> Iterator[DuckDBPyConnection]:
    """Connect to a warehouse in memory; making one takes a third of a second."""
    with database.in_memory() as connection:
        yield connection


@pytest.fixture
def con(memory: DuckDBPyConnection) -> Iterator[DuckDBPyConnection]:
    """Connect to an empty warehouse."""
    yield memory
    for name in _tables(memory):
        if name != "schema_version":
            memory.execute(f"delete from {name}")  # noqa: S608 - a table of the schema


@pytest.fixture(scope="session")
def landing() -> Callable[..., Row]:
    """Return what makes one row of the landing frame: (log, index, changes)."""
    return _landing


@pytest.fixture(scope="session")
def go_around() -> Row:
    """Return the changes that make a landing a go-around."""
    return GO_AROUND


@pytest.fixture(scope="session")
def batch() -> Callable[..., Batch]:
    """Return what makes a batch of landing rows; `extra_logs` are logs without an approach."""
    return _batch


def _tables(connection: DuckDBPyConnection) -> list[str]:
    names = connection.execute(
        "select table_name from duckdb_tables() where not internal and not temporary order by table_name"
    )
    return [name for (name,) in names.fetchall()]


def _held(connection: DuckDBPyConnection) -> dict[str, list[tuple[Any, ...]]]:
    return {name: connection.execute(f"from {name} order by all").fetchall() for name in _tables(connection)}


@pytest.fixture(scope="session")
def held() -> Callable[[DuckDBPyConnection], dict[str, list[tuple[Any, ...]]]]:
    """Return what lists every row of every table, to compare before and after."""
    return _held

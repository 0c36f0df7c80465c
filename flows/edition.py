"""What the warehouse and the statistics hold in, what an edition is made of out; and old editions taken away."""

import re
import shutil
from dataclasses import dataclass
from datetime import date, timedelta

import polars as pl

from flows.runways import kept_runways
from flows.workspace import Workspace
from pipeline.statistics.drift import FALSE_ALARMS_PER_1000
from pipeline.statistics.week import Statistics
from pipeline.trace_frame import trace_schema
from reports.edition_data import EditionData
from warehouse.checks import failed, run_checks
from warehouse.database import writer
from warehouse.marts import read
from warehouse.results import inputs_sha256

RECENT_LANDINGS = 60
"""Landings of each pilot of the week whose traces are handed on, for the band that the week's are seen against."""

PROMISE = (
    f"The drift watch gives at most about {FALSE_ALARMS_PER_1000:g} false flag in 1,000 landings of a pilot who does "
    "not change (simulated, both charts together; a season or a recorder's fault is not in that figure)."
)

_EDITION = re.compile(r"\d{4}-W\d{2}")


@dataclass(frozen=True)
class Stock:
    """What the warehouse holds that pages are made of, read at once; `inputs_sha256` tells one state from another."""

    landings: pl.DataFrame
    contacts: pl.DataFrame
    gates: pl.DataFrame
    expected: pl.DataFrame
    faults: pl.DataFrame
    trace_files: pl.DataFrame
    refusals: pl.DataFrame
    suspect_logs: pl.DataFrame
    checks: dict[str, int]
    inputs_sha256: str


def stock(workspace: Workspace, *, as_of: date) -> Stock:
    """Read what an edition that stands at the end of `as_of` (UTC) is made of."""
    with writer(workspace.database) as con:
        return Stock(
            landings=read(con, "approaches"),
            contacts=read(con, "contacts"),
            gates=read(con, "gate_verdicts"),
            expected=read(con, "expected_approaches"),
            faults=read(con, "faults"),
            trace_files=read(con, "trace_files"),
            refusals=read(con, "refusals"),
            suspect_logs=read(con, "logs").filter(pl.col("suspect").is_not_null()),
            checks=failed(run_checks(con)),
            inputs_sha256=inputs_sha256(con, as_of),
        )


def edition_data(workspace: Workspace, held: Stock, found: Statistics, *, week: str, as_of: date) -> EditionData:
    """Return the edition of `week`, whose statistics stand at `as_of`."""
    settings = workspace.settings()
    return EditionData(
        week=week,
        as_of=as_of,
        landings=held.landings,
        contacts=held.contacts,
        gates=held.gates,
        expected=held.expected,
        faults=held.faults,
        traces=_traces(workspace, held, as_of),
        outcomes=found.pilot_outcome,
        fault_shares=found.fault_share,
        drift_points=found.drift_point,
        drift_flags=found.drift_flag,
        consistency=found.consistency,
        reviews=found.review,
        styles=found.style,
        landing_styles=found.landing_style,
        runways=kept_runways(workspace),
        refusals=held.refusals,
        suspect_logs=held.suspect_logs,
        zone=settings.zone,
        false_alarm_text=PROMISE,
        false_alarms_per_1000=FALSE_ALARMS_PER_1000,
        flag_seen_next_by=settings.privacy.flag_seen_next_by,
        policy=settings.rules,
        checks=held.checks,
    )


def drop_old(workspace: Workspace, keep: int) -> list[str]:
    """Take away all editions but the last `keep` (0 keeps all); return the weeks taken away."""
    editions = sorted(path for path in workspace.reports.iterdir() if _EDITION.fullmatch(path.name))
    old = editions[:-keep] if keep else []
    for path in old:
        shutil.rmtree(path)
    return [path.name for path in old]


def _traces(workspace: Workspace, held: Stock, as_of: date) -> pl.DataFrame:
    """Read the traces of the last week's pilots: that week's landings and each one's recent ones."""
    until = held.landings.filter(pl.col("contact_at").dt.date() <= as_of).sort("contact_at", "landing_id")
    pilots = until.filter(pl.col("contact_at").dt.date() > as_of - timedelta(days=7))["pilot"].unique()
    recent = until.filter(pl.col("pilot").is_in(pilots.implode())).group_by("pilot").tail(RECENT_LANDINGS)
    wanted = held.trace_files.join(recent, on="landing_id", how="semi")
    files = [workspace.traces / name for name in wanted["trace_file"].unique().sort()]
    parts = [pl.read_parquet(file, glob=False) for file in files if file.is_file()]
    ids = wanted["landing_id"].implode()
    return pl.concat(
        [pl.DataFrame(schema=trace_schema()), *(part.filter(pl.col("landing_id").is_in(ids)) for part in parts)]
    )

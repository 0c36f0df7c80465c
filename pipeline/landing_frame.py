"""One row an approach: identity, what was stated and found, the versions it rests on, and its measures.

Goes in: approaches with their window and measures. Comes out: the landing frame.
"""

import hashlib

import numpy as np
import polars as pl

from pipeline import rows
from pipeline.context import CONTEXT
from pipeline.found import Found, instant
from pipeline.measures.all_measures import Measures
from pipeline.measures.answers import to_frame
from pipeline.measures.conditions import recorded_wind
from pipeline.measures.table import DEFINITION
from pipeline.measures.table import schema as measure_schema
from pipeline.measures.window import COARSE, Window, between
from pipeline.policy import Policy
from pipeline.quality.marks import artefact_words, suspect_names
from pipeline.recording import Recording

_AUTOMATION_LOOK = between(COARSE, -3.0, -0.25)
Versions = dict[str, list[str | None] | list[str] | str]

_IDENTITY: dict[str, type[pl.DataType] | pl.DataType] = {
    "landing_id": pl.String,
    "log_sha256": pl.String,
    "log_file": pl.String,
    "approach_index": pl.Int64,
    "landing_index": pl.Int64,
    "outcome": pl.String,
    "contact_t_s": pl.Float64,
    "contact_u_s": pl.Float64,
    "contact_evidence": pl.String,
    "contact_at": pl.Datetime("us", "UTC"),
}
_WEATHER = ("wind_from_true_deg", "wind_speed_kt", "gust_kt", "weather_report")
_STATED = [name for name in CONTEXT if name not in _WEATHER]
_FOUND: dict[str, type[pl.DataType] | pl.DataType] = {
    "recorder_rate_hz": pl.Float64,
    "landing_mode": pl.String,
    "lowest_height_ft": pl.Float64,
    "runway_found": pl.String,
    "wind_source": pl.String,
    "report_found": pl.String,
    "report_age_min": pl.Int64,
    "suspect": pl.String,
    "artefact": pl.String,
    "definition": pl.String,
    "constants": pl.String,
    "policy_sha256": pl.String,
    "map_sha256": pl.String,
    "runways_sha256": pl.String,
}


def landing_schema() -> dict[str, type[pl.DataType] | pl.DataType]:
    """Columns and types of the landing frame: identity, context, what was found, then the measures."""
    return {**_IDENTITY, **{name: CONTEXT[name] for name in _STATED}, **_FOUND, **measure_schema()}


def landing_id(log_sha256: str, approach_index: int) -> str:
    """Identity of an approach: 16 hex digits of the hash of its log's hash and its number in the log."""
    return hashlib.sha256(f"{log_sha256}:{approach_index}".encode()).hexdigest()[:16]


def landing_frame(
    group: list[Recording],
    found: list[Found],
    known: pl.DataFrame,
    measures: Measures,
    window: Window,
    versions: Versions,
) -> pl.DataFrame:
    """Return the landing frame, one row an approach in the order of `found`; nulls, never NaN."""
    logs = [group[f.recording] for f in found]
    started = [log.started_at or stated for log, stated in zip(logs, known["flown_at"], strict=True)]
    identity = pl.DataFrame(
        {
            "landing_id": [landing_id(log.log_sha256, f.approach_index) for log, f in zip(logs, found, strict=True)],
            "log_sha256": [log.log_sha256 for log in logs],
            "log_file": [log.log_file for log in logs],
            "approach_index": [f.approach_index for f in found],
            "landing_index": [f.landing_index for f in found],
            "outcome": [f.approach.outcome for f in found],
            "contact_t_s": [f.approach.contact_s for f in found],
            "contact_u_s": [f.approach.contact_u_s for f in found],
            "contact_evidence": [f.approach.evidence for f in found],
            "contact_at": [instant(at, f.approach.contact_s) for at, f in zip(started, found, strict=True)],
        },
        schema=_IDENTITY,
    )
    stated = known.select(_STATED).with_columns(pl.Series("flown_at", started, dtype=pl.Datetime("us", "UTC")))
    facts = pl.DataFrame(
        {
            "recorder_rate_hz": _rate(window),
            "landing_mode": _mode(window),
            "lowest_height_ft": [f.approach.lowest_ft for f in found],
            "suspect": pl.Series([suspect_names(log) for log in logs], dtype=pl.String),
            "artefact": pl.Series(
                [artefact_words(log, f.approach.anchor_s) for log, f in zip(logs, found, strict=True)], dtype=pl.String
            ),
        }
    ).with_columns(
        *known.select("runway_found", "report_found", "report_age_min").iter_columns(),
        _wind_source(known["wind_source"], window),
        *(
            pl.Series(name, v if isinstance(v, list) else [v] * len(found), dtype=pl.String)
            for name, v in versions.items()
        ),
    )
    numbers = to_frame(measures.answers, window.n)
    return pl.concat([identity, stated, facts, numbers], how="horizontal").select(list(landing_schema()))


def runway_hashes(runways: pl.DataFrame) -> dict[str, str]:
    """Hash of each runway's row of the table, by its name; other runways may change without it."""
    rows = runways.select("runway", pl.all().exclude("runway")).rows()
    return {row[0]: hashlib.sha256(repr(row).encode()).hexdigest() for row in rows}


def _runway_hashes(known: pl.DataFrame, runways: pl.DataFrame) -> list[str | None]:
    """Hash of each landing's row of the runway table; None without one."""
    hashes = runway_hashes(runways.filter(pl.col("runway").is_in(known["runway"].drop_nulls().unique().to_list())))
    return [hashes.get(name) for name in known["runway"]]


def versions(
    group: list[Recording], found: list[Found], policy: Policy, known: pl.DataFrame, runways: pl.DataFrame
) -> Versions:
    """What each row rests on beside the constants: definition, policy, channel map and runway."""
    return {
        "definition": DEFINITION,
        "policy_sha256": policy.sha256,
        "map_sha256": [group[f.recording].map_sha256 for f in found],
        "runways_sha256": _runway_hashes(known, runways),
    }


def _rate(window: Window) -> list[float | None]:
    pitch, height = window.interval_s("pitch_deg"), window.interval_s("radio_height_ft")
    interval = np.where(np.isfinite(pitch), pitch, height)
    return [float(f"{1.0 / i:.2g}") if np.isfinite(i) and i > 0 else None for i in interval]


def _mode(window: Window) -> list[str]:
    """manual, manual with autothrust, automatic or unknown, by the automation channels in the last 3 s of flight."""
    pilot = rows.median(window.coarse("autopilot_on")[:, _AUTOMATION_LOOK])
    thrust = rows.median(window.coarse("autothrottle_on")[:, _AUTOMATION_LOOK])
    manual = np.where(thrust > 0.5, "manual with autothrust", "manual")
    return np.where(np.isfinite(pilot), np.where(pilot > 0.5, "automatic", manual), "unknown").tolist()


def _wind_source(settled: pl.Series, window: Window) -> pl.Series:
    """recorded, stated or report: where the wind of each landing was taken from; null without one."""
    recorded = pl.Series(["recorded"] * window.n, dtype=pl.String)
    return recorded.zip_with(pl.Series(recorded_wind(window), dtype=pl.Boolean), settled).alias("wind_source")

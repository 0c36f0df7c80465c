"""Recordings in, measured landings out: the whole way from channels to frames, in groups of bounded size.

Goes in: recordings, what is known of each landing, runways and policy. Comes out: landings, contacts and traces.
"""

import hashlib
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline import rows
from pipeline.context import CONTEXT, context_rows, reference
from pipeline.landings import Approach, find_approaches, owned
from pipeline.measures.all_measures import Measures, measure_window
from pipeline.measures.answers import to_frame
from pipeline.measures.table import DEFINITION
from pipeline.measures.table import schema as measure_schema
from pipeline.measures.window import COARSE, Window, between
from pipeline.policy import Policy
from pipeline.recording import Recording
from pipeline.runway_match import match_runways
from pipeline.stack import Stack, gather, peak, stack

CONSTANTS = "none"
"""Version of the gear and recorder constants; none are learned yet."""
_GROUP_LOGS, _GROUP_VALUES = 100, 1_500_000
_TRACE = between(COARSE, -20.0, 5.0)
_TRACED = ("pitch_deg", "thrust_lever_pct", "vertical_speed_fpm", "normal_accel_g", "airspeed_kt")
_AUTOMATION_LOOK = between(COARSE, -3.0, -0.25)

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
_STATED = [name for name in CONTEXT if name not in ("wind_from_true_deg", "wind_speed_kt", "gust_kt")]
_FOUND: dict[str, type[pl.DataType] | pl.DataType] = {
    "recorder_rate_hz": pl.Float64,
    "landing_mode": pl.String,
    "lowest_height_ft": pl.Float64,
    "definition": pl.String,
    "constants": pl.String,
    "policy_sha256": pl.String,
    "map_sha256": pl.String,
    "runways_sha256": pl.String,
}
_CONTACTS: dict[str, type[pl.DataType]] = {
    "landing_id": pl.String,
    "contact_index": pl.Int64,
    "t_s": pl.Float64,
    "airtime_before_s": pl.Float64,
    "height_before_ft": pl.Float64,
    "vertical_speed_fpm": pl.Float64,
    "vertical_speed_fpm_u": pl.Float64,
    "peak_g": pl.Float64,
    "peak_g_u": pl.Float64,
}


def landing_schema() -> dict[str, type[pl.DataType] | pl.DataType]:
    """Columns and types of the landing frame: identity, context, what was found, then the measures."""
    return {**_IDENTITY, **{name: CONTEXT[name] for name in _STATED}, **_FOUND, **measure_schema()}


def trace_schema() -> dict[str, type[pl.DataType]]:
    """Columns and types of the trace frame; single precision, which no recorder reaches."""
    return {"landing_id": pl.String, **dict.fromkeys(("tau_s", "height_ft", *_TRACED), pl.Float32)}


@dataclass(frozen=True)
class Measured:
    """Frames of one batch: `landings` one row an approach, `contacts` a contact, `traces` 101 rows a landing."""

    landings: pl.DataFrame
    contacts: pl.DataFrame
    traces: pl.DataFrame


@dataclass(frozen=True)
class _Found:
    """One approach and its place: which recording of the group, and its numbers within its log."""

    recording: int
    approach: Approach
    approach_index: int
    landing_index: int | None


def measure_batch(
    recordings: Iterable[Recording], context: pl.DataFrame, *, runways: pl.DataFrame, policy: Policy
) -> Measured:
    """Find and measure every approach of the recordings.

    Parameters
    ----------
    recordings : one or more; the stretches of a long log follow each other. They are taken in groups, so that an
        iterator never has all of them in memory.
    context : one row a log (`landing_index` null) or a landing: `log_sha256` and any of the context columns.
    runways : the runway table.
    policy : the rules verdicts depend on.

    Returns
    -------
    Frames with every column of their schemas, rows in the order of the recordings and of time; empty where nothing
    was found. Nulls carry a reason; nothing is NaN.
    """
    counted: Counter[tuple[str, str]] = Counter()
    parts = [_measure_group(group, context, runways, policy, counted) for group in _groups(recordings)]
    return Measured(
        pl.concat([pl.DataFrame(schema=landing_schema()), *(p.landings for p in parts)]),
        pl.concat([pl.DataFrame(schema=_CONTACTS), *(p.contacts for p in parts)]),
        pl.concat([pl.DataFrame(schema=trace_schema()), *(p.traces for p in parts)]),
    )


def _groups(recordings: Iterable[Recording]) -> Iterator[list[Recording]]:
    group: list[Recording] = []
    values = 0
    for recording in recordings:
        group.append(recording)
        values += sum(len(samples.t) for samples in recording.channels.values())
        if len(group) >= _GROUP_LOGS or values >= _GROUP_VALUES:
            yield group
            group, values = [], 0
    if group:
        yield group


def _measure_group(
    group: list[Recording],
    context: pl.DataFrame,
    runways: pl.DataFrame,
    policy: Policy,
    counted: Counter[tuple[str, str]],
) -> Measured:
    found = [f for number, recording in enumerate(group) for f in _number(number, recording, counted)]
    if not found:
        return Measured(
            pl.DataFrame(schema=landing_schema()), pl.DataFrame(schema=_CONTACTS), pl.DataFrame(schema=trace_schema())
        )
    flat = stack(group)
    known = context_rows(_keys(group, found), context)
    known = known.with_columns(pl.Series("runway", _runways(flat, found, known, runways), dtype=pl.String))
    window = _window(flat, found, known, runways, policy)
    measures = measure_window(window, [f.approach.touches_s for f in found], policy)
    landings = _landings(group, found, known, measures, window, _versions(group, found, runways, policy))
    return Measured(landings, _contacts(landings, found, window), _traces(landings, window, measures))


def _number(number: int, recording: Recording, counted: Counter[tuple[str, str]]) -> list[_Found]:
    """The approaches a recording owns, numbered on from those already counted in its log."""
    found = []
    for approach in owned(find_approaches(recording), recording):
        log = recording.log_sha256
        grounded = approach.grounded
        landing_index = counted[log, "landing"] if grounded else None
        found.append(_Found(number, approach, counted[log, "approach"], landing_index))
        counted[log, "approach"] += 1
        counted[log, "landing"] += grounded
    return found


def _keys(group: list[Recording], found: list[_Found]) -> pl.DataFrame:
    return pl.DataFrame(
        {
            "log_sha256": [group[f.recording].log_sha256 for f in found],
            "landing_index": pl.Series([f.landing_index for f in found], dtype=pl.Int64),
        }
    )


def _runways(flat: Stack, found: list[_Found], known: pl.DataFrame, runways: pl.DataFrame) -> list[str | None]:
    """Runway of each landing: the stated one, else the one that fits place and track."""
    log = np.array([f.recording for f in found], dtype=np.int64)
    times = np.array([f.approach.anchor_s for f in found])[:, None] + np.arange(-3.0, 0.1, 0.5)
    lat, lon = (rows.median(gather(flat, channel, log, times)) for channel in ("latitude_deg", "longitude_deg"))
    track = rows.median(gather(flat, "track_true_deg", log, times))
    heading = rows.median(gather(flat, "heading_true_deg", log, times))
    matched = match_runways(lat, lon, np.where(np.isfinite(track), track, heading), runways=runways)
    return [stated or match for stated, match in zip(known["runway"], matched, strict=True)]


def _window(flat: Stack, found: list[_Found], known: pl.DataFrame, runways: pl.DataFrame, policy: Policy) -> Window:
    return Window(
        stack=flat,
        log=np.array([f.recording for f in found], dtype=np.int64),
        anchor_s=np.array([f.approach.anchor_s for f in found]),
        grounded=np.array([f.approach.grounded for f in found]),
        timed=np.array([f.approach.contact_s is not None for f in found]),
        contact_u_s=np.array([f.approach.contact_u_s or np.nan for f in found], dtype=float),
        reference=reference(known, runways, policy),
    )


def _versions(
    group: list[Recording], found: list[_Found], runways: pl.DataFrame, policy: Policy
) -> dict[str, list[str] | str]:
    table = runways.sort("runway").write_csv() if not runways.is_empty() else ""
    return {
        "definition": DEFINITION,
        "constants": CONSTANTS,
        "policy_sha256": policy.sha256,
        "map_sha256": [group[f.recording].map_sha256 for f in found],
        "runways_sha256": hashlib.sha256(table.encode()).hexdigest(),
    }


def landing_id(log_sha256: str, approach_index: int) -> str:
    """Identity of an approach: 16 hex digits of the hash of its log's hash and its number in the log."""
    return hashlib.sha256(f"{log_sha256}:{approach_index}".encode()).hexdigest()[:16]


def _landings(
    group: list[Recording],
    found: list[_Found],
    known: pl.DataFrame,
    measures: Measures,
    window: Window,
    versions: dict[str, list[str] | str],
) -> pl.DataFrame:
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
            "contact_at": [_instant(at, f.approach.contact_s) for at, f in zip(started, found, strict=True)],
        },
        schema=_IDENTITY,
    )
    stated = known.select(_STATED).with_columns(pl.Series("flown_at", started, dtype=pl.Datetime("us", "UTC")))
    facts = pl.DataFrame(
        {
            "recorder_rate_hz": _rate(window),
            "landing_mode": _mode(window),
            "lowest_height_ft": [f.approach.lowest_ft for f in found],
        }
    ).with_columns(
        *(
            pl.Series(name, v if isinstance(v, list) else [v] * len(found), dtype=pl.String)
            for name, v in versions.items()
        )
    )
    numbers = to_frame(measures.answers, window.n)
    return pl.concat([identity, stated, facts, numbers], how="horizontal").select(list(landing_schema()))


def _instant(started_at: datetime | None, t_s: float | None) -> datetime | None:
    return None if started_at is None or t_s is None else started_at + timedelta(seconds=t_s)


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


def _contacts(landings: pl.DataFrame, found: list[_Found], window: Window) -> pl.DataFrame:
    places = [(i, k, t) for i, f in enumerate(found) for k, t in enumerate(f.approach.touches_s or _only(f))]
    if not places:
        return pl.DataFrame(schema=_CONTACTS)
    which, index, times = (np.array(x) for x in zip(*places, strict=True))
    top, held = peak(window.stack, "normal_accel_g", window.log[which], (times - 0.25, times + 1.0))
    first = index == 0
    frame = pl.DataFrame({"landing_id": landings["landing_id"].gather(which), "contact_index": index, "t_s": times})
    later = pl.Series("peak_g", np.where(first | (held == 0), np.nan, top)).fill_nan(None)
    return frame.with_columns(
        pl.lit(None, pl.Float64).alias("airtime_before_s"),
        pl.lit(None, pl.Float64).alias("height_before_ft"),
        *(
            _of_first(landings, which, first, f"vertical_speed_at_contact_fpm{s}", f"vertical_speed_fpm{s}")
            for s in ("", "_u")
        ),
        _of_first(landings, which, first, "peak_g", "peak_g").fill_null(later),
        _of_first(landings, which, first, "peak_g_u", "peak_g_u"),
    ).select(pl.col(name).cast(kind) for name, kind in _CONTACTS.items())


def _only(found: _Found) -> tuple[float, ...]:
    return () if found.approach.contact_s is None else (found.approach.contact_s,)


def _of_first(
    landings: pl.DataFrame, which: NDArray[np.int64], first: NDArray[np.bool_], column: str, name: str
) -> pl.Series:
    value = landings[column].gather(which).alias(name)
    return value.zip_with(pl.Series(first), pl.Series(name, [None] * len(which), dtype=pl.Float64))


def _traces(landings: pl.DataFrame, window: Window, measures: Measures) -> pl.DataFrame:
    touched = np.flatnonzero(window.timed)
    grid = COARSE[_TRACE]
    columns = {"height_ft": measures.wheel_height_coarse, **{name: window.coarse(name) for name in _TRACED}}
    return pl.DataFrame(
        {
            "landing_id": landings["landing_id"].gather(touched.repeat(len(grid))),
            "tau_s": np.tile(grid, len(touched)),
            **{name: np.round(matrix[touched][:, _TRACE].ravel(), 3) for name, matrix in columns.items()},
        }
    ).select(
        pl.col(name).fill_nan(None).cast(kind) if kind == pl.Float32 else pl.col(name)
        for name, kind in trace_schema().items()
    )

"""A small invented school as literal frames: some pilots, one of them with markup in his name, a week with everything."""

import subprocess
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import polars as pl
import pytest

from pipeline.approach_expected import SCHEMA as EXPECTED
from pipeline.faults.judging import SCHEMA as FAULT
from pipeline.gate_frame import SCHEMA as GATE
from pipeline.landing_frame import landing_schema
from pipeline.measures.table import MEASURES
from pipeline.statistics.week import weekly_statistics
from pipeline.trace_frame import trace_schema
from reports.edition_data import EditionData

WEEK, SUNDAY = "2026-W47", date(2026, 11, 22)
NASTY = '<img src=x onerror="document.title=1">'
CENTRE = {
    "vertical_speed_at_contact_fpm": (-160.0, 45.0, 15.0),
    "touchdown_distance_ft": (1250.0, 260.0, 40.0),
    "distance_from_50ft_ft": (1350.0, 250.0, 25.0),
    "flare_height_ft": (26.0, 5.0, 1.6),
    "pitch_change_deg": (3.0, 0.6, 0.15),
    "pitch_rate_dps": (1.2, 0.3, 0.1),
    "thrust_close_lag_s": (0.8, 0.5, 0.2),
    "thrust_close_height_ft": (18.0, 5.0, 1.5),
    "threshold_height_ft": (48.0, 6.0, 2.0),
    "threshold_speed_over_vref_kt": (6.0, 3.0, 1.5),
    "peak_g": (1.28, 0.09, 0.02),
    "touchdown_lateral_ft": (0.0, 8.0, 10.0),
    "headwind_kt": (8.0, 6.0, 2.0),
    "crosswind_kt": (1.0, 5.0, 2.0),
}


def landing_rows(pilots: int, each: int, *, seed: int = 5) -> pl.DataFrame:
    """Landing frame: every pilot lands `each` times, a few a week, the last in the week of the edition."""
    rng = np.random.default_rng(seed)
    n = pilots * each
    who = np.repeat(np.arange(pilots), each)
    order = np.tile(np.arange(each), pilots)
    end = datetime(2026, 11, 20, 12, tzinfo=UTC)
    at = [end - timedelta(days=3.0 * float(each - 1 - k), minutes=int(w)) for k, w in zip(order, who, strict=True)]
    frame = pl.DataFrame(
        {
            "landing_id": [f"{i:016x}" for i in range(n)],
            "log_sha256": [f"{i:064x}" for i in range(n)],
            "log_file": [f"log-{i}.csv" for i in range(n)],
            "approach_index": np.zeros(n, dtype=int),
            "landing_index": np.zeros(n, dtype=int),
            "outcome": ["full_stop"] * n,
            "contact_t_s": np.full(n, 120.0),
            "contact_u_s": np.full(n, 0.05),
            "contact_at": at,
            "flown_at": [t - timedelta(seconds=120) for t in at],
            "pilot": [NASTY if w == 0 else f"P-{w:05d}" for w in who],
            "device": ["aircraft"] * n,
            "exercise": ["normal"] * n,
            "why_logged": ["routine"] * n,
            "takeover": ["none"] * n,
            "intent": ["normal"] * n,
            "aircraft": [f"SJ-{w % 3}" for w in who],
            "aircraft_type": ["Sandpiper"] * n,
            "recorder": ["plain-8"] * n,
            "recorder_rate_hz": np.full(n, 8.0),
            "runway": np.where(order % 2 == 0, "Undry 08", "Undry 26"),
            "vref_kt": np.full(n, 118.0),
            "landing_mode": ["manual"] * n,
            "lowest_height_ft": np.zeros(n),
            "definition": ["1"] * n,
            "constants": ["none"] * n,
            **{name: ["a" * 64] * n for name in ("policy_sha256", "map_sha256", "runways_sha256")},
            **{name: rng.normal(centre, spread, n) for name, (centre, spread, _) in CENTRE.items()},
            **{f"{name}_u": np.full(n, u) for name, (_, _, u) in CENTRE.items()},
            "gate_500_stable": rng.random(n) < 0.8,
            "gate_500_stable_confidence": np.full(n, 0.9),
            "gate_500_failed": [""] * n,
            "gate_500_failed_confidence": np.full(n, 0.9),
            "gate_500_not_judged": ["localiser glideslope"] * n,
            "gate_500_not_judged_confidence": np.ones(n),
            "in_touchdown_zone": np.ones(n, dtype=bool),
            "in_touchdown_zone_confidence": np.ones(n),
        }
    )
    schema = landing_schema()
    missing = [pl.lit(None, kind).alias(name) for name, kind in schema.items() if name not in frame.columns]
    reasons = {m.reason: pl.when(pl.col(m.name).is_null()).then(pl.lit("no_channel")) for m in MEASURES}
    failed = pl.when(~pl.col("gate_500_stable")).then(pl.lit("speed")).otherwise(pl.lit(""))
    whole = frame.with_columns(missing).with_columns(gate_500_failed=failed)
    return whole.with_columns(**reasons).select(pl.col(name).cast(kind) for name, kind in schema.items())


def trace_rows(landing_ids: list[str]) -> pl.DataFrame:
    """Straight descents with a flare, one trace a landing."""
    tau = np.arange(-20.0, 5.01, 0.25)
    height = np.maximum(-11.0 * (tau + 2.0), 0.0) + np.clip(-tau, 0.0, 4.0) * 2.0
    one = {
        "tau_s": tau,
        "height_ft": height,
        "pitch_deg": np.clip(tau + 6.0, 0.0, 3.0) + 2.0,
        "thrust_lever_pct": np.clip(-tau * 12.0, 0.0, 40.0),
        "vertical_speed_fpm": np.clip(tau * 150.0, -680.0, 0.0),
        "normal_accel_g": np.ones(len(tau)),
        "airspeed_kt": 120.0 - np.clip(tau + 10.0, 0.0, 15.0),
    }
    parts = [pl.DataFrame({"landing_id": [i] * len(tau), **one}, schema=trace_schema()) for i in landing_ids]
    return pl.concat([pl.DataFrame(schema=trace_schema()), *parts])


def fault_rows(landings: pl.DataFrame) -> pl.DataFrame:
    """Fault rows: every fifth landing floated beyond doubt, one of the others cannot be told, the rest did not."""
    p = [0.99 if i % 5 == 0 else None if i == 1 else 0.01 for i in range(landings.height)]
    return pl.DataFrame(
        {
            "landing_id": landings["landing_id"],
            "fault": ["float"] * landings.height,
            "verdict": ["cannot_tell" if x is None else "seen" if x > 0.5 else "not_seen" for x in p],
            "probability": p,
            "given": [None if x is None else 1.0 for x in p],
            "value": [None if x is None else 8.0 if x > 0.5 else 3.0 for x in p],
            "value_u": [None if x is None else 0.3 for x in p],
            "limit_value": [None if x is None else 6.0 for x in p],
            "reason": ["too_slow" if x is None else None for x in p],
        },
        schema=FAULT,
    )


def gate_rows(landings: pl.DataFrame) -> pl.DataFrame:
    """Verdicts at the 500 ft gate of the landing frame, six criteria judged; none broken below it."""
    flags = landings.select(
        "landing_id",
        gate=pl.lit("500 ft"),
        height_ft=500.0,
        reference=pl.lit("threshold"),
        conditions=pl.lit("any"),
        stable="gate_500_stable",
        confidence="gate_500_stable_confidence",
        failed="gate_500_failed",
        not_judged="gate_500_not_judged",
        judged=6,
        held_to_50ft="gate_500_stable",
    )
    return flags.select(
        (pl.col(name) if name in flags.columns else pl.lit(None)).cast(kind).alias(name) for name, kind in GATE.items()
    )


def runway_rows() -> pl.DataFrame:
    """One runway, both directions; the second has a displaced threshold."""
    return pl.DataFrame(
        {
            "runway": ["Undry 08", "Undry 26"],
            "threshold_lat": [-43.6, -43.6],
            "threshold_lon": [-18.2, -18.1],
            "true_heading_deg": [83.0, 263.0],
            "length_ft": [6890.0, 6890.0],
            "width_ft": [148.0, 148.0],
            "elevation_ft": [22.0, 46.0],
            "displaced_threshold_ft": [0.0, 500.0],
            "slope_pct": [0.3, -0.3],
            "aim_point_ft": [1000.0, 1000.0],
            "glidepath_deg": [3.0, 3.0],
            "threshold_crossing_height_ft": [50.0, 50.0],
            "localiser_antenna_ft": [7890.0, 7890.0],
        }
    )


@pytest.fixture
def nasty() -> str:
    """A pilot's name that holds markup."""
    return NASTY


Build = Callable[..., EditionData]


@pytest.fixture(scope="session")
def edition() -> Build:
    """Build the data of an edition of some pilots with some landings each; `changes` replace its fields."""

    def build(pilots: int = 6, each: int = 45, **changes: object) -> EditionData:
        landings = landing_rows(pilots, each) if pilots else pl.DataFrame(schema=landing_schema())
        judged = fault_rows(landings)
        found = weekly_statistics(landings, judged, as_of=SUNDAY)
        contact = dict.fromkeys(("t_s", "airtime_before_s", "height_before_ft", "vertical_speed_fpm"), pl.Float64)
        data = EditionData(
            week=WEEK,
            as_of=SUNDAY,
            landings=landings,
            contacts=pl.DataFrame(
                schema={
                    "landing_id": pl.String,
                    "contact_index": pl.Int64,
                    **contact,
                    **dict.fromkeys(("vertical_speed_fpm_u", "peak_g", "peak_g_u"), pl.Float64),
                }
            ),
            traces=trace_rows(landings["landing_id"].to_list()),
            gates=gate_rows(landings),
            faults=judged,
            expected=pl.DataFrame(schema=EXPECTED),
            outcomes=found.pilot_outcome,
            fault_shares=found.fault_share,
            drift_points=found.drift_point,
            drift_flags=found.drift_flag,
            consistency=found.consistency,
            reviews=found.review,
            styles=found.style,
            landing_styles=found.landing_style,
            runways=runway_rows(),
            refusals=pl.DataFrame({"log_file": [NASTY], "reason": [f"{NASTY}: the file is empty; export it again"]}),
            zone="UTC",
            false_alarm_text="The drift watch gives about 1 false flag in 1,000 landings.",
            false_alarms_per_1000=1.0,
        )
        return replace(data, **changes)

    return build


@pytest.fixture
def in_browser(tmp_path: Path) -> Callable[[Path], tuple[str, str]]:
    """Open a page in headless Chromium; return its rendered document and what the console said."""

    def opened(page: Path, width: int = 1200) -> tuple[str, str]:
        command = [
            "chromium",
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            f"--user-data-dir={tmp_path / 'profile'}",
            f"--window-size={width},2000",
            "--enable-logging=stderr",
            "--log-level=0",
            "--virtual-time-budget=15000",
            "--dump-dom",
            page.as_uri(),
        ]
        done = subprocess.run(command, capture_output=True, text=True, timeout=90, check=True)
        said = "\n".join(line for line in done.stderr.splitlines() if "CONSOLE" in line)
        return done.stdout, said

    return opened

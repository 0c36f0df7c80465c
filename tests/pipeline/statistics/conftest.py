"""Invented landings with known effects for the statistics' tests."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import numpy as np
import polars as pl
import pytest

from pipeline.measures.table import schema

CONTEXT: dict[str, type[pl.DataType]] = {
    **dict.fromkeys(("landing_id", "log_sha256", "log_file", "outcome", "contact_evidence", "pilot"), pl.String),
    **dict.fromkeys(("pilot_monitoring", "seat", "role", "takeover", "device", "exercise", "why_logged"), pl.String),
    **dict.fromkeys(("aircraft", "aircraft_type", "recorder", "runway", "landing_flap", "conditions"), pl.String),
    **dict.fromkeys(("intent", "runway_condition", "landing_mode", "definition", "constants"), pl.String),
    **dict.fromkeys(("policy_sha256", "map_sha256", "runways_sha256"), pl.String),
    **dict.fromkeys(("contact_t_s", "contact_u_s", "recorder_rate_hz", "vref_kt", "target_speed_kt"), pl.Float64),
    **dict.fromkeys(("weight_kg", "lowest_height_ft"), pl.Float64),
    **dict.fromkeys(("approach_index", "landing_index"), pl.Int64),
}
INSTANT = pl.Datetime("us", "UTC")

LandingFrame = Callable[..., pl.DataFrame]


def landing_schema() -> dict[str, pl.DataType | type[pl.DataType]]:
    """Columns and types of the landing frame."""
    return {**CONTEXT, "contact_at": INSTANT, "flown_at": INSTANT, **schema()}


def one_pilot(rng: np.random.Generator, name: str, n: int, *, session: int) -> dict[str, object]:
    """Columns of one pilot's landings: sessions on successive days, wind shared within a session."""
    day = np.arange(n) // session
    wind = rng.normal(8.0, 6.0, day[-1] + 1 if n else 0)[day]
    first = datetime(2026, 1, 5, 8, tzinfo=UTC)
    return {
        "landing_id": [f"{name}{i:04d}".rjust(16, "0") for i in range(n)],
        "log_sha256": [f"{name}-{d}" for d in day],
        "pilot": [name] * n,
        "aircraft": [f"AC{d % 3}" for d in day],
        "contact_at": [first + timedelta(days=int(d), minutes=12 * i) for i, d in enumerate(day)],
        "contact_t_s": np.full(n, 300.0),
        "headwind_kt": wind,
        "crosswind_kt": rng.normal(0.0, 6.0, n),
        "vref_kt": rng.normal(118.0, 3.0, n),
        "runway": rng.choice(["North", "South"], n),
        "aircraft_type": ["Heron"] * n,
        "recorder": ["R8"] * n,
        "vertical_speed_at_contact_fpm": rng.normal(-160.0, 50.0, n),
        "vertical_speed_at_contact_fpm_u": np.full(n, 10.0),
        "touchdown_distance_ft": rng.normal(1300.0, 300.0, n),
        "touchdown_distance_ft_u": np.full(n, 30.0),
        "distance_from_50ft_ft": rng.normal(1500.0, 280.0, n),
        "distance_from_50ft_ft_u": np.full(n, 30.0),
        "flare_height_ft": rng.normal(30.0, 4.0, n),
        "pitch_change_deg": rng.normal(3.0, 0.5, n),
        "pitch_rate_dps": rng.normal(0.9, 0.15, n),
        "thrust_close_height_ft": rng.normal(22.0, 4.0, n),
        "thrust_close_lag_s": rng.normal(1.0, 0.6, n),
    }


@pytest.fixture
def landing_frame() -> LandingFrame:
    """Build a landing frame of some pilots; `changes` alter the columns of the joined frame."""

    def build(pilots: int = 3, each: int = 100, *, session: int = 3, seed: int = 1, **changes: pl.Expr) -> pl.DataFrame:
        rng = np.random.default_rng(seed)
        parts = [pl.DataFrame(one_pilot(rng, f"P{i}", each, session=session)) for i in range(pilots)]
        full = pl.DataFrame(schema=landing_schema())
        frame = pl.concat([full, *(p.cast({"contact_at": INSTANT}) for p in parts)], how="diagonal")
        return frame.with_columns(**changes)

    return build

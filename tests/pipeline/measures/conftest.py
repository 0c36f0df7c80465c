"""The ideal landing measured whole: its row by measure name, with channels put in or left out."""

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import polars as pl
import pytest

from pipeline.measuring import measure_batch
from pipeline.policy import AircraftType, Policy

POLICY = Policy(
    types={
        "tern": AircraftType(
            profile="jet", landing_flap_deg=30.0, idle_at_gate_pct=5.0, wheel_track_ft=18.0, tail_pitch_deg=11.0
        )
    }
)
CONTACT_S, AFTER_S = 150.3, 40.0

Course = Callable[[np.ndarray], np.ndarray]
Row = dict[str, Any]


@pytest.fixture
def flown(ideal, context, runways) -> Callable[..., Row]:
    """Measure the ideal landing; `courses` give channels as functions of the time to contact, s."""

    def one(
        courses: Mapping[str, Course] | None = None,
        *,
        rate_hz: float = 8.0,
        without: tuple[str, ...] = (),
        known: Mapping[str, Any] | None = None,
        runway: Mapping[str, Any] | None = None,
        policy: Policy = POLICY,
        **changes: Any,
    ) -> Row:
        tau = np.arange(0.0, CONTACT_S + AFTER_S, 1.0 / rate_hz) - CONTACT_S
        extra = {name: np.asarray(course(tau), dtype=float) for name, course in (courses or {}).items()}
        recording = ideal(rate_hz=rate_hz, without=without, extra=extra, **changes).recording()
        table = runways.with_columns(**{k: pl.lit(v, pl.Float64) for k, v in (runway or {}).items()})
        told = context.with_columns(**{k: pl.lit(v) for k, v in (known or {}).items()})
        landings = measure_batch([recording], told, runways=table, policy=policy).landings
        assert landings.height == 1
        return landings.row(0, named=True)

    return one


@pytest.fixture
def close() -> Callable[[Row, str, float], bool]:
    """Whether a measure lies within twice its stated uncertainty of the truth."""

    def check(row: Row, name: str, truth: float) -> bool:
        assert row[name] is not None, (name, row[f"{name}_reason"])
        return abs(row[name] - truth) <= 2.0 * row[f"{name}_u"]

    return check

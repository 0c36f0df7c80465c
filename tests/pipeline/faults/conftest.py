"""Landings of which every measure is ordinary, to be changed in the one that a fault is about."""

from collections.abc import Callable

import polars as pl
import pytest

from pipeline.contact_frame import SCHEMA as CONTACTS
from pipeline.faults.flown import NAMES as FLOWN
from pipeline.faults.flown import SCHEMA as FLOWN_SCHEMA
from pipeline.faults.judging import judge_faults
from pipeline.landing_frame import landing_schema
from pipeline.measures.table import MEASURES
from pipeline.policy import AircraftType, Policy

ORDINARY: dict[str, float | bool | int | str] = {
    "gate_500_stable": True,
    "gate_500_failed": "",
    "gate_500_speed_over_target_kt": 3.0,
    "gate_500_gear_down": True,
    "stable_to_threshold": True,
    "continued_unstable": False,
    "lowest_glideslope_dots": -0.2,
    "threshold_height_ft": 50.0,
    "threshold_speed_over_vref_kt": 5.0,
    "threshold_headwind_kt": 8.0,
    "threshold_crosswind_kt": 10.0,
    "flare_height_ft": 25.0,
    "height_regained_ft": 0.0,
    "thrust_close_height_ft": 20.0,
    "thrust_at_contact_pct": 0.0,
    "pitch_after_close_deg": 0.2,
    "pitch_change_deg": 3.0,
    "float_time_s": 3.0,
    "vertical_speed_at_contact_fpm": -150.0,
    "peak_g_sampled": 1.3,
    "normal_accel_rate_hz": 8.0,
    "roll_into_wind_at_contact_deg": 1.0,
    "roll_at_contact_deg": 1.0,
    "crab_at_contact_deg": 1.0,
    "lateral_drift_kt": 0.5,
    "tail_clearance_deg": 6.0,
    "touchdown_distance_ft": 1500.0,
    "touchdown_lateral_ft": 4.0,
    "runway_used_pct": 19.0,
    "bounces": 0,
    "nose_lag_s": 3.0,
    "nose_rate_dps": -1.5,
    "spoiler_lag_s": 1.0,
    "runway_remaining_ft": 6400.0,
    "brake_lag_s": 4.0,
    "reverse_lag_s": 2.0,
    "runway_left_at_60kt_ft": 4000.0,
}
"""Values at which no fault is seen on a jet."""
ORDINARY_FLOWN: dict[str, float | None] = {
    "bank_100_to_20ft_deg": 3.0,
    "bank_below_20ft_deg": 2.0,
    "lowest_speed_over_vref_kt": 3.0,
    "sink_kept_pct": 20.0,
    "path_under_glidepath_deg": -0.2,
    "nose_pushed_deg": None,
}
"""The same of what faults alone ask for."""
KIND = "Sarnel J4"
POLICY = Policy(
    types={
        KIND: AircraftType(
            profile="jet",
            crab_max_deg=6.0,
            crosswind_max_kt=30.0,
            tailwind_max_kt=10.0,
            pod_roll_deg=14.0,
            tip_roll_deg=18.0,
        )
    }
)


def _landing(landing_id: str, u: float, changes: dict[str, object]) -> dict[str, object]:
    row: dict[str, object] = dict.fromkeys(landing_schema())
    for measure in MEASURES:
        value = changes.get(measure.name, ORDINARY.get(measure.name))
        row[measure.name] = value
        quality = u if measure.kind == "number" else 0.99
        row[measure.quality] = None if value is None else quality
        row[measure.reason] = changes.get(measure.reason, "no_channel") if value is None else None
    context: dict[str, object] = {
        "aircraft_type": KIND,
        "landing_index": 0,
        "landing_mode": "manual",
        "exercise": "normal",
    }
    return (
        row
        | context
        | {k: v for k, v in changes.items() if k in context or k in ("intent", "device")}
        | {"landing_id": landing_id}
    )


def _flown(landing_id: str, u: float, changes: dict[str, object]) -> dict[str, object]:
    row: dict[str, object] = {"landing_id": landing_id}
    for name in FLOWN:
        value = changes.get(name, ORDINARY_FLOWN[name])
        row |= {name: value, f"{name}_u": None if value is None else u}
        row[f"{name}_reason"] = changes.get(f"{name}_reason", "not_reached") if value is None else None
    return row


@pytest.fixture
def policy() -> Policy:
    """A policy that knows one jet."""
    return POLICY


@pytest.fixture
def judged() -> Callable[..., pl.DataFrame]:
    """Judge landings l0, l1 ... that differ from the ordinary in the given columns, each measure known to `u`."""

    def made(
        *changes: dict[str, object], u: float = 0.01, policy: Policy = POLICY, contacts: pl.DataFrame | None = None
    ) -> pl.DataFrame:
        names = [f"l{i}" for i in range(len(changes))]
        each = list(zip(names, changes, strict=True))
        return judge_faults(
            pl.DataFrame([_landing(name, u, change) for name, change in each], schema=landing_schema()),
            policy,
            contacts=pl.DataFrame(schema=CONTACTS) if contacts is None else contacts,
            flown=pl.DataFrame([_flown(name, u, change) for name, change in each], schema=FLOWN_SCHEMA),
        )

    return made


@pytest.fixture
def contacts() -> Callable[..., pl.DataFrame]:
    """Make the contacts of a landing, each with its vertical speed, ft/min."""

    def made(landing_id: str, *speeds: float) -> pl.DataFrame:
        rows = [
            {
                "landing_id": landing_id,
                "contact_index": i,
                "t_s": 100.0 + i,
                "vertical_speed_fpm": v,
                "vertical_speed_fpm_u": 5.0,
            }
            for i, v in enumerate(speeds)
        ]
        return pl.DataFrame(rows, schema=CONTACTS)

    return made

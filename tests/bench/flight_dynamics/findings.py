"""Measured and true landings in; outcomes, bounces and gate verdicts told right out; what lacks its channel."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import polars as pl
from flight_dynamics.cases import Batch, Landing
from flight_dynamics.recorders import BANDS

from pipeline.measuring import measure_batch
from pipeline.recording import Recording

NEEDS: dict[tuple[str, ...], tuple[str, ...]] = {
    ("pitch_deg",): (
        "flare_height_ft", "flare_time_s", "pitch_change_deg", "pitch_at_contact_deg", "pitch_after_close_deg",
        "thrust_close_lag_s", "approach_pitch_deg",
    ),
    ("thrust_lever_pct", "engine_speed_pct", "fuel_flow_kg_h"): (
        "thrust_close_height_ft", "thrust_close_lag_s", "thrust_close_time_s", "idle_before_contact_s",
        "thrust_at_contact_pct", "approach_thrust_pct",
    ),
    ("normal_accel_g",): ("peak_g", "peak_g_firmest", "peak_g_sampled", "turbulence_g"),
    ("airspeed_kt",): (
        "threshold_airspeed_kt", "threshold_speed_over_vref_kt", "contact_airspeed_kt", "speed_bled_kt",
        "threshold_energy_ft",
    ),
    ("roll_deg",): ("roll_at_contact_deg",),
    ("radio_height_ft", "pressure_altitude_ft", "vertical_speed_fpm"): (
        "vertical_speed_at_contact_fpm", "threshold_height_ft", "flare_height_ft", "float_time_s",
        "distance_from_50ft_ft", "thrust_close_height_ft",
    ),
    ("latitude_deg", "longitude_deg"): (
        "touchdown_distance_ft", "touchdown_lateral_ft", "threshold_lateral_ft", "threshold_height_ft",
        "runway_used_pct", "in_touchdown_zone",
    ),
    ("spoiler_pct",): ("spoiler_lag_s",),
    ("brake_pct",): ("brake_lag_s",),
    ("heading_true_deg",): ("crab_at_contact_deg", "decrab_height_ft"),
}  # fmt: skip
"""Channels which, all absent from a log, leave these measures without any evidence."""


def outcomes(both: pl.DataFrame) -> pl.DataFrame:
    """One row a band, with and without ground switch: outcomes told right, bounces found and false."""
    return pl.DataFrame(
        [
            {
                "band": band,
                "switch": switch,
                **_told(both.filter((pl.col("band") == band) & (pl.col("has_switch") == switch))),
            }
            for band in BANDS
            for switch in (True, False)
        ],
        infer_schema_length=None,
    )


def _told(some: pl.DataFrame) -> dict[str, float | int | str | None]:
    right = (some["outcome"] == some["true_outcome"]).fill_null(value=False)
    contacts = some.filter(pl.col("true_long_bounces").is_not_null())
    long = contacts.filter(pl.col("true_long_bounces") > 0)
    counted = contacts.drop_nulls("bounces")
    return {
        "n": some.height,
        "outcome_right": _share(right),
        "long_bounces": long.height,
        "found": _share((long["bounces"] >= long["true_long_bounces"]).fill_null(value=False)),
        "counted": counted.height,
        "false": _share(counted["bounces"] > counted["true_bounces"]),
        "wrong": " ".join(
            f"{r['number']}:{r['true_outcome']}>{r['outcome']}"
            for r in some.filter(~right).head(6).iter_rows(named=True)
        ),
    }


def _share(of: pl.Series) -> float | None:
    return round(float(of.mean()), 3) if len(of) else None


def gates(both: pl.DataFrame, some: Sequence[Landing]) -> pl.DataFrame:
    """One row a gate and band: verdicts told right where every true margin is further from 0 than two uncertainties."""
    margins = {(one.plan.half, one.plan.number): one.truth.gate_margins for one in some}
    rows = []
    for gate in ("gate_1000", "gate_500"):
        for band in BANDS:
            judged = [
                (row[f"{gate}_stable"], all(margins[row["half"], row["number"]][gate][k] > 0 for k in _CRITERIA))
                for row in both.filter(pl.col("band") == band).iter_rows(named=True)
                if _clear(row, gate, margins[row["half"], row["number"]].get(gate))
            ]
            told = [(said, true) for said, true in judged if said is not None]
            rows.append(
                {
                    "gate": gate,
                    "band": band,
                    "n": len(told),
                    "truly_met": sum(true for _, true in told),
                    "not_told": len(judged) - len(told),
                    "right": round(float(np.mean([said == true for said, true in told])), 3) if told else None,
                }
            )
    return pl.DataFrame(rows, infer_schema_length=None)


_CRITERIA = {
    "speed": "speed_over_target_kt_u",
    "sink": "sink_fpm_u",
    "localiser": "localiser_dots_u",
    "glideslope": "glideslope_dots_u",
    "bank": "bank_deg_u",
}


def _clear(row: dict[str, object], gate: str, margin: dict[str, float] | None) -> bool:
    if margin is None:
        return False
    for criterion, column in _CRITERIA.items():
        u = row[f"{gate}_{column}"]
        if not isinstance(u, float) or abs(margin[criterion]) <= 2.0 * u:
            return False
    return True


def told_without_channel(batch: Batch) -> pl.DataFrame:
    """One row a missing group of channels: measures told all the same, which must be none."""
    rows = []
    for absent, measures in NEEDS.items():
        bare = [_without(recording, absent) for recording in batch.recordings]
        found = measure_batch(bare, batch.context, runways=batch.runways, policy=batch.policy).landings
        present = [name for name in measures if name in found.columns]
        told = {name: found.height - found[name].null_count() for name in present}
        unreasoned = [
            name for name in present if found.filter(pl.col(name).is_null() & pl.col(f"{name}_reason").is_null()).height
        ]
        rows.append(
            {
                "without": " ".join(absent),
                "measures": len(present),
                "told": sum(told.values()),
                "which": " ".join(f"{name}:{number}" for name, number in told.items() if number),
                "null_without_reason": " ".join(unreasoned),
            }
        )
    return pl.DataFrame(rows)


def _without(recording: Recording, absent: tuple[str, ...]) -> Recording:
    return replace(recording, channels={k: v for k, v in recording.channels.items() if k not in absent})

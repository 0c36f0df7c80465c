"""What a manifest, a runway table and settings would say of the rig's landings."""

from collections.abc import Sequence

import polars as pl
from flight_dynamics.airframes import AIRFRAMES
from flight_dynamics.field import ELEVATION_FT, GLIDESLOPE_FT, HEADING_DEG, LENGTH_FT, LOCALISER_FT, THRESHOLD
from flight_dynamics.scenario import Scenario

from pipeline.policy import AircraftType, Policy


def speeds(plan: Scenario) -> tuple[float, float]:
    """Reference and target speed, kt, that the context states."""
    plane = AIRFRAMES[plan.airframe]
    return plane.vref_kt, plane.vref_kt + (5.0 if plane.jet else 3.0)


def context(plans: Sequence[Scenario], index: pl.DataFrame) -> pl.DataFrame:
    """One context row a log."""
    return index.select("log_sha256", "recorder", aircraft_type="airframe", aircraft="airframe").with_columns(
        pl.Series("landing_index", [None] * len(plans), dtype=pl.Int64),
        pl.lit("P-AAAAA").alias("pilot"),
        pl.Series("vref_kt", [speeds(plan)[0] for plan in plans]),
        pl.Series("target_speed_kt", [speeds(plan)[1] for plan in plans]),
        pl.Series("runway", [_runway(plan) for plan in plans]),
    )


def _runway(plan: Scenario) -> str:
    return f"rig {plan.half} {plan.number}"


def runways(plans: Sequence[Scenario]) -> pl.DataFrame:
    """One runway end a landing, all in one place, each with its own slope as a table would round it."""
    return pl.DataFrame(
        {
            "runway": [_runway(plan) for plan in plans],
            "threshold_lat": THRESHOLD[0],
            "threshold_lon": THRESHOLD[1],
            "true_heading_deg": HEADING_DEG,
            "length_ft": LENGTH_FT,
            "width_ft": 150.0,
            "elevation_ft": ELEVATION_FT,
            "displaced_threshold_ft": 0.0,
            "slope_pct": [round(plan.slope_pct, 1) for plan in plans],
            "aim_point_ft": GLIDESLOPE_FT,
            "glidepath_deg": 3.0,
            "threshold_crossing_height_ft": 52.4,
            "localiser_antenna_ft": LOCALISER_FT,
        }
    )


def policy() -> Policy:
    """Rules of the shipped policy, and what is known of the three airframes."""
    return Policy(
        types={
            letter: AircraftType(
                profile="jet" if plane.jet else "light",
                landing_flap_deg=plane.flap_deg,
                antenna_ahead_ft=plane.antenna_ahead_ft,
            )
            for letter, plane in AIRFRAMES.items()
        }
    )

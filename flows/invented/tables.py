"""Flights go in; the tables an operator would bring beside the logs come out: manifest, exposure."""

import numpy as np
import polars as pl

from flows.invented.airframes import AIRFRAMES
from flows.invented.conventions import RECORDERS
from flows.invented.flights import Flight, crosswind_kt, type_name
from flows.invented.lanes import target_kt, vref_kt


def manifest(flights: list[Flight], *, rng: np.random.Generator) -> pl.DataFrame:
    """One row a log. Stamps in a log make `flown_at` needless: it is left blank there."""
    return pl.DataFrame(
        [_row(flight, instructed=bool(rng.random() < 0.3)) for flight in flights], infer_schema_length=None
    )


def _row(flight: Flight, *, instructed: bool) -> dict[str, object]:
    weather, a = flight.weather, AIRFRAMES[flight.profile]
    recorder = RECORDERS[flight.recorder]
    stamped = recorder.time_form == "iso8601"
    return {
        "log_file": flight.log_file,
        "map": f"maps/{recorder.name}.toml" if recorder.name == "clock-4" else None,
        "flown_at": None if stamped else flight.started_at.strftime("%Y-%m-%dT%H:%M:%SZ"),
        "pilot": None if flight.unnamed else flight.pilot.pilot,
        "seat": "left",
        "role": "training" if instructed else "line",
        "device": None if flight.device == "aircraft" else flight.device,
        "exercise": None if flight.exercise == "normal" else flight.exercise,
        "why_logged": None,
        "aircraft": flight.aircraft,
        "aircraft_type": type_name(flight),
        "recorder": flight.recorder,
        "runway": flight.runway.runway,
        "vref_kt": vref_kt(flight),
        "target_speed_kt": target_kt(flight),
        "landing_flap": str(int(a.landing_flap_deg)),
        "weight_kg": round(a.mass_kg * flight.mass_share),
        "conditions": "visual",
        "wind_from_true_deg": weather.from_deg,
        "wind_speed_kt": weather.speed_kt,
        "gust_kt": weather.gust_kt,
        "runway_condition": "wet" if weather.wet else "dry",
        "note": f"crosswind {abs(crosswind_kt(flight.runway, weather)):.0f} kt" if weather.gust_kt else None,
    }


def exposure(truth: pl.DataFrame, *, rng: np.random.Generator) -> pl.DataFrame:
    """Landings flown by pilot, aircraft and month: those logged, and a few of which no log was kept."""
    logged = (
        truth.filter(pl.col("contact_t_s").is_not_null() & pl.col("pilot_in_manifest").is_not_null())
        .group_by("pilot", "aircraft", pl.col("started_at").dt.strftime("%Y-%m").alias("month"))
        .agg(pl.len().alias("landings_flown"))
        .sort("pilot", "aircraft", "month")
    )
    lost = rng.binomial(2, 0.1, size=logged.height)
    return logged.with_columns(landings_flown=pl.col("landings_flown") + pl.Series(lost))

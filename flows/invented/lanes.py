"""Flights to be flown go in; the plan the simulation flies, one lane an approach, comes out."""

from dataclasses import fields

import numpy as np

from flows.invented.airframes import AIRFRAMES
from flows.invented.dynamics import density
from flows.invented.flights import Approach, Flight, crosswind_kt, headwind_kt
from flows.invented.plan import Plan
from flows.invented.technique import Technique
from flows.invented.units import FPM, FT, KT, RHO_0

EYE_TO_WHEEL_FT = {"jet": 5.0, "light": 4.0}
"""How far below the beam the main wheels cross the threshold."""
VERTICAL_SPEED_LAG_S = {
    "metric-16": 0.15,
    "mixed-16": 0.4,
    "clock-4": 0.6,
    "plain-8": 0.25,
    "tablet-2": 0.8,
    "slow-1": 0.8,
}
AUTOMATIC = Technique(-1, 45.0, 150.0, 0.0, 0.0, 0.2, 1.6, 3.0, 0.0, 0.0, 0.0, np.radians(0.05))
"""An automatic landing: flare at 45 ft, about 2.5 ft/s on the ground (common practice)."""
START_FT = 1500.0


def vref_kt(flight: Flight) -> float:
    """Reference speed at this mass, as the crew would look it up."""
    return float(round(AIRFRAMES[flight.profile].vref_kt * np.sqrt(flight.mass_share)))


def target_kt(flight: Flight) -> float:
    """Target speed: reference plus half the headwind and the whole gust, at most 20 kt (common practice)."""
    weather = flight.weather
    gust = 0.0 if weather.gust_kt is None else weather.gust_kt - weather.speed_kt
    share = 1.0 if flight.profile == "jet" else 0.5
    additive = share * (max(0.5 * headwind_kt(flight.runway, weather), 0.0) + gust)
    return vref_kt(flight) + float(round(min(additive, 20.0)))


def plan_lanes(flights: list[Flight], *, seed: int) -> Plan:
    """The plan of all approaches of `flights`, which are of one type, in their order."""
    rng = np.random.default_rng(seed)
    rows = [
        _lane(flight, approach, number, rng) for flight in flights for number, approach in enumerate(flight.approaches)
    ]
    names = [field.name for field in fields(Plan) if field.name != "a"]
    values = {name: np.array([row[name] for row in rows], dtype=np.float64) for name in names}
    return Plan(a=AIRFRAMES[flights[0].profile], **values)


def _lane(flight: Flight, approach: Approach, number: int, rng: np.random.Generator) -> dict[str, float]:
    """One lane's values."""
    a = AIRFRAMES[flight.profile]
    way = AUTOMATIC if flight.automatic else approach.technique
    rho = air_density(flight)
    true = np.sqrt(RHO_0 / rho) * KT
    start_ft = START_FT if number == 0 else a.circuit_height_ft
    return {
        **_place(flight, start_ft=start_ft + float(rng.uniform(-30.0, 60.0))),
        **_hands(flight, way),
        **_after(rng),
        "kind": float(approach.kind),
        "mass_kg": a.mass_kg * flight.mass_share,
        "density_kg_m3": rho,
        "target_ms": (target_kt(flight) + way.speed_kt) * true,
        "vref_ms": vref_kt(flight) * true,
        "offset_m": approach.offset_ft * FT,
        "offset_ms": approach.offset_kt * KT * (1.0 if flight.profile == "jet" else 0.75),
        "offset_until_m": approach.offset_until_ft * FT,
        "go_m": approach.go_ft * FT,
        "vs_lag_s": VERTICAL_SPEED_LAG_S[flight.recorder],
        "aim_m": _aim_ft(flight, way) * FT,
    }


def air_density(flight: Flight) -> float:
    """Density at the field, kg/m3."""
    return density(flight.runway.elevation_ft * FT, flight.weather.warmer_k)


def _aim_ft(flight: Flight, way: Technique) -> float:
    return flight.runway.threshold_crossing_height_ft - EYE_TO_WHEEL_FT[flight.profile] + way.aim_ft


def _place(flight: Flight, *, start_ft: float) -> dict[str, float]:
    """Runway and air."""
    weather, runway = flight.weather, flight.runway
    gust = 0.15 if weather.gust_kt is None else 0.22 * (weather.gust_kt - weather.speed_kt) * KT
    return {
        "slope": runway.slope_pct / 100.0,
        "path": float(np.tan(np.radians(runway.glidepath_deg))),
        "start_m": start_ft * FT,
        "head_ms": headwind_kt(runway, weather) * KT,
        "cross_ms": crosswind_kt(runway, weather) * KT,
        "gust_ms": 0.045 * weather.speed_kt * KT + gust,
    }


def _hands(flight: Flight, way: Technique) -> dict[str, float]:
    """The pilot's flare, lever and steadiness; an automatic pilot's hand is steadier."""
    return {
        "rough": way.rough,
        "path_gain": 0.2 if flight.automatic else 0.15,
        "flare_m": way.flare_ft * FT,
        "sink_ms": way.sink_fpm * FPM,
        "stage_m": way.stage_ft * FT,
        "stage_sink_ms": way.stage_fpm * FPM,
        "lag_s": way.lag_s,
        "close_lag_s": way.close_lag_s,
        "close_s": way.close_s,
        "after_close": np.radians(way.after_close_deg),
    }


def _after(rng: np.random.Generator) -> dict[str, float]:
    """Drift kicked off, nose lowered, brakes, time on the wheels."""
    return {
        "decrab_m": float(rng.uniform(12.0, 24.0)) * FT,
        "decrab": float(rng.uniform(0.6, 0.95)),
        "derotate_s": float(rng.uniform(0.5, 1.6)),
        "derotate_rate": np.radians(float(rng.uniform(1.0, 2.4))),
        "brake": float(rng.uniform(0.45, 0.9)),
        "ground_s": float(rng.uniform(3.6, 6.0)),
    }

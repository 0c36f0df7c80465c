"""A flown log's motion goes in; what each sensor would show, in canonical units and before noise, comes out."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from flows.invented.flown import Sampled
from flows.invented.geodesy import runway_to_globe
from flows.invented.units import FPM, FT, KT, RHO_0

Floats = NDArray[np.float64]

GLIDE_ANTENNA_M = 2.2
"""Glideslope antenna over the main wheels. Our own choice."""
LANDING_PITCH = np.radians(3.0)
"""Attitude in which radio height is set to read zero on the wheels. Our own choice."""


def _ahead(f: Sampled, metres: float) -> tuple[Floats, Floats]:
    """Place along and across the runway of a point ahead of the main wheels."""
    return f["x"] + metres * np.cos(f["psi"]), f["y"] + metres * np.sin(f["psi"])


def _globe(f: Sampled) -> tuple[Floats, Floats]:
    along, right = _ahead(f, f.a.antenna_ahead_m)
    return runway_to_globe(
        along,
        right,
        latitude_deg=f.runway.threshold_lat,
        longitude_deg=f.runway.threshold_lon,
        heading_deg=f.runway.true_heading_deg,
    )


def _surface_ft(f: Sampled) -> Floats:
    """Height of the main wheels over the threshold's level."""
    return f["h"] / FT + f.runway.slope_pct / 100.0 * f["x"] / FT


def _radio_height(f: Sampled) -> Floats:
    along, _ = _ahead(f, f.a.radio_ahead_m)
    arm = f.a.radio_ahead_m / FT * (np.sin(f["theta"]) - np.sin(LANDING_PITCH))
    height = _surface_ft(f) - f.runway.ground_ft(along / FT)
    return np.minimum(height + arm, 2500.0)


def _geometric_altitude(f: Sampled) -> Floats:
    return _surface_ft(f) + f.runway.elevation_ft + 6.0 + f.a.antenna_ahead_m / FT * np.sin(f["theta"])


def _pressure_altitude(f: Sampled) -> Floats:
    return _surface_ft(f) + f.runway.elevation_ft + 27.3 * (1013.25 - f.flown.pressure_hpa)


def _airspeed(f: Sampled) -> Floats:
    return f["airspeed"] * np.sqrt(f.flown.density_kg_m3 / RHO_0) / KT


def _heading(f: Sampled) -> Floats:
    return np.mod(f.runway.true_heading_deg + np.degrees(f["psi"]), 360.0)


def _track(f: Sampled) -> Floats:
    return np.mod(f.runway.true_heading_deg + np.degrees(np.arctan2(f["v"], f["u"])), 360.0)


def _glideslope(f: Sampled) -> Floats:
    """Dots above the beam, as long as the beam is ahead; it reads full scale past its aerial."""
    origin = f.runway.threshold_crossing_height_ft / np.tan(np.radians(f.runway.glidepath_deg))
    away = np.maximum(origin - f["x"] / FT, 1.0)
    angle = np.degrees(np.arctan((_surface_ft(f) + GLIDE_ANTENNA_M / FT) / away))
    return np.clip((angle - f.runway.glidepath_deg) / 0.35, -2.5, 2.5)


def _localiser(f: Sampled) -> Floats:
    away = np.maximum(f.runway.localiser_antenna_ft - f["x"] / FT, 100.0)
    full = np.arctan(350.0 / f.runway.localiser_antenna_ft)
    return np.clip(2.0 * np.arctan(f["y"] / FT / away) / full, -2.5, 2.5)


def _engine_speed(f: Sampled) -> Floats:
    return 100.0 * (0.30 + 0.66 * np.sqrt(np.clip(f["thrust"], 0.0, 1.0)))


def _flap(f: Sampled) -> Floats:
    return f.a.landing_flap_deg * (1.0 - 0.45 * np.round(f["clean"] * 4.0) / 4.0)


def _wind_from(f: Sampled) -> Floats:
    return np.mod(f.runway.true_heading_deg + np.degrees(np.arctan2(f["right"], f["head"])), 360.0)


def _yes(condition: NDArray[np.bool_]) -> Floats:
    return condition.astype(np.float64)


SENSORS: dict[str, Callable[[Sampled], Floats]] = {
    "radio_height": _radio_height,
    "pressure_altitude": _pressure_altitude,
    "geometric_altitude": _geometric_altitude,
    "vertical_speed": lambda f: f["vs_lagged"] / FPM,
    "airspeed": _airspeed,
    "ground_speed": lambda f: np.hypot(f["u"], f["v"]) / KT,
    "pitch": lambda f: np.degrees(f["theta"]),
    "roll": lambda f: np.degrees(f["phi"]),
    "heading_true": _heading,
    "track_true": _track,
    "normal_accel": lambda f: f["nz"],
    "longitudinal_accel": lambda f: f["ax"],
    "lateral_accel": lambda f: f["ay"],
    "thrust_lever": lambda f: 100.0 * f["lever"],
    "engine_speed": _engine_speed,
    "main_on_ground": lambda f: f["wheels"],
    "nose_on_ground": lambda f: f["nose"],
    "gear_down": lambda f: _yes(f["clean"] < 0.6),
    "flap": _flap,
    "localiser": _localiser,
    "glideslope": _glideslope,
    "latitude": lambda f: _globe(f)[0],
    "longitude": lambda f: _globe(f)[1],
    "spoiler": lambda f: 100.0 * f["spoiler"],
    "reverse": lambda f: 100.0 * f["reverse"],
    "brake": lambda f: 100.0 * f["brake"],
    "autopilot_on": lambda f: _yes(f["h"] > f.flown.autopilot_off_m),
    "autothrottle_on": lambda f: _yes(f["h"] > f.flown.autothrottle_off_m),
    "wind_speed": lambda f: np.hypot(f["head"], f["right"]) / KT,
    "wind_from_true": _wind_from,
    "gross_weight": lambda f: np.full(len(f.part), f.flown.mass_kg),
}
"""What can be recorded, by the key a channel map uses."""

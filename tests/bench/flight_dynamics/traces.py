"""A flight in, its noise-free trace at 240 Hz out: earth axes, main wheels, runway coordinates."""

from dataclasses import dataclass

import numpy as np
from flight_dynamics.airframes import AIRFRAMES
from flight_dynamics.cockpit import KT
from flight_dynamics.field import ELEVATION_FT, HEADING_DEG, along_right, turned
from flight_dynamics.flight import Flight
from flight_dynamics.scenario import Scenario
from flight_dynamics.setting import RATE_HZ
from numpy.typing import NDArray
from scipy.signal import butter, lfilter, lfilter_zi

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Trace:
    """Columns (n,) by name at 240 Hz from t = 0, and the pilot's instants, s.

    `left_ft`, `right_ft`, `nose_ft`: wheel heights above the runway surface, negative where the strut is compressed.
    `mid_ft`: mean of the main wheels. `x_ft`, `y_ft`: the point midway between them, along and right of the runway
    from the threshold. `altitude_ft`: of that point above sea level. `closure_fps`: rate of `mid_ft`; `climb_fps`:
    vertical speed of the centre of gravity to earth. `normal_g`, `long_g`, `lat_g`: at the centre of gravity, as an
    accelerometer feels. `pitch_deg`, `roll_deg`, `heading_deg` (true), `track_deg`, `airspeed_kt`, `ground_kt`,
    `lever_pct` (negative in reverse), `engine_pct`, `fuel_kg_h`, `flap_deg`, `brake_pct`, `spoiler_pct`, and wind
    `head_kt`, `cross_kt` as the aircraft meets it.
    """

    columns: dict[str, Floats]
    events: dict[str, float]

    @property
    def t(self) -> Floats:
        """Time of each sample, s."""
        return np.arange(len(self.columns["mid_ft"])) / RATE_HZ

    def __getitem__(self, name: str) -> Floats:
        """Column by name."""
        return self.columns[name]


def trace(flight: Flight, plan: Scenario) -> Trace:
    """Turn a flight's raw columns back to earth."""
    c = flight.columns
    slope = float(np.arctan(plan.slope_pct / 100.0))
    place = _place(flight)
    left, right = c["left_agl"] - c["left_in"], c["right_agl"] - c["right_in"]
    mid = 0.5 * (left + right)
    tail, from_left = turned(c["wind_n"], c["wind_e"])
    columns = {
        "left_ft": left,
        "right_ft": right,
        "nose_ft": c["nose_agl"] - c["nose_in"],
        "mid_ft": mid,
        "x_ft": place["x"],
        "y_ft": place["y"],
        "altitude_ft": ELEVATION_FT + mid + slope * place["x"],
        "closure_fps": np.gradient(mid, 1.0 / RATE_HZ),
        "climb_fps": -c["down"] * np.cos(slope) + place["forward"] * np.sin(slope),
        "ground_kt": np.hypot(place["forward"], place["right"]) / KT,
        "airspeed_kt": c["speed_kt"],
        **_attitude(flight, place, slope),
        **_acceleration(flight, place, slope),
        **_systems(flight, plan),
        "head_kt": -tail / KT,
        "cross_kt": -from_left / KT,
    }
    return Trace(columns, flight.events)


def _place(flight: Flight) -> dict[str, Floats]:
    """Runway coordinates of the main wheels' midpoint and the speed along and across, ft and ft/s."""
    c = flight.columns
    x, y = along_right(c["lat"], c["lon"])
    forward, right = turned(c["north"], c["east"])
    psi = (c["psi"] - np.radians(HEADING_DEG) + np.pi) % (2.0 * np.pi) - np.pi
    ahead = -(flight.main_x_in - c["cg_x"]) / 12.0
    below = -(flight.main_z_in - c["cg_z"]) / 12.0
    level = ahead * np.cos(c["theta"]) + below * np.sin(c["theta"]) * np.cos(c["phi"])
    aside = -below * np.sin(c["phi"])
    return {
        "x": x + level * np.cos(psi) - aside * np.sin(psi),
        "y": y + level * np.sin(psi) + aside * np.cos(psi),
        "forward": forward,
        "right": right,
        "psi": psi,
    }


def _attitude(flight: Flight, place: dict[str, Floats], slope: float) -> dict[str, Floats]:
    c, psi = flight.columns, place["psi"]
    return {
        "pitch_deg": np.degrees(c["theta"] + slope * np.cos(psi)),
        "roll_deg": np.degrees(c["phi"] + slope * np.sin(psi)),
        "heading_deg": np.degrees(psi) + HEADING_DEG,
        "track_deg": np.degrees(np.arctan2(place["right"], place["forward"])) + HEADING_DEG,
    }


def _acceleration(flight: Flight, place: dict[str, Floats], slope: float) -> dict[str, Floats]:
    """What an accelerometer feels: the library's specific force less the external force that stands for gravity."""
    c = flight.columns
    pull = -np.sin(slope)
    along = np.cos(place["psi"]) * np.cos(c["theta"]) * pull
    down = np.cos(place["psi"]) * np.sin(c["theta"]) * np.cos(c["phi"]) * pull
    right = -np.sin(place["psi"]) * pull
    return {"normal_g": c["nz"] + down, "long_g": c["nx"] - along, "lat_g": c["ny"] - right}


def _systems(flight: Flight, plan: Scenario) -> dict[str, Floats]:
    c, plane = flight.columns, AIRFRAMES[plan.airframe]
    full = 100.0 if plane.jet else 2700.0
    return {
        "lever_pct": 100.0 * c["lever"],
        "engine_pct": 100.0 * c["engine"] / full,
        "fuel_kg_h": c["fuel_pps"] * plane.engines * 3600.0 * 0.45359237,
        "flap_deg": np.full(len(c["flap"]), plane.flap_deg),
        "brake_pct": 100.0 * c["brake"],
        "spoiler_pct": 100.0 * c["spoiler"],
    }


def filtered(x: Floats, corner_hz: float) -> Floats:
    """`x` behind a causal second-order Butterworth low-pass, settled at its first value."""
    b, a = butter(2, corner_hz, fs=RATE_HZ)
    state = lfilter_zi(b, a) * x[0]
    return np.asarray(lfilter(b, a, x, zi=state)[0])

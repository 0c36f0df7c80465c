"""Seasons and days become wind, gusts and temperature; height becomes the wind met there."""

from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from flows.invented.arrays import clamp

Floats = NDArray[np.float64]

ROUGHNESS_M = 0.03
"""Surface roughness of open grass (World Meteorological Organization, Guide to Instruments, no. 8; from memory)."""


@dataclass(frozen=True)
class Day:
    """Weather of one field on one day: wind at 10 m, its gusts (None: none reported), temperature, pressure."""

    from_deg: float
    speed_kt: float
    gust_kt: float | None
    warmer_k: float
    pressure_hpa: float
    wet: bool


def windy_season(day: date) -> float:
    """From 0 in the calm season to 1 in the windy one (July, the south's winter)."""
    return float(0.5 - 0.5 * np.cos(2.0 * np.pi * (day.timetuple().tm_yday - 15) / 365.25))


def invent_day(day: date, rng: np.random.Generator) -> Day:
    """One day's weather: stronger, gustier, colder and more westerly in the windy season."""
    season = windy_season(day)
    speed = float(np.clip(rng.gamma(3.2, (6.0 + 6.5 * season) / 3.2), 0.0, 30.0))
    gusty = speed > 9.0 and rng.random() < 0.25 + 0.5 * season
    gust = speed + 5.0 + float(rng.gamma(2.0, 2.0)) if gusty else None
    toward_west = rng.random() < 0.55 + 0.25 * season
    bearing = float(rng.normal(275.0 if toward_west else 95.0, 38.0) % 360.0)
    return Day(
        from_deg=round(bearing),
        speed_kt=round(speed),
        gust_kt=None if gust is None else float(min(round(gust), round(speed) + 16)),
        warmer_k=float(rng.normal(4.0 - 9.0 * season, 3.0)),
        pressure_hpa=float(rng.normal(1014.0 - 5.0 * season, 7.0)),
        wet=bool(rng.random() < 0.15 + 0.2 * season),
    )


def early(day: Day) -> Day:
    """The same day in the early morning, when the wind is low: light aircraft are flown then if it blows too hard."""
    return replace(day, speed_kt=float(round(0.55 * day.speed_kt)), gust_kt=None)


def wind_share(h: Floats) -> Floats:
    """Wind at height `h` m as a share of the wind at 10 m: logarithmic law, constant below 3 m and above 150 m."""
    return np.log(clamp(h, 3.0, 150.0) / ROUGHNESS_M) / np.log(10.0 / ROUGHNESS_M)


def gust_step(gust: Floats, *, h: Floats, airspeed: Floats, spread: Floats, dt: float, noise: Floats) -> Floats:
    """Three gust components (3, lanes), one step on: first-order noise, 150 m long across the ground, shorter upward.

    The upward gust weakens near the ground. The form is the first-order part of the turbulence model of
    MIL-F-8785C, section 3.7, from memory; the lengths are our own choice.
    """
    length = np.array([[150.0], [120.0], [60.0]])
    keep = np.exp(-airspeed * dt / length)
    near = clamp(h / 25.0, 0.15, 1.0)
    size = np.stack([spread, 0.8 * spread, 0.55 * spread * near])
    return np.asarray(gust * keep + size * np.sqrt(1.0 - keep**2) * noise)

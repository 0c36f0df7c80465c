"""Invented landings whose faults go with known differences: numbers of pilots and landings in, frames and truth out.

Faults come oftener in gusts and to some pilots, who land harder and longer anyway; two faults share a cause; landings of
a session agree. A plain comparison of landings with and without a fault is wrong by tens of feet a minute here.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np
import polars as pl
from numpy.typing import NDArray
from scipy.special import ndtr

Floats = NDArray[np.float64]

FIRMER_FPM = {"fast_at_threshold": 0.0, "late_flare": 60.0, "climb_in_flare": 30.0, "thrust_carried": 0.0}
LONGER_FT = {"fast_at_threshold": 150.0, "late_flare": 0.0, "climb_in_flare": 0.0, "thrust_carried": 120.0}
TRUTH = {"vertical_speed_at_contact_fpm": FIRMER_FPM, "touchdown_distance_ft": LONGER_FT}
NUMBERS = ("headwind_kt", "crosswind_kt", "gust_spread_kt", "vref_kt", "weight_kg", "contact_t_s")
WORDS = ("device", "exercise", "why_logged", "takeover", "intent", "landing_mode")
SESSION = 3


@dataclass(frozen=True)
class World:
    """`landings` and `faults` as the statistics take them; `there` (n,) of each fault says on which it really is."""

    landings: pl.DataFrame
    faults: pl.DataFrame
    there: dict[str, Floats]
    pilot: NDArray[np.int64]


def invent(seed: int, *, pilots: int = 40, each: int = 60, recorder_noise: float = 0.3) -> World:
    """Invent a cohort; `recorder_noise` is the uncertainty of a fault's margin in spreads of the margin."""
    rng = np.random.default_rng(seed)
    n = pilots * each
    pilot = np.repeat(np.arange(pilots), each)
    session = np.arange(n) // SESSION
    skill, gust = rng.standard_normal(pilots)[pilot], rng.standard_normal(n)
    margin = _margins(rng, skill, gust, session)
    there = {name: (values > 0.0).astype(float) for name, values in margin.items()}
    day = rng.standard_normal((2, session[-1] + 1))[:, session]
    firm = 160.0 + 25.0 * skill + 15.0 * gust + 12.0 * day[0] + 40.0 * rng.standard_normal(n)
    far = 1300.0 + 100.0 * skill + 40.0 * gust + 60.0 * day[1] + 250.0 * rng.standard_normal(n)
    firm = firm + sum(there[name] * by for name, by in FIRMER_FPM.items())
    far = far + sum(there[name] * by for name, by in LONGER_FT.items())
    landings = _landings(pilot, session, 5.0 + 2.0 * gust, firm, far)
    faults = pl.concat([_judged(rng, landings, name, values, recorder_noise) for name, values in margin.items()])
    return World(landings, faults, there, pilot)


def _margins(rng: np.random.Generator, skill: Floats, gust: Floats, session: NDArray[np.int64]) -> dict[str, Floats]:
    """How far beyond its limit each fault is; a late flare and thrust carried share a cause."""
    day = rng.standard_normal(session[-1] + 1)[session]
    lateness, own = rng.standard_normal(skill.size), rng.standard_normal((3, skill.size))
    return {
        "fast_at_threshold": 0.5 * skill + 0.5 * gust + own[0] - 0.8,
        "late_flare": 0.6 * skill + 0.5 * gust + 0.4 * day + lateness - 1.0,
        "climb_in_flare": 0.3 * skill + 0.3 * gust + own[1] - 1.2,
        "thrust_carried": 0.5 * skill + 0.5 * gust + 0.5 * lateness + own[2] - 0.9,
    }


def _landings(
    pilot: NDArray[np.int64], session: NDArray[np.int64], gust: Floats, firm: Floats, far: Floats
) -> pl.DataFrame:
    n = pilot.size
    first = datetime(2026, 1, 5, 8, tzinfo=UTC)
    known = {
        "landing_id": [f"L{i:06d}" for i in range(n)],
        "log_sha256": [f"log{s}" for s in session],
        "pilot": [f"P{p:03d}" for p in pilot],
        "aircraft": [f"AC{s % 3}" for s in session],
        "aircraft_type": ["Heron"] * n,
        "recorder": ["R8"] * n,
        "runway": ["North"] * n,
        "contact_at": [first + timedelta(days=int(s), minutes=i % 400) for i, s in enumerate(session)],
        "vertical_speed_at_contact_fpm": -firm,
        "touchdown_distance_ft": far,
        "distance_from_50ft_ft": far + 200.0,
    }
    numbers = dict.fromkeys(NUMBERS, pl.lit(None, pl.Float64))
    words = dict.fromkeys(WORDS, pl.lit(None, pl.String))
    numbers |= {"gust_spread_kt": pl.Series(gust), "headwind_kt": pl.lit(8.0), "contact_t_s": pl.lit(300.0)}
    return pl.DataFrame(known).with_columns(**numbers, **words)


def _judged(rng: np.random.Generator, landings: pl.DataFrame, name: str, margin: Floats, noise: float) -> pl.DataFrame:
    measured = margin + noise * rng.standard_normal(margin.size)
    chance = pl.Series("probability", ndtr(measured / noise))
    return landings.select("landing_id", fault=pl.lit(name)).with_columns(chance)

"""Invented cohorts for the drift bench: what happens to their landings in, a landing frame with known truth out.

Nobody in them changes unless told to. One spread of a pilot's own is 50 ft/min and 300 ft.
"""

import math
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np
import polars as pl
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

START = datetime(2020, 1, 6, 6, tzinfo=UTC)
YEAR_DAYS = 365.25
CHARTS = {"vertical_speed_at_contact_fpm": (-160.0, -50.0), "touchdown_distance_ft": (1400.0, 300.0)}
"""Each watched measure: usual value, and one spread toward what is watched for."""


@dataclass(frozen=True)
class World:
    """What a cohort lives through; amplitudes in spreads of a pilot's own.

    `yearly` landings a pilot and year; `size` landings a session ("mixed": 1 to 12); `season` is half the range of a
    yearly swing, `front` the spread of what all pilots of a day share and passes within days, `wind` the effect of one
    spread of wind, `miskeyed` the share of sessions whose key joins or splits them wrongly, `swapped` the share that
    was another pilot's; `shift` comes on the last `shifted` landings of a pilot.
    """

    pilots: int = 12
    landings: int = 800
    yearly: float = 200.0
    size: str = "mixed"
    correlation: float = 0.15
    season: float = 0.0
    front: float = 0.0
    wind: float = 0.0
    miskeyed: float = 0.0
    swapped: float = 0.0
    shift: float = 0.0
    shifted: int = 0


def cohort(world: World, *, seed: int) -> pl.DataFrame:
    """Return the landing frame of one cohort, with the columns the drift watch reads."""
    rng = np.random.default_rng(seed)
    fronts = _fronts(rng, int(YEAR_DAYS * world.landings / world.yearly * 1.3) + 60)
    phase = rng.uniform(0.0, YEAR_DAYS)
    parts = [_pilot(rng, world, number, fronts, phase) for number in range(world.pilots)]
    frame = pl.concat(parts)
    return _swapped(frame, world, rng) if world.swapped else frame


def _fronts(rng: np.random.Generator, days: int) -> Floats:
    """Weather of the day with spread 1, which keeps 0.7 of itself to the next day."""
    fresh = rng.standard_normal(days)
    weather = np.empty(days)
    weather[0] = fresh[0]
    for day in range(1, days):
        weather[day] = 0.7 * weather[day - 1] + math.sqrt(0.51) * fresh[day]
    return weather


def _sessions(rng: np.random.Generator, world: World) -> tuple[Ints, Ints]:
    """Session number and day of each landing: no two sessions on one day, as many landings a year as wanted."""
    sizes = rng.integers(1, 13, world.landings) if world.size == "mixed" else np.full(world.landings, int(world.size))
    code = np.repeat(np.arange(world.landings), sizes)[: world.landings]
    every = YEAR_DAYS / world.yearly * float(np.mean(sizes))
    gap = np.maximum(1, np.round(rng.exponential(every, int(code[-1]) + 1))).astype(np.int64)
    return code, np.cumsum(gap)[code]


def _pilot(rng: np.random.Generator, world: World, number: int, fronts: Floats, phase: float) -> pl.DataFrame:
    code, day = _sessions(rng, world)
    n, rho = world.landings, world.correlation
    shared = rng.standard_normal((int(code[-1]) + 1, 3))[code]
    wind = 8.0 + 6.0 * shared[:, 2]
    outside = world.season * np.sin(2.0 * math.pi * (day - phase) / YEAR_DAYS) + world.front * fronts[day % fronts.size]
    outside = outside + world.wind * (np.maximum(wind, 0.0) - 8.0) / 6.0
    outside[n - world.shifted :] += world.shift
    aircraft, keyed = _keys(rng, code, day, world.miskeyed)
    columns: dict[str, object] = {}
    for i, (measure, (usual, one)) in enumerate(CHARTS.items()):
        own = math.sqrt(rho) * shared[:, i] + math.sqrt(1.0 - rho) * rng.standard_normal(n)
        columns[measure] = usual + one * (0.7 * rng.standard_normal() + outside + own)
        columns[f"{measure}_u"] = np.full(n, 0.1 * abs(one))
    name = f"P{number:03d}"
    minute = np.arange(n) - np.searchsorted(code, code)
    micros = (day * 86400 + minute * 900) * 1_000_000 + int(START.timestamp()) * 1_000_000
    columns |= {"threshold_speed_over_vref_kt": rng.normal(5.0, 5.0, n), "threshold_speed_over_vref_kt_u": np.ones(n)}
    columns |= {"headwind_kt": wind, "crosswind_kt": rng.normal(0.0, 6.0, n), "vref_kt": rng.normal(118.0, 3.0, n)}
    return pl.DataFrame(columns).with_columns(
        pl.Series("landing_id", [f"{name}-{i:05d}" for i in range(n)]),
        pl.Series("log_sha256", [f"{name}-{c}" for c in keyed]),
        pl.Series("contact_at", micros).cast(pl.Datetime("us", "UTC")),
        pl.Series("aircraft", aircraft),
        pilot=pl.lit(name),
        contact_t_s=pl.lit(300.0),
        runway=pl.Series(rng.choice(["North", "South"], n)),
        aircraft_type=pl.lit("Heron"),
        recorder=pl.lit("R8"),
        distance_from_50ft_ft=pl.lit(None, dtype=pl.Float64),
        distance_from_50ft_ft_u=pl.lit(None, dtype=pl.Float64),
        in_touchdown_zone=pl.col("touchdown_distance_ft").is_between(500.0, 1900.0),
        in_touchdown_zone_confidence=pl.lit(0.95),
        **dict.fromkeys(("gust_spread_kt", "weight_kg", "target_speed_kt"), pl.lit(None, dtype=pl.Float64)),
        **dict.fromkeys(("threshold_airspeed_kt", "threshold_airspeed_kt_u"), pl.lit(None, dtype=pl.Float64)),
        **dict.fromkeys(
            ("device", "exercise", "why_logged", "takeover", "landing_mode"), pl.lit(None, dtype=pl.String)
        ),
        intent=pl.lit(None, dtype=pl.String),
    )


def _keys(rng: np.random.Generator, code: Ints, day: Ints, share: float) -> tuple[list[str], Ints]:
    """Aircraft and log of each landing; a mis-keyed session is split in two by a wrong aircraft."""
    wrong = rng.random(int(code[-1]) + 1) < share
    half = (np.arange(code.size) - np.searchsorted(code, code)) % 2
    split = wrong[code] & (half == 1)
    return ["ACX" if s else f"AC{c % 5}" for s, c in zip(split, code, strict=True)], code


def _swapped(frame: pl.DataFrame, world: World, rng: np.random.Generator) -> pl.DataFrame:
    """Give a share of all sessions to another pilot of the cohort."""
    logs = frame["log_sha256"].unique(maintain_order=True)
    wrong = logs.filter(pl.Series(rng.random(logs.len()) < world.swapped))
    names = frame["pilot"].unique(maintain_order=True)
    other = dict(zip(wrong, rng.choice(names.to_numpy(), wrong.len()), strict=True))
    return frame.with_columns(pilot=pl.col("log_sha256").replace_strict(other, default=pl.col("pilot")))

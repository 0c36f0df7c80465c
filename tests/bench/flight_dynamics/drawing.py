"""Flights drawn by lot: a half, a number and a seed in, a scenario out.

The halves share no random numbers: what is tuned on one is reported on the other.
"""

from typing import Any

import numpy as np
from flight_dynamics.airframes import AIRFRAMES
from flight_dynamics.scenario import HALVES, RIG_VERSION, Kind, Scenario

_SHARES: dict[Kind, float] = {
    "normal": 0.36,
    "float": 0.07,
    "hard": 0.07,
    "bounced": 0.11,
    "no_flare": 0.05,
    "crabbed": 0.05,
    "wing_low": 0.05,
    "high": 0.05,
    "low": 0.05,
    "two_stage": 0.03,
    "touch_and_go": 0.05,
    "rejected": 0.02,
    "go_around": 0.04,
}
_FIRST_KINDS: tuple[Kind, ...] = ("normal", "bounced", "float", "normal", "hard", "touch_and_go", "normal", "go_around")
"""The first flights of a half are a fixed mixture, so that a short run sees the main kinds."""


def draw(half: str, number: int, seed: int) -> Scenario:
    """The scenario of one number of one half."""
    rng = np.random.default_rng([RIG_VERSION, HALVES[half], seed, number])
    letter = str(rng.choice(["A", "B", "C"], p=[0.42, 0.30, 0.28]))
    if number < len(_FIRST_KINDS):
        kind, letter = _FIRST_KINDS[number], "ABCABCAB"[number]
    else:
        kind = rng.choice(list(_SHARES), p=list(_SHARES.values()))
    big = AIRFRAMES[letter].jet
    headwind, crosswind = _wind(kind, rng, big=big)
    steps = bool(rng.random() < 0.4)
    return Scenario(
        half=half,
        number=number,
        seed=int(rng.integers(1, 2**30)),
        airframe=letter,
        kind=kind,
        headwind_kt=headwind,
        crosswind_kt=crosswind,
        thrust_style="steps" if steps else "smooth",
        **_approach(kind, rng, big=big),
        **_flare(kind, rng, letter),
        **_closing(kind, rng, big=big),
        **_alignment(kind, rng),
        **_rollout(kind, rng, big=big),
    )


def _wind(kind: Kind, rng: np.random.Generator, *, big: bool) -> tuple[float, float]:
    """Head- and crosswind, kt: little tailwind, and enough across where the kind is about it."""
    wind = rng.gamma(2.0, 5.0 if big else 3.5)
    angle = rng.normal(0.0, 1.0)
    headwind, crosswind = wind * np.cos(angle), wind * np.sin(angle)
    if kind in ("crabbed", "wing_low"):
        crosswind = rng.choice([-1.0, 1.0]) * rng.uniform(8.0, 22.0) * (1.0 if big else 0.6)
    return float(max(headwind, -8.0)), float(crosswind)


def _approach(kind: Kind, rng: np.random.Generator, *, big: bool) -> dict[str, Any]:
    return {
        "start_ft": _start(rng, big=big),
        "slope_pct": float(np.clip(rng.normal(0.0, 0.9), -2.0, 2.0)),
        "turbulence": _turbulence(rng) * (1.0 if big else 0.6),
        "gust_kt": float(rng.choice([0.0, rng.uniform(4.0, 10.0)], p=[0.7, 0.3])),
        "gust_times": tuple(float(t) for t in rng.uniform(5.0, 90.0, 4)),
        "path_deg": float(rng.normal(3.0, 0.15)),
        "high_by_ft": _high_by(kind, rng),
        "aside_ft": float(rng.normal(0.0, 8.0)),
        "over_vref_kt": _over_vref(kind, rng, big=big),
        "weight_part": float(rng.uniform(0.0, 1.0)),
    }


def _alignment(kind: Kind, rng: np.random.Generator) -> dict[str, Any]:
    """How much of the crab is taken off, and from what height."""
    return {
        "decrab": 0.0 if kind == "crabbed" else 1.0 if kind == "wing_low" else float(rng.uniform(0.3, 1.0)),
        "decrab_ft": float(rng.uniform(120.0, 200.0) if kind == "wing_low" else rng.uniform(12.0, 45.0)),
    }


def _rollout(kind: Kind, rng: np.random.Generator, *, big: bool) -> dict[str, Any]:
    return {
        "kick_deg": float(rng.uniform(0.8, 2.2)) * (1.0 if big else 1.8) if kind == "bounced" else 0.0,
        "nose_hold_s": float(rng.uniform(0.3, 3.0)),
        "nose_dps": float(rng.uniform(0.7, 2.5)),
        "spoilers": kind not in ("touch_and_go", "rejected"),
        "spoiler_s": float(rng.uniform(0.2, 1.0)) + (3.0 if kind == "bounced" else 0.0),
        "reverse_s": None if rng.random() < 0.3 else float(rng.uniform(1.5, 5.0)),
        "brake": float(rng.uniform(0.2, 0.45)),
        "brake_s": float(rng.uniform(1.0, 6.0)),
        "go_around_ft": float(np.exp(rng.uniform(np.log(15.0), np.log(350.0)))),
        "roll_s": float(rng.uniform(3.6, 7.0) if kind == "touch_and_go" else rng.uniform(0.0, 0.2)),
        "log_after_s": float(rng.uniform(9.0, 14.0)) if rng.random() < 0.06 else None,
    }


def _start(rng: np.random.Generator, *, big: bool) -> float:
    """Three flights in ten begin above the upper gate, the others above the lower one."""
    above = rng.random() < 0.3
    low, high = (700.0, 850.0) if big else (570.0, 640.0)
    return float((1200.0 if big else 1080.0) if above else rng.uniform(low, high))


def _turbulence(rng: np.random.Generator) -> float:
    """Wind at 20 ft that the turbulence model is given, kt; one flight in five is in still air."""
    return float(rng.choice([0.0, rng.uniform(5.0, 15.0), rng.uniform(15.0, 32.0)], p=[0.2, 0.55, 0.25]))


def _high_by(kind: Kind, rng: np.random.Generator) -> float:
    spread = float(rng.normal(0.0, 7.0))
    return spread + {"high": 45.0, "low": -28.0}.get(kind, 0.0)


def _over_vref(kind: Kind, rng: np.random.Generator, *, big: bool) -> float:
    extra = float(rng.normal(5.0, 3.0) if big else rng.normal(3.0, 2.5))
    more = {"float": 8.0 if big else 5.0, "bounced": 7.0 if big else 5.0}.get(kind, 0.0)
    return max(extra, 1.0 if big else 0.0) + more


def _flare(kind: Kind, rng: np.random.Generator, letter: str) -> dict[str, Any]:
    plane = AIRFRAMES[letter]
    low, high = plane.flare_ft
    flare_ft = float(rng.uniform(low, high))
    rise = float(rng.uniform(*plane.rise_deg))
    end = float(np.exp(rng.normal(np.log(115.0 if plane.jet else 80.0), 0.5)))
    gain = float(rng.uniform(0.5, 1.0))
    if kind == "float":
        flare_ft, end = flare_ft * 1.15, float(rng.uniform(40.0, 80.0))
    elif kind in ("hard", "bounced"):
        flare_ft, end, gain = low * float(rng.uniform(0.5, 0.85)), float(rng.uniform(300.0, 450.0)), 0.5
        rise *= float(rng.uniform(0.5, 0.8))
    elif kind == "no_flare":
        flare_ft, rise, gain = 0.0, 0.0, 0.0
    elif kind == "two_stage":
        flare_ft, rise = flare_ft * 1.3, rise * 0.8
    return {
        "flare_ft": flare_ft,
        "rise_deg": rise,
        "rise_s": float(rng.uniform(1.4, 3.4)),
        "end_sink_fpm": end,
        "lead_gain": gain,
    }


def _closing(kind: Kind, rng: np.random.Generator, *, big: bool) -> dict[str, Any]:
    lag: float | None = float(np.clip(rng.normal(0.8 if big else 0.3, 1.1), -3.0, 4.0))
    late = rng.random() < (0.7 if kind == "no_flare" else 0.06)
    return {
        "close_lag_s": None if late else lag,
        "close_after_contact_s": float(rng.uniform(0.3, 1.5)),
        "close_s": float(rng.uniform(0.6, 4.0)),
        "close_stages": 2 if rng.random() < 0.1 else 1,
    }

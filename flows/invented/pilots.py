"""Who flies: the operator's invented pilots, their habits and how they change."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

STEADY, IMPROVING, LONG, HARD, SOFT = "steady", "improving", "drifts long", "drifts hard", "soft and long"


@dataclass(frozen=True)
class Pilot:
    """One invented pilot: `spread` scales the variation from landing to landing, offsets are habits.

    `change_landing` is the landing (1-based, over contacts) after which a drift has begun, None where there is none.
    """

    pilot: str
    profile: str
    kind: str
    landings: int
    style: int
    loyalty: float
    spread: float
    flare_ft: float
    sink: float
    speed_kt: float
    aim_ft: float
    rough: float
    change_landing: int | None = None


def invent_pilots(rng: np.random.Generator, *, scale: float, solo: bool) -> list[Pilot]:
    """The operator's 24 pilots, or the one owner; `scale` scales how many landings each brings."""
    if solo:
        return [_pilot(rng, 0, "light", IMPROVING, landings=_scaled(200, scale), style=1)]
    plan = [("jet", LONG, 250), ("light", HARD, 250), ("jet", STEADY, 250), ("light", STEADY, 250)]
    plan += [("jet", IMPROVING, 100), ("light", IMPROVING, 100), ("jet", IMPROVING, 100), ("light", IMPROVING, 100)]
    plan += [("jet", SOFT, 100)]
    plan += [("light" if number % 2 else "jet", STEADY, 100) for number in range(15)]
    style = (1, 1, 0, 2, 0, 1, 2, 0, 2)
    return [
        _pilot(
            rng,
            number,
            profile,
            kind,
            landings=_scaled(count, scale),
            style=style[number] if number < 9 else number % 3,
        )
        for number, (profile, kind, count) in enumerate(plan)
    ]


def _scaled(count: int, scale: float) -> int:
    return max(1, round(count * scale))


def _pilot(rng: np.random.Generator, number: int, profile: str, kind: str, *, landings: int, style: int) -> Pilot:
    usual = float(np.exp(rng.normal(0.0, 0.18)))
    drifts = kind in (LONG, HARD)
    return Pilot(
        pilot=f"Pilot {number + 1:02d}",
        profile=profile,
        kind=kind,
        landings=landings,
        style=style,
        loyalty=0.97 if drifts or kind == IMPROVING else float(rng.uniform(0.84, 0.95)),
        spread=0.95 if drifts else usual,
        flare_ft=float(rng.normal(0.0, 1.2)),
        sink=float(np.exp(rng.normal(0.0, 0.12))),
        speed_kt=float(rng.normal(0.5, 1.2)),
        aim_ft=float(rng.normal(0.0, 2.5)),
        rough=float(np.radians(0.20) * np.exp(rng.normal(0.0, 0.2))),
        change_landing=150 if drifts and landings > 150 else None,
    )

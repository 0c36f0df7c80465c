"""A pilot's landings of one log go in; the approaches that lead to them come out, go-arounds among them."""

import numpy as np

from flows.invented.flights import Approach
from flows.invented.pilots import Pilot
from flows.invented.plan import FULL_STOP, GO_AROUND, REJECTED, TOUCH_AND_GO
from flows.invented.technique import technique

UNSTABLE, GONE_AROUND, LOW_GO_AROUND, REJECT = 0.06, 0.5, 0.015, 0.004
"""Share of approaches not stable at 500 ft, of those gone around, of others gone around low, of landings rejected."""


def invent_approaches(
    pilot: Pilot, numbers: list[int], *, mood: float, rng: np.random.Generator
) -> list[tuple[Approach, ...]]:
    """The logs of these landings: usually one; a go-around may end one, or be flown on into the next landing."""
    logs: list[tuple[Approach, ...]] = []
    current: list[Approach] = []
    for number in numbers:
        landing = _approach(pilot, number, mood=mood, last=number == numbers[-1], rng=rng)
        if landing.unstable and rng.random() < GONE_AROUND:
            current.append(_gone_around(landing, go_ft=float(rng.uniform(330.0, 470.0))))
            landing = _approach(pilot, number, mood=mood, last=number == numbers[-1], rng=rng, stable=True)
        elif rng.random() < LOW_GO_AROUND:
            current.append(_gone_around(landing, go_ft=float(rng.uniform(45.0, 220.0))))
        elif rng.random() < REJECT:
            current.append(Approach(REJECTED, number, landing.technique))
        if current and current[-1].kind == GO_AROUND and len(numbers) == 1 and rng.random() < 0.5:
            logs.append(tuple(current))
            current = []
        current.append(landing)
    return [*logs, tuple(current)]


def _gone_around(landing: Approach, *, go_ft: float) -> Approach:
    return Approach(
        GO_AROUND,
        landing.number,
        landing.technique,
        landing.offset_ft,
        landing.offset_kt,
        landing.offset_until_ft,
        go_ft,
    )


def _approach(
    pilot: Pilot, number: int, *, mood: float, last: bool, rng: np.random.Generator, stable: bool = False
) -> Approach:
    """One approach to a landing: the last of a log stops, the others go again; some are not stable."""
    way = technique(pilot, number=number, mood=mood, rng=rng)
    kind = FULL_STOP if last else TOUCH_AND_GO
    if stable or rng.random() > UNSTABLE:
        return Approach(kind, number, way)
    until = float(rng.uniform(180.0, 330.0))
    if rng.random() < 0.6:
        return Approach(kind, number, way, offset_kt=float(rng.uniform(19.0, 26.0)), offset_until_ft=until)
    return Approach(kind, number, way, offset_ft=float(rng.uniform(90.0, 150.0)), offset_until_ft=until)

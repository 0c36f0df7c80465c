"""Three styles of landing, a pilot and a landing's number go in; how that landing is meant to be flown comes out."""

from dataclasses import dataclass

import numpy as np

from flows.invented.pilots import HARD, IMPROVING, SOFT, Pilot


@dataclass(frozen=True)
class Style:
    """One way to land, in the jet's numbers; sinks are aimed at, not reached.

    `stage_ft` 0 means one stage. `close_lag_s` is the lever's start after the flare's.
    """

    name: str
    flare_ft: float
    sink_fpm: float
    stage_ft: float
    stage_fpm: float
    lag_s: float
    close_lag_s: float
    close_s: float
    after_close_deg: float


STYLES: tuple[Style, ...] = (
    Style("early, in two stages, thrust first", 42.0, 120.0, 18.0, 290.0, 0.30, -0.4, 2.6, 0.0),
    Style("late and quick, thrust with it", 21.0, 100.0, 0.0, 0.0, 0.12, 0.6, 1.1, 0.0),
    Style("held off, thrust late", 31.0, 80.0, 0.0, 0.0, 0.25, 2.2, 2.6, 0.5),
)
"""Values are our own choice for a plausible operator (common practice, no source)."""

LIGHT_HEIGHT, LIGHT_SINK, LIGHT_LAG = 0.66, 0.72, 0.6
"""The same style in the light type: it descends that much slower and answers that much quicker."""
MOST_AFTER_CLOSE = 0.6
"""Deg a pilot may let the nose go up or down against his habit once thrust is off; more than that balloons."""


@dataclass(frozen=True)
class Technique:
    """How one landing is meant to be flown, in the cockpit's units."""

    style: int
    flare_ft: float
    sink_fpm: float
    stage_ft: float
    stage_fpm: float
    lag_s: float
    close_lag_s: float
    close_s: float
    after_close_deg: float
    speed_kt: float
    aim_ft: float
    rough: float


def technique(pilot: Pilot, *, number: int, mood: float, rng: np.random.Generator) -> Technique:
    """One landing's technique: style, habit, drift or progress by landing `number` (1-based), the day's `mood`.

    `mood` (standard normal, one a session) is shared by a day's landings.
    """
    index = pilot.style if rng.random() < pilot.loyalty else (pilot.style + int(rng.integers(1, 3))) % len(STYLES)
    style = STYLES[index]
    light = pilot.profile == "light"
    height, sink, lag = (LIGHT_HEIGHT, LIGHT_SINK, LIGHT_LAG) if light else (1.0, 1.0, 1.0)
    spread = pilot.spread * _progress(pilot, number)
    z = rng.standard_normal(7)
    z[:2] = np.sqrt(0.88) * z[:2] + np.sqrt(0.12) * mood
    drift = _drift(pilot, number)
    soft = 0.4 if pilot.kind == SOFT else 1.0
    hard, long = (drift, 0.0) if pilot.kind == HARD else (0.0, drift)
    flare = (style.flare_ft + pilot.flare_ft + 2.9 * spread * z[0] - 3.0 * hard + 3.5 * long) * height
    return Technique(
        style=index,
        flare_ft=max(float(flare), 5.0),
        sink_fpm=float(
            style.sink_fpm * sink * pilot.sink * soft * np.exp(0.26 * spread * z[1]) + 80.0 * hard - 38.0 * long
        ),
        stage_ft=float(style.stage_ft * (1.2 * height if light else height) * np.exp(0.1 * z[2])),
        stage_fpm=style.stage_fpm * (0.75 * sink if light else sink),
        lag_s=float(style.lag_s * lag * np.exp(0.15 * z[2])),
        close_lag_s=float(style.close_lag_s + 0.28 * spread * z[3] + 0.3 * long),
        close_s=float(style.close_s * np.exp(0.15 * z[4])),
        after_close_deg=float(
            style.after_close_deg + np.clip(0.25 * spread * z[5], -MOST_AFTER_CLOSE, MOST_AFTER_CLOSE) - 0.5 * hard
        ),
        speed_kt=float(pilot.speed_kt + 1.8 * spread * z[6] + 3.5 * long + (2.0 if pilot.kind == SOFT else 0.0)),
        aim_ft=float(
            pilot.aim_ft + 3.2 * spread * rng.standard_normal() + 5.0 * long + (5.0 if pilot.kind == SOFT else 0.0)
        ),
        rough=pilot.rough * _progress(pilot, number),
    )


def _progress(pilot: Pilot, number: int) -> float:
    """Spread of an improving pilot against his usual: from 2.7 down to 0.5 over his landings."""
    if pilot.kind != IMPROVING:
        return 1.0
    return float(2.7 + (0.5 - 2.7) * min(number / max(pilot.landings, 1), 1.0))


def _drift(pilot: Pilot, number: int) -> float:
    """Share of the drift reached: none to `change_landing`, whole ten landings later."""
    if pilot.change_landing is None:
        return 0.0
    return float(np.clip((number - pilot.change_landing) / 10.0, 0.0, 1.0))

"""What passes between the aircraft and the rig's pilot: what is seen, what is ordered, and when things were done."""

from dataclasses import dataclass

import numpy as np

STEP_S = 1.0 / 60.0
"""Time between two looks of the pilot."""
G = 32.174
KT = 1.687810


@dataclass
class Seen:
    """What the pilot sees: s, ft, ft/s, rad, rad/s, kt, lb/ft2.

    `h` and `x` are of the main wheels, above the runway and from its threshold; `psi` is from the runway's heading.
    """

    t: float
    x: float
    y: float
    h: float
    climb: float
    forward: float
    right: float
    theta: float
    phi: float
    psi: float
    q: float
    p: float
    r: float
    speed_kt: float
    qbar: float
    mains: bool
    nose: bool


@dataclass
class Orders:
    """Commands: -1 to 1 surfaces, 0 to 1 lever (negative: reverse), brakes, spoilers."""

    elevator: float = 0.0
    aileron: float = 0.0
    rudder: float = 0.0
    lever: float = 0.0
    brake: float = 0.0
    spoiler: float = 0.0


@dataclass
class Events:
    """Instants, s of flight time, that the pilot knows; NaN where they did not come."""

    flare: float = np.nan
    rise_end: float = np.nan
    close: float = np.nan
    idle: float = np.nan
    contact: float = np.nan
    go: float = np.nan
    nose_lowering: float = np.nan
    brake: float = np.nan
    reverse: float = np.nan
    spoiler: float = np.nan


def moved(value: float, goal: float, *, down: float, up: float) -> float:
    """`value` one step nearer to `goal`, at most `down` or `up` a second."""
    return value + float(np.clip(goal - value, -down * STEP_S, up * STEP_S))

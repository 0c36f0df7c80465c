"""What moves and what is held, as arrays of lanes: the aeroplane's motion, the controls, the air it meets. SI."""

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass
class State:
    """Motion of the lanes: x, y of the main wheels from the threshold; z of the centre of gravity over a fixed plane.

    `u`, `v`, `w`: ground speed along the runway, to the right, up. `h`, `sink`: height of the main wheels over the
    runway surface and its rate of loss. `thrust`: 0 idle to 1 full. `spin`: main wheels' share of rolling speed.
    """

    x: Floats
    y: Floats
    z: Floats
    u: Floats
    v: Floats
    w: Floats
    theta: Floats
    q: Floats
    phi: Floats
    p: Floats
    psi: Floats
    thrust: Floats
    gear: Floats
    spin: Floats
    h: Floats
    sink: Floats
    airspeed: Floats
    alpha: Floats
    nz: Floats
    ax: Floats
    ay: Floats
    trim: Floats
    vs_lagged: Floats
    nz_slow: Floats
    nz_rate: Floats

    @classmethod
    def zeros(cls, lanes: int) -> "State":
        """All at rest on the threshold."""
        return cls(**{field.name: np.zeros(lanes) for field in fields(cls)})


@dataclass
class Controls:
    """What the pilot holds: attitudes asked for, lever and brakes 0 to 1, `clean` 0 landing flap to 1 climbing."""

    theta: Floats
    phi: Floats
    psi: Floats
    lever: Floats
    spoiler: Floats
    reverse: Floats
    brake: Floats
    clean: Floats


@dataclass
class Air:
    """Wind at the aeroplane: from ahead, from the right, upward, m/s."""

    head: Floats
    right: Floats
    up: Floats

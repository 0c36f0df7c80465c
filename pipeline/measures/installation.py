"""What is known of the gear and the instruments behind a landing, before its own samples are looked at.

Goes in: constants learned over other landings, or nothing. Comes out: arrays the contact fit takes for priors.
"""

from dataclasses import dataclass, fields
from typing import Self

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Usual:
    """Mean and standard deviation of a constant before anything was learned, and the least deviation ever claimed."""

    mean: float
    sd: float
    floor: float


USUAL: dict[str, Usual] = {
    "radio_delay_s": Usual(0.1, 0.1, 0.02),
    "vertical_speed_lag_s": Usual(0.3, 0.25, 0.03),
    "radio_arm_ft": Usual(5.0, 10.0, 1.0),
    "log_gear_frequency": Usual(np.log(7.0), 3.0, 0.25),
    "log_gear_damping": Usual(np.log(0.5), 3.0, 0.25),
}
"""Constants by name: delay of radio height, lag of vertical speed, radio antenna ahead of the main wheels, and the
logarithms of the main gear's natural frequency (rad/s) and damping ratio. Our own choice for want of a source; wide
against what a log tells by itself. The floors hold what differs from landing to landing and what the model does not
describe."""


@dataclass(frozen=True)
class Installation:
    """Mean and standard deviation (n, 2) of each constant for each landing."""

    radio_delay_s: Floats
    vertical_speed_lag_s: Floats
    radio_arm_ft: Floats
    log_gear_frequency: Floats
    log_gear_damping: Floats

    @classmethod
    def usual(cls, n: int) -> Self:
        """What is taken where nothing was learned."""
        return cls(**{name: np.tile([known.mean, known.sd], (n, 1)) for name, known in USUAL.items()})

    def only(self, some: NDArray[np.int64]) -> Self:
        """The same for the landings `some`."""
        return type(self)(**{field.name: getattr(self, field.name)[some] for field in fields(self)})

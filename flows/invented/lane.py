"""One flown approach as it is kept: dense samples of the motion, and the instants of what the pilot did. SI."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

HISTORY = (
    "x", "y", "h", "w", "u", "v", "theta", "phi", "psi", "airspeed", "nz", "ax", "ay", "lever", "thrust",
    "spoiler", "reverse", "brake", "wheels", "nose", "vs_lagged", "nz_slow", "head", "right", "clean",
)  # fmt: skip
"""What is kept of each lane, in this order; SI and radians."""
COLUMN = {name: index for index, name in enumerate(HISTORY)}


@dataclass(frozen=True)
class Lane:
    """One flown approach: `t` (n,) s, `values` (n, len(HISTORY)); instants are s on the same clock, null as NaN."""

    t: Floats
    values: NDArray[np.float32]
    contact_s: float
    flare_s: float
    close_s: float
    go_s: float
    sink_at_contact_ms: float

    def column(self, name: str) -> Floats:
        """One kept quantity (n,)."""
        return self.values[:, COLUMN[name]].astype(np.float64)

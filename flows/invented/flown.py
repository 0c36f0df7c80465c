"""A log's motion, whole or at chosen instants, with what does not change during it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flows.invented.airfields import Runway
from flows.invented.airframes import Airframe
from flows.invented.lane import COLUMN

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Flown:
    """One log's motion: `t` (n,) s from the log's first row, `values` (n, quantities kept) and what does not change.

    `autopilot_off_m`, `autothrottle_off_m`: wheel heights below which each is off (infinite: never engaged).
    """

    t: Floats
    values: NDArray[np.float32]
    runway: Runway
    a: Airframe
    density_kg_m3: float
    pressure_hpa: float
    autopilot_off_m: float
    autothrottle_off_m: float
    mass_kg: float

    def at(self, times: Floats) -> "Sampled":
        """The motion at other times (m,), linear between kept instants, held at the ends."""
        upper = np.minimum(np.maximum(np.searchsorted(self.t, times), 1), len(self.t) - 1)
        span = self.t[upper] - self.t[upper - 1]
        part = np.minimum(np.maximum((times - self.t[upper - 1]) / span, 0.0), 1.0)
        return Sampled(self, upper, part)


@dataclass(frozen=True)
class Sampled:
    """A flight at chosen instants: between kept instants `upper - 1` and `upper`, `part` of the way."""

    flown: Flown
    upper: NDArray[np.intp]
    part: Floats

    def __getitem__(self, name: str) -> Floats:
        """One kept quantity (m,)."""
        kept = self.flown.values[:, COLUMN[name]]
        before = kept[self.upper - 1].astype(np.float64)
        return before + self.part * (kept[self.upper] - before)

    @property
    def runway(self) -> Runway:
        """Runway flown to."""
        return self.flown.runway

    @property
    def a(self) -> Airframe:
        """Type flown."""
        return self.flown.a

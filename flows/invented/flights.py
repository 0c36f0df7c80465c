"""A flight to be flown: who, in what, where, in what weather, with which approaches."""

from dataclasses import dataclass
from datetime import datetime

import numpy as np

from flows.invented.airfields import Runway
from flows.invented.airframes import AIRFRAMES
from flows.invented.pilots import Pilot
from flows.invented.technique import Technique
from flows.invented.weather import Day


@dataclass(frozen=True)
class Approach:
    """One approach: `number` is the pilot's landing (1-based over contacts); offsets and heights in ft and kt."""

    kind: int
    number: int
    technique: Technique
    offset_ft: float = 0.0
    offset_kt: float = 0.0
    offset_until_ft: float = 0.0
    go_ft: float = 0.0

    @property
    def unstable(self) -> bool:
        """Whether it is flown outside the gate at 500 ft."""
        return self.offset_until_ft > 0.0


@dataclass(frozen=True)
class Flight:
    """One log to be flown: one pilot, one aircraft, one runway, one or several approaches."""

    pilot: Pilot
    aircraft: str
    recorder: str
    runway: Runway
    weather: Day
    started_at: datetime
    approaches: tuple[Approach, ...]
    mass_share: float
    log_file: str = ""
    device: str = "aircraft"
    exercise: str = "normal"
    automatic: bool = False
    autothrottle: bool = False
    ends: str = ""
    unnamed: bool = False

    @property
    def profile(self) -> str:
        """Type flown."""
        return self.pilot.profile


def headwind_kt(runway: Runway, weather: Day) -> float:
    """Wind along the runway, positive from ahead."""
    return float(weather.speed_kt * np.cos(np.radians(weather.from_deg - runway.true_heading_deg)))


def crosswind_kt(runway: Runway, weather: Day) -> float:
    """Wind across the runway, positive from the right."""
    return float(weather.speed_kt * np.sin(np.radians(weather.from_deg - runway.true_heading_deg)))


def type_name(flight: Flight) -> str:
    """The invented type's name."""
    return AIRFRAMES[flight.profile].name

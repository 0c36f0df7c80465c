"""A grid of channels in, the courses that several checks share out: where it flies, how fast, which way, how steep."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from pipeline.quality.grid import STEP_S, Grid, change
from pipeline.rows import middle

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

KT_FPS = 1852.0 / 0.3048 / 3600.0
G_FPS2 = 9.80665 / 0.3048
_FT_A_DEGREE = 60.0 * 1852.0 / 0.3048
_SLOW_KT = 30.0
FOUR_S = 8
"""Steps over which speed and track are taken from positions."""


_COARSE_FT = 250.0
"""Positions in steps longer than this tell no speed and no track over a few seconds."""


def _smallest_step(degrees: Floats) -> float:
    """Smallest step between values that differ, 0 where none do."""
    steps = np.abs(np.diff(degrees[np.isfinite(degrees)]))
    return float(steps[steps > 1e-9].min(initial=np.inf)) if (steps > 1e-9).any() else 0.0


@dataclass(frozen=True)
class Courses:
    """Courses on a grid, (m,) each, NaN where the log does not tell."""

    grid: Grid

    @cached_property
    def flying(self) -> Bools:
        """Where nothing says that the wheels bear or that it stands nearly still."""
        slow = np.fmin(self.grid.of("ground_speed_kt"), self.grid.of("airspeed_kt")) < _SLOW_KT
        return ~(self.grid.of("main_on_ground") > 0.5) & ~slow & ~(self.grid.of("radio_height_ft") < 3.0)

    @cached_property
    def standing(self) -> Bools:
        """Where the wheels have borne for three seconds, by the switch."""
        bears = self.grid.of("main_on_ground") > 0.5
        return bears & np.concatenate([np.zeros(6, dtype=bool), bears[:-6]])[: len(bears)]

    @cached_property
    def speed_fps(self) -> Floats:
        """Speed over the ground by positions, else as recorded, else through the air, ft/s."""
        ground = self.grid.of("ground_speed_kt")
        speed = np.where(np.isfinite(ground), ground, self.grid.of("airspeed_kt")) * KT_FPS
        middle = slice(FOUR_S // 2, -(FOUR_S // 2))
        by_place = self.moved_ft / (FOUR_S * STEP_S)
        speed[middle] = np.where(np.isfinite(by_place), by_place, speed[middle])
        return np.where(speed > _SLOW_KT * KT_FPS, speed, np.nan)

    @cached_property
    def _moved(self) -> tuple[Floats, Floats]:
        """Feet north and east over four seconds, (m - 8,) each."""
        lat, lon = self.grid.of("latitude_deg"), self.grid.of("longitude_deg")
        narrow = np.cos(np.radians(lat[:-FOUR_S]))
        east = np.mod(change(lon, FOUR_S) + 180.0, 360.0) - 180.0
        told = 1.0 if _smallest_step(lat) * _FT_A_DEGREE < _COARSE_FT else np.nan
        return change(lat, FOUR_S) * _FT_A_DEGREE * told, east * _FT_A_DEGREE * narrow * told

    @cached_property
    def moved_ft(self) -> Floats:
        """Distance between positions four seconds apart, (m - 8,)."""
        return np.hypot(*self._moved)

    @cached_property
    def position_track_deg(self) -> Floats:
        """Track from positions two seconds either side, unwrapped, (m,)."""
        north, east = self._moved
        track = np.full(len(self.grid.t), np.nan)
        known = np.flatnonzero(self.moved_ft > _SLOW_KT * KT_FPS * FOUR_S * STEP_S)
        track[known + FOUR_S // 2] = np.unwrap(np.degrees(np.arctan2(east[known], north[known])), period=360.0)
        return track

    @cached_property
    def path_deg(self) -> Floats:
        """Angle of the path over the ground from vertical speed, positive climbing, over 1.5 s."""
        climb = self.grid.of("vertical_speed_fpm") / 60.0
        angle = np.degrees(np.arctan2(climb, self.speed_fps))
        smooth = angle.copy()
        smooth[1:-1] = (angle[2:] + angle[1:-1] + angle[:-2]) / 3.0
        return smooth


def usual(x: Floats) -> float:
    """Median of the values of `x`; NaN without any."""
    held = x[np.isfinite(x)]
    return middle(held) if len(held) else float("nan")

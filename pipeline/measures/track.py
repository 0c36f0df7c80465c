"""Where the aircraft is along and across the runway, and how far it has come, from position and ground speed.

Goes in: a window. Comes out: ground covered to contact on the coarse grid, and the place of the contact on the runway.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.biases import BIAS, POSITION_DELAY_S, POSITION_FT
from pipeline.measures.runway_axes import along_across
from pipeline.measures.window import COARSE, KT_FPS, Window, between

Floats = NDArray[np.float64]

_FT_PER_DEG = 60.0 * 1852.0 / 0.3048
"""A degree of latitude, nearly, ft."""

_STEP = COARSE[1] - COARSE[0]
_ZERO = int(np.searchsorted(COARSE, -1e-9))
NEAR = between(COARSE, -40.0, 8.0)
"""The part of the coarse grid on which positions place the contact."""


@dataclass(frozen=True)
class Track:
    """Per landing: `to_contact_ft` (n, k) ground still to cover to the anchor (negative before it, 0 at it).

    `contact_x_ft`, `contact_y_ft` (n,): the anchor's place from the landing threshold, positive down the runway and
    right of the centreline, of the main wheels, with `x_u_ft`, `y_u_ft`. `near_y_ft` (n, j): positions right of the
    centreline on the part `NEAR` of the coarse grid. NaN where position, ground speed or runway is missing.
    """

    to_contact_ft: Floats
    contact_x_ft: Floats
    contact_y_ft: Floats
    x_u_ft: Floats
    y_u_ft: Floats
    near_y_ft: Floats

    @property
    def x_ft(self) -> Floats:
        """Place along the runway on the coarse grid, (n, k), ft from the landing threshold."""
        return self.contact_x_ft[:, None] + self.to_contact_ft


def track(w: Window) -> Track:
    """Ground covered and place of contact.

    Distance is the integral of ground speed, or where there is none of the positions' own progress. The place of the
    contact is the mean offset of the positions from that integral, over the last 40 s and the first 8 s on the ground,
    so that rounding of single positions averages out; an unknown delay of positions does not, and is in the
    uncertainty.
    """
    x, y = _along_across(w)
    covered = _covered(w, x)
    offset = x - covered[:, NEAR]
    place = rows.mean(offset)
    independent = np.maximum(rows.count(offset) * _STEP / np.maximum(_position_interval(w), _STEP), 1.0)
    scatter = np.nan_to_num(rows.deviation(offset)) / np.sqrt(independent)
    speed = np.nan_to_num(rows.at(_speed_fps(w), COARSE, np.zeros(w.n)), nan=120.0)
    timing = speed * np.hypot(POSITION_DELAY_S, np.nan_to_num(w.contact_u_s, nan=1.0))
    across = rows.median(np.where(np.abs(COARSE[NEAR]) < 4.0, y, np.nan))
    rounding = position_rounding_ft(w)
    beside = np.nan_to_num(rows.deviation(y[:, between(COARSE[NEAR], -3.0, 3.0)])) / 2.0
    across_u = np.sqrt(POSITION_FT**2 + rounding**2 + beside**2)
    x_u = np.sqrt(scatter**2 + timing**2 + POSITION_FT**2 + rounding**2)
    return Track(covered, place - w.reference.antenna_ahead_ft, across, x_u, across_u, y)


def _along_across(w: Window) -> tuple[Floats, Floats]:
    """Positions near the runway as ft along and across it, (n, j) each."""
    return along_across(
        w.coarse("latitude_deg")[:, NEAR],
        w.coarse("longitude_deg")[:, NEAR],
        threshold_lat=w.reference.threshold_lat,
        threshold_lon=w.reference.threshold_lon,
        heading_deg=w.reference.runway_heading_deg,
    )


def _speed_fps(w: Window) -> Floats:
    return w.coarse("ground_speed_kt") * KT_FPS


def _covered(w: Window, x: Floats) -> Floats:
    """Ground covered relative to the anchor, (n, k); by ground speed, else by the positions themselves."""
    speed = _speed_fps(w)
    pieces = 0.5 * (speed[:, 1:] + speed[:, :-1]) * _STEP
    total = np.concatenate([np.zeros((w.n, 1)), np.cumsum(np.nan_to_num(pieces), axis=1)], axis=1)
    total -= total[:, [_ZERO]]
    total = np.where(np.isfinite(speed), total, np.nan)
    own = np.full(total.shape, np.nan)
    own[:, NEAR] = x - rows.at(x, COARSE[NEAR], np.zeros(w.n))[:, None]
    return np.where(w.lacks("ground_speed_kt")[:, None], own, total)


def _position_interval(w: Window) -> Floats:
    return np.where(w.lacks("latitude_deg"), 1.0, w.interval_s("latitude_deg"))


def distance_u(seconds: Floats) -> Floats:
    """Uncertainty (n,) ft of a ground distance covered in `seconds` (n,), from a constant error of ground speed."""
    return np.abs(seconds) * BIAS["ground_speed_kt"] * KT_FPS


def position_rounding_ft(w: Window) -> Floats:
    """Uncertainty (n,) ft of a position from the coarser of the steps its latitude and longitude are written in."""
    lat, lon = w.resolution("latitude_deg"), w.resolution("longitude_deg")
    narrow = np.cos(np.radians(np.nan_to_num(w.reference.threshold_lat)))
    return _FT_PER_DEG * np.fmax(lat, lon * narrow) / np.sqrt(12.0)

"""Height above the threshold along the approach, where the ground below is not the runway.

Goes in: a window, the wheel height and the track. Comes out: height on the coarse grid, its channel and its error.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.biases import BIAS
from pipeline.measures.contact_path import ContactPath
from pipeline.measures.track import Track
from pipeline.measures.window import COARSE, KT_FPS, ROLL, Window, between

Floats = NDArray[np.float64]
Texts = NDArray[np.object_]

_ALTITUDES = ("geometric_altitude_ft", "pressure_altitude_ft")
_LANDED, _ROLLED = between(COARSE, 1.0, 6.0), between(ROLL, 1.0, 30.0)
_SAMPLES = 16
"""Samples of the rollout grid, 8 s, from the first on which the switch says that the wheels bear."""
_ON_WHEELS_FT = 10.0
"""Static pressure near the ground and at another pitch differs from that of the approach (our own choice)."""
_REPORTED_FT = 20.0
"""Height by a pressure reported for the field: rounded to 1 hPa (8 ft uniform), a temperature off the standard by some
15 K at the gate (25 ft at 500 ft), the altimeter system (our own choice)."""


def gate_height(w: Window, path: ContactPath, track: Track) -> tuple[Floats, Texts]:
    """Height above the landing threshold (n, k), ft, and its source (n,), None where there is none.

    An altitude tied to its own value in the rollout is taken before radio height, because radio height follows the
    terrain before the runway: to its value once the switch says that the wheels bear, where it does, because static
    pressure is disturbed in the flare. The rollout lies above or below the threshold by the runway's slope times its
    distance from there, where both are known. Without a contact there is no rollout, and radio height is used; without
    radio height pressure altitude, by the pressure of the weather report and the elevation of the runway.
    """
    height, source = path.height_coarse.copy(), np.full(w.n, None, dtype=object)
    reported = _reported(w)
    unseen = w.lacks("radio_height_ft") & np.isfinite(reported).any(axis=1)
    height = np.where(unseen[:, None], reported, height)
    source[unseen] = "pressure_altitude_ft"
    source[~w.lacks("radio_height_ft")] = "radio_height_ft"
    for channel in reversed(_ALTITUDES):
        altitude, ground = w.coarse(channel), _rollout(w, channel, track)
        tied = np.isfinite(ground) & w.grounded
        height = np.where(tied[:, None], altitude - ground[:, None], height)
        source[tied] = channel
    return height, source


def gate_height_u(w: Window, source: Texts) -> Floats:
    """Standard uncertainty (n,) ft of the height of `gate_height` by its source; NaN where there is none."""
    u = np.full(w.n, np.nan)
    for channel in ("radio_height_ft", *_ALTITUDES):
        step = w.resolution(channel) / np.sqrt(12.0)
        tied = np.hypot(BIAS[channel], step)
        if channel == "pressure_altitude_ft":
            tied = np.where(w.grounded, np.hypot(tied, _ON_WHEELS_FT), np.hypot(step, _REPORTED_FT))
        u = np.where(source == channel, tied, u)
    return u


def altitude_of(pressure_hpa: Floats) -> Floats:
    """Pressure altitude, ft, at which the standard atmosphere (ISO 2533, below 36,089 ft) has a pressure, (n,).

    >>> [round(float(x)) for x in altitude_of(np.array([1013.25, 977.17, 843.07]))]
    [0, 1000, 5000]
    """
    return (288.15 / 0.0065 / 0.3048) * (1.0 - (pressure_hpa / 1013.25) ** (1.0 / 5.255876))


def _reported(w: Window) -> Floats:
    """Height above the runway by pressure altitude, the report's sea-level pressure and the runway's elevation."""
    threshold = altitude_of(w.reference.pressure_hpa) + w.reference.elevation_ft
    return w.coarse("pressure_altitude_ft") - threshold[:, None]


def _rollout(w: Window, channel: str, track: Track) -> Floats:
    """Altitude of the threshold (n,) by that on the wheels, less the runway's rise from there.

    On the wheels is over 8 s from when the switch bears, else from 1 to 6 s after the anchor.
    """
    rise = w.reference.slope_pct / 100.0
    bears = np.cumsum(w.roll("main_on_ground")[:, _ROLLED] > 0.5, axis=1)
    first = (bears > 0) & (bears <= _SAMPLES)
    shown, place = (np.where(first, x, np.nan) for x in (w.roll(channel)[:, _ROLLED], _rolled_ft(w, track)))
    told = rows.has(shown)
    level = np.where(told, rows.median(shown), rows.median(w.coarse(channel)[:, _LANDED]))
    along = np.where(told, rows.median(place), rows.median(track.x_ft[:, _LANDED]))
    return level - np.nan_to_num(rise * along)


def _rolled_ft(w: Window, track: Track) -> Floats:
    """Distance of the rollout's places from the threshold, (n, r), ft, NaN without position or ground speed."""
    speed = w.roll("ground_speed_kt") * KT_FPS
    covered = np.cumsum(np.nan_to_num(speed), axis=1) * (ROLL[1] - ROLL[0])
    start = covered[:, [int(np.searchsorted(ROLL, -1e-9))]]
    return np.where(np.isfinite(speed), track.contact_x_ft[:, None] + covered - start, np.nan)[:, _ROLLED]

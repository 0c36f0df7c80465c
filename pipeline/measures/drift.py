"""Which way the aircraft went over the runway at contact, from the recorded track or from the positions.

Goes in: a window and the track. Comes out: speed across the runway and the track flown, with their uncertainty.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.biases import BIAS, RUNWAY_HEADING_DEG
from pipeline.measures.track import NEAR, Track, position_rounding_ft
from pipeline.measures.window import COARSE, FINE, KT_FPS, Window, between

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_LAST = between(FINE, -1.0, 0.0)
_FITTED = between(COARSE[NEAR], -3.0, 0.0)
_PLACE_FT = 1.0
"""Scatter of one position against the next beside its rounding (our own choice)."""
_BEND_KT = 0.25
"""What a change of drift in the last 3 s may hide from a straight line (our own choice)."""
_POSITION_SLOW_S = 1.1


@dataclass(frozen=True)
class Drift:
    """Per landing (n,): `drift_kt` across the runway, positive right, and `track_deg` flown, true, each with its `_u`.

    `missing`: why both are null.
    """

    drift_kt: Floats
    drift_u_kt: Floats
    track_deg: Floats
    track_u_deg: Floats
    missing: tuple[tuple[Bools, str], ...]


def drift(w: Window, track: Track) -> Drift:
    """Drift at contact by whichever of recorded track and positions is the surer.

    By the track: ground speed times the sine of its angle to the runway, in the last second. By positions: the slope of
    a straight line through their distance from the centreline over the last 3 s.
    """
    heading = w.reference.runway_heading_deg
    speed = rows.mean(w.fine("ground_speed_kt")[:, _LAST])
    recorded = rows.mean(w.fine("track_true_deg")[:, _LAST])
    by_track = speed * np.sin(np.radians(recorded - heading))
    track_noise = w.noise("track_true_deg") ** 2 + 0.25 * w.resolution("track_true_deg") ** 2
    by_track_u = speed * np.radians(np.sqrt(BIAS["track_true_deg"] ** 2 + RUNWAY_HEADING_DEG**2 + track_noise))
    by_place, by_place_u = _by_positions(w, track, speed)
    surer = by_place_u < np.where(np.isfinite(by_track), by_track_u, np.inf)
    value, u = np.where(surer, by_place, by_track), np.where(surer, by_place_u, by_track_u)
    with np.errstate(invalid="ignore", divide="ignore"):
        flown = heading + np.degrees(np.arctan2(value, speed))
        flown_u = np.degrees(u / np.maximum(speed, 20.0))
    nothing = w.lacks("ground_speed_kt") | (w.lacks("track_true_deg") & w.lacks("latitude_deg"))
    missing = (
        *w.lacking(nothing, "ground_speed_kt", "track_true_deg", "latitude_deg"),
        *w.no_contact,
        (~np.isfinite(heading), "no_reference"),
    )
    return Drift(value, u, flown, flown_u, missing)


def _by_positions(w: Window, track: Track, speed: Floats) -> tuple[Floats, Floats]:
    """Slope of the distance from the centreline, kt, and its uncertainty; infinite where positions cannot tell."""
    y, t = track.near_y_ft[:, _FITTED], COARSE[NEAR][_FITTED]
    t = t - t.mean()
    slope = (y @ t) / (t @ t) / KT_FPS
    interval = np.minimum(w.interval_s("latitude_deg"), 9.0)
    rounding = position_rounding_ft(w)
    number = np.maximum(3.0 / np.maximum(interval, COARSE[1] - COARSE[0]), 2.0)
    scatter = np.hypot(rounding, _PLACE_FT) * np.sqrt(12.0 / number) / 3.0 / KT_FPS
    u = np.sqrt(scatter**2 + _BEND_KT**2 + (speed * np.radians(RUNWAY_HEADING_DEG)) ** 2)
    usable = np.isfinite(slope) & (interval <= _POSITION_SLOW_S)
    return slope, np.where(usable, u, np.inf)

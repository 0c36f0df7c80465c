"""The landing threshold: height, speed, sink and lateral offset as the main wheels cross it.

Goes in: a window, wheel heights and the track. Comes out: the threshold's answers and the time of the crossing.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS, HEIGHT_LAG_U_S
from pipeline.measures.contact_path import ContactPath
from pipeline.measures.track import NEAR, Track
from pipeline.measures.window import COARSE, KT_FPS, Window, slope, smooth

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


def crossing(track: Track) -> Floats:
    """Time to contact at which the main wheels pass the landing threshold, (n,) s; NaN where it cannot be told."""
    return rows.last_down_crossing(-track.x_ft, COARSE, 0.0)


def threshold(
    w: Window, path: ContactPath, track: Track, *, gate_height: Floats, gate_height_u: Floats
) -> dict[str, Answer]:
    """Height, airspeed, sink and lateral offset at the threshold.

    Height is the radio height of the wheels where there is one, else `gate_height` (n, k) with its own uncertainty
    (n,). Null `no_channel` without
    position and ground, `no_reference` without the runway, `not_reached` where the wheels touch before the threshold or
    the log begins beyond it.
    """
    when = crossing(track)
    missing = _missing(w, track, when)
    radio = rows.has(path.height_coarse)
    height = np.where(radio[:, None], path.height_coarse, gate_height)
    sink = -_fill(w.coarse("vertical_speed_fpm"), 60.0 * slope(smooth(gate_height, 2.0, 0.25), 0.25))
    at_sink = rows.at(sink, COARSE, when)
    late_s = track.x_u_ft / np.maximum(_ground_fps(w, when), 50.0)
    near_u = _height_u(w, path, at_sink, late_s)
    far_u = np.hypot(gate_height_u, np.abs(np.nan_to_num(at_sink, nan=600.0)) / 60.0 * late_s)
    shown = {
        "threshold_height_ft": (rows.at(height, COARSE, when), np.where(radio, near_u, far_u)),
        "threshold_sink_fpm": (at_sink, np.hypot(40.0, w.resolution("vertical_speed_fpm") / np.sqrt(12.0))),
        "threshold_lateral_ft": (rows.at(track.near_y_ft, COARSE[NEAR], when), track.y_u_ft),
    }
    found = {name: answer(value, u, missing=missing) for name, (value, u) in shown.items()}
    vref = w.reference.vref_kt
    missing = (*missing, *w.without("airspeed_kt"))
    speed = answer(_speed(w, when), np.hypot(BIAS["airspeed_kt"], 0.3 * late_s), missing=missing)
    found["threshold_airspeed_kt"] = speed
    found["threshold_speed_over_vref_kt"] = answer(
        speed.value - vref, speed.quality, missing=(*missing, (~np.isfinite(vref), "no_reference"))
    )
    return found


def _missing(w: Window, track: Track, when: Floats) -> tuple[tuple[Bools, str], ...]:
    return (
        *w.without("latitude_deg", "longitude_deg"),
        (~np.isfinite(w.reference.threshold_lat), "no_reference"),
        (np.isfinite(track.contact_x_ft) & ~np.isfinite(when), "not_reached"),
    )


def _speed(w: Window, when: Floats) -> Floats:
    return rows.at(smooth(w.coarse("airspeed_kt"), 2.0, 0.25), COARSE, when)


def _ground_fps(w: Window, when: Floats) -> Floats:
    return np.nan_to_num(rows.at(w.coarse("ground_speed_kt"), COARSE, when), nan=100.0) * KT_FPS


def _height_u(w: Window, path: ContactPath, sink_fpm: Floats, late_s: Floats) -> Floats:
    moved = np.abs(np.nan_to_num(sink_fpm, nan=600.0)) / 60.0
    noise = w.noise("radio_height_ft")
    return np.sqrt(path.height_u_ft**2 + noise**2 + (moved * HEIGHT_LAG_U_S) ** 2 + (moved * late_s) ** 2)


def _fill(first: Floats, second: Floats) -> Floats:
    return np.where(np.isfinite(first), first, second)

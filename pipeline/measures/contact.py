"""Contact: how firmly, at what attitude and speed, and what came after the first touch.

Goes in: a window, wheel heights, the touches found. Comes out: the answers by measure name.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS
from pipeline.measures.contact_path import ContactPath
from pipeline.measures.track import Track, distance_u
from pipeline.measures.window import COARSE, FINE, KT_FPS, Window, between, slope, smooth
from pipeline.stack import peak

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_PULSE_S = 0.3
"""Width of the half-sine that a firm contact leaves behind a 5 Hz low-pass: our own choice."""
_SHAPE_G, _SHAPE_SHARE = 0.015, 0.05
"""What the pulse's shape and the largest of several noisy samples add to the peak's uncertainty: our own choice."""
_FASTEST_LOST_S = 0.26
_FLOAT_FT = 10.0
_GRID_S = 1.0 / 16.0


def contact(
    w: Window, path: ContactPath, track: Track, touches: Sequence[tuple[float, ...] | None]
) -> dict[str, Answer]:
    """Vertical speed, acceleration, attitude and speed at contact, float, distance from 50 ft, bounces.

    Every measure is null `no_channel` where no contact could be timed or its channel is not in the log.
    """
    untimed = ((~w.timed, "no_channel"),)
    slow_path = (*untimed, *_path_missing(w))
    speed = path.speed_fps * 60.0
    climbing = np.isfinite(path.acceleration_fps2) & ~np.isfinite(speed)
    return {
        "vertical_speed_at_contact_fpm": answer(
            speed, path.speed_u_fps * 60.0, missing=(*slow_path, (climbing, "implausible"))
        ),
        **_acceleration(w, untimed),
        **_attitude(w, untimed),
        **_speeds(w, untimed),
        **_below(w, path, track, untimed),
        "bounces": _bounces(w, touches, untimed),
    }


def _path_missing(w: Window) -> tuple[tuple[Bools, str], ...]:
    neither = w.lacks("radio_height_ft") & w.lacks("vertical_speed_fpm")
    slow = (w.interval_s("radio_height_ft") >= 2.1) & (w.interval_s("vertical_speed_fpm") >= 1.1)
    return ((neither, "no_channel"), (slow & ~neither, "too_slow"))


def capture(rate_hz: Floats) -> tuple[Floats, Floats]:
    """Mean and standard deviation of the share of a half-sine peak that the largest sample shows, (n,) each.

    A pulse of width T sampled at fs with random phase: the largest sample lies within half an interval of the peak, so
    that it shows cos(y) with y uniform on [0, x], x = pi / (2 fs T); its mean is sin(x) / x.

    >>> round(float(capture(np.array([8.0 * 0.25 / 0.3]))[0][0]), 3)
    0.9
    """
    x = np.pi / (2.0 * np.maximum(rate_hz, 0.1) * _PULSE_S)
    average = np.sin(x) / x
    square = 0.5 + np.sin(2.0 * x) / (4.0 * x)
    return average, np.sqrt(np.maximum(square - average**2, 0.0))


def _acceleration(w: Window, untimed: tuple[tuple[Bools, str], ...]) -> dict[str, Answer]:
    now = np.where(w.timed, w.anchor_s, 0.0)
    top, held = peak(w.stack, "normal_accel_g", w.log, (now - 0.25, now + 1.0))
    interval = w.interval_s("normal_accel_g")
    missing = (*untimed, (w.lacks("normal_accel_g"), "no_channel"))
    share, spread = capture(1.0 / np.minimum(interval, 10.0))
    excess = np.maximum(top - 1.0, 0.0)
    estimate = 1.0 + excess / share
    shape = np.hypot(_SHAPE_G, _SHAPE_SHARE * excess)
    u = np.sqrt(
        (excess / share**2 * spread) ** 2 + BIAS["normal_accel_g"] ** 2 + w.noise("normal_accel_g") ** 2 + shape**2
    )
    slow = (w.slower_than("normal_accel_g", _FASTEST_LOST_S), "too_slow")
    sampled = np.where(held > 0, top, np.nan)
    return {
        "peak_g": answer(estimate, u, missing=(*missing, slow)),
        "peak_g_sampled": answer(sampled, np.hypot(BIAS["normal_accel_g"], w.noise("normal_accel_g")), missing=missing),
    }


def _attitude(w: Window, untimed: tuple[tuple[Bools, str], ...]) -> dict[str, Answer]:
    found = {}
    for name, channel in (("pitch_at_contact_deg", "pitch_deg"), ("roll_at_contact_deg", "roll_deg")):
        value = rows.mean(w.fine(channel)[:, between(FINE, -0.25, 0.0)])
        turning = np.abs(np.nan_to_num(rows.mean(slope(w.fine(channel), _GRID_S)[:, between(FINE, -0.5, 0.0)])))
        late = turning * np.hypot(w.contact_u_s, 0.3 * np.minimum(w.interval_s(channel), 2.0))
        u = np.sqrt(BIAS[channel] ** 2 + w.noise(channel) ** 2 + late**2)
        found[name] = answer(value, u, missing=(*untimed, (w.lacks(channel), "no_channel")))
    return found


def _speeds(w: Window, untimed: tuple[tuple[Bools, str], ...]) -> dict[str, Answer]:
    airspeed = rows.mean(w.fine("airspeed_kt")[:, between(FINE, -1.0, 0.0)])
    missing = (*untimed, (w.lacks("airspeed_kt"), "no_channel"))
    u = np.hypot(BIAS["airspeed_kt"], w.noise("airspeed_kt") / 2.0)
    vref = w.reference.vref_kt
    return {
        "contact_airspeed_kt": answer(airspeed, u, missing=missing),
        "contact_speed_over_vref_kt": answer(
            airspeed - vref, u, missing=(*missing, (~np.isfinite(vref), "no_reference"))
        ),
    }


def _below(w: Window, path: ContactPath, track: Track, untimed: tuple[tuple[Bools, str], ...]) -> dict[str, Answer]:
    """Time and ground below 10 ft, and ground from 50 ft, to first contact."""
    radio = (*untimed, (w.lacks("radio_height_ft"), "no_channel"), (w.slower_than("radio_height_ft", 1.05), "too_slow"))
    ground = (*radio, (~rows.has(track.to_contact_ft), "no_channel"))
    calm = smooth(path.height_fine, 0.3, _GRID_S)
    ten, ten_u = _crossing(w, path, calm, _FLOAT_FT)
    fifty, fifty_u = _crossing(w, path, smooth(path.height_coarse, 0.5, 0.25), 50.0)
    fps = np.nan_to_num(rows.at(w.coarse("ground_speed_kt"), COARSE, np.nan_to_num(ten)), nan=120.0) * KT_FPS

    def run(when: Floats, u: Floats) -> tuple[Floats, Floats]:
        return -rows.at(track.to_contact_ft, COARSE, when), np.hypot(fps * u, distance_u(when))

    float_run, from_50 = run(ten, ten_u), run(fifty, fifty_u)
    return {
        "float_time_s": answer(-ten, ten_u, missing=(*radio, (~np.isfinite(ten), "not_reached"))),
        "float_distance_ft": answer(*float_run, missing=(*ground, (~np.isfinite(ten), "not_reached"))),
        "distance_from_50ft_ft": answer(*from_50, missing=(*ground, (~np.isfinite(fifty), "not_reached"))),
    }


def _crossing(w: Window, path: ContactPath, height: Floats, level_ft: float) -> tuple[Floats, Floats]:
    """Last time the wheels come down through `level_ft`, s to contact, and its uncertainty with the contact's."""
    grid = FINE if height.shape[1] == len(FINE) else COARSE
    when = rows.last_down_crossing(height, grid, level_ft, before=np.zeros(w.n))
    step = grid[1] - grid[0]
    sink = np.abs(rows.at(slope(smooth(height, 1.0, step), step), grid, when))
    error = np.hypot(path.height_u_ft, w.noise("radio_height_ft") / np.sqrt(2.0))
    return when, np.sqrt((error / np.maximum(np.nan_to_num(sink, nan=5.0), 1.0)) ** 2 + w.contact_u_s**2 + 0.05**2)


def _bounces(w: Window, touches: Sequence[tuple[float, ...] | None], untimed: tuple[tuple[Bools, str], ...]) -> Answer:
    number = np.array([np.nan if found is None else len(found) - 1.0 for found in touches])
    sure = np.where(w.interval_s("main_on_ground") <= _FASTEST_LOST_S, 0.95, 0.8)
    return answer(number, sure, missing=(*untimed, (~np.isfinite(number), "too_slow")))

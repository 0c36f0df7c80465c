"""The flare: where it begins, how long and far it takes, how much the nose rises.

Goes in: a window, wheel heights, the rotation and the track. Comes out: the flare's answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS, HEIGHT_LAG_U_S
from pipeline.measures.contact_path import ContactPath
from pipeline.measures.rotation import Rotation
from pipeline.measures.track import Track, distance_u
from pipeline.measures.window import COARSE, FINE, KT_FPS, Window, slope, smooth

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_SLOW_PITCH_S = 1.05
_STEP = 1.0 / 16.0


def flare(w: Window, path: ContactPath, turn: Rotation, track: Track) -> dict[str, Answer]:
    """Flare height, time, distance, attitude and rate.

    Null `no_channel` without pitch (or, for heights, radio height), `too_slow` where pitch is sampled less than once a
    second, `not_reached` where the nose never rises that much: a landing without a flare has no flare height.
    """
    base = _missing(w, turn)
    high = (*base, (w.lacks("radio_height_ft"), "no_channel"))
    height = rows.at(path.height_fine, FINE, turn.start_s)
    time = -turn.start_s
    time_u = np.hypot(turn.start_u_s, w.contact_u_s)
    distance = -rows.at(track.to_contact_ft, COARSE, turn.start_s)
    fps = np.nan_to_num(rows.at(w.coarse("ground_speed_kt"), COARSE, turn.start_s), nan=120.0) * KT_FPS
    with np.errstate(invalid="ignore", divide="ignore"):
        pitch_rate = turn.rise_deg / (turn.end_s - turn.start_s)
        rate_u = turn.rise_u_deg / np.maximum(turn.end_s - turn.start_s, 0.5) + 0.1 * np.abs(pitch_rate)
    travelled = (*base, (~rows.has(track.to_contact_ft), "no_channel"))
    return {
        "flare_height_ft": answer(height, _height_u(w, path, turn), missing=high),
        "flare_time_s": answer(time, time_u, missing=base),
        "flare_distance_ft": answer(distance, np.hypot(fps * time_u, distance_u(time)), missing=travelled),
        "pitch_at_flare_deg": answer(turn.line_deg, np.hypot(BIAS["pitch_deg"], turn.rise_u_deg), missing=base),
        "pitch_change_deg": answer(turn.rise_deg, turn.rise_u_deg, missing=base),
        "pitch_rate_dps": answer(pitch_rate, rate_u, missing=base),
        "height_regained_ft": _regained(w, path, turn, high),
    }


def _missing(w: Window, turn: Rotation) -> tuple[tuple[Bools, str], ...]:
    return (
        (w.lacks("pitch_deg") | ~w.timed, "no_channel"),
        (w.slower_than("pitch_deg", _SLOW_PITCH_S), "too_slow"),
        (~turn.shown, "gap"),
        (~turn.found, "not_reached"),
    )


def _height_u(w: Window, path: ContactPath, turn: Rotation) -> Floats:
    sink = rows.at(-slope(smooth(path.height_fine, 1.5, _STEP), _STEP), FINE, turn.start_s)
    moved = np.abs(np.nan_to_num(sink, nan=10.0))
    sampled = w.noise("radio_height_ft") / np.sqrt(2.0)
    return np.sqrt(path.height_u_ft**2 + sampled**2 + (moved * turn.start_u_s) ** 2 + (moved * HEIGHT_LAG_U_S) ** 2)


def _regained(w: Window, path: ContactPath, turn: Rotation, missing: tuple[tuple[Bools, str], ...]) -> Answer:
    calm = smooth(path.height_fine, 0.5, _STEP)
    after = (turn.start_s[:, None] <= FINE) & (FINE <= 0.0) & np.isfinite(calm)
    lowest = np.minimum.accumulate(np.where(after, calm, np.inf), axis=1)
    climb = np.where(after, calm - np.where(np.isfinite(lowest), lowest, 0.0), np.nan)
    value = np.maximum(rows.largest(climb), 0.0)
    u = np.hypot(w.noise("radio_height_ft"), 0.4)
    small = value < 2.0 * u
    return answer(np.where(small, 0.0, value), u, missing=missing)

"""The flare: where it begins, how long and far it takes, how much the nose rises.

Goes in: a window, wheel heights, the rotation and the track. Comes out: the flare's answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS
from pipeline.measures.contact_path import ContactPath
from pipeline.measures.reversals import reversals
from pipeline.measures.rotation import Rotation
from pipeline.measures.track import Track, distance_u
from pipeline.measures.window import COARSE, FINE, KT_FPS, Window, between, slope, smooth

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Missing = tuple[tuple[Bools, str], ...]

_SLOW_PITCH_S, _SLOW_TURN_S = 1.05, 0.55
_STEP = 1.0 / 16.0
_LAST = between(FINE, -20.0, 0.0)
HEIGHT_DELAY_U_S = 0.07
"""What the contact's fit leaves unknown of the delay of height: our own choice, from simulated landings."""
_LEAST_SWING_DEG = 0.3
"""A smaller swing is no reversal, however quiet the channel: as much as stands for a flare's start."""


def flare(w: Window, path: ContactPath, turn: Rotation, track: Track) -> dict[str, Answer]:
    """Flare height by pitch and by path, time, distance, attitude, rate and reversals.

    Null `no_channel` without pitch (or, for heights, radio height), `too_slow` where pitch is sampled less than once a
    second, `not_reached` where the nose never rises that much: a landing without a flare has no flare height.
    """
    base = _missing(w, turn)
    time = -turn.start_s
    time_u = np.hypot(turn.start_u_s, w.contact_u_s)
    distance = -rows.at(track.to_contact_ft, COARSE, turn.start_s)
    fps = np.nan_to_num(rows.at(w.coarse("ground_speed_kt"), COARSE, turn.start_s), nan=120.0) * KT_FPS
    with np.errstate(invalid="ignore", divide="ignore"):
        pitch_rate = turn.rise_deg / (turn.end_s - turn.start_s)
        rate_u = turn.rise_u_deg / np.maximum(turn.end_s - turn.start_s, 0.5) + 0.03 * np.abs(pitch_rate)
    travelled = (*base, *w.lacking(~rows.has(track.to_contact_ft), "ground_speed_kt", "latitude_deg"))
    return {
        **_heights(w, path, turn, base),
        "flare_time_s": answer(time, time_u, missing=base),
        "flare_distance_ft": answer(distance, np.hypot(fps * time_u, distance_u(time)), missing=travelled),
        "pitch_at_flare_deg": answer(turn.line_deg, np.hypot(BIAS["pitch_deg"], turn.rise_u_deg), missing=base),
        "pitch_change_deg": answer(turn.rise_deg, turn.rise_u_deg, missing=base),
        "pitch_rate_dps": answer(pitch_rate, rate_u, missing=base),
        "pitch_reversals": _reversals(w, turn, base),
        "height_regained_ft": _regained(w, path, turn, (*base, *w.without("radio_height_ft"))),
    }


def _missing(w: Window, turn: Rotation) -> Missing:
    return (
        *w.without("pitch_deg"),
        *w.no_contact,
        (w.slower_than("pitch_deg", _SLOW_PITCH_S), "too_slow"),
        (~turn.shown, "gap"),
        (~turn.found, "not_reached"),
    )


def _heights(w: Window, path: ContactPath, turn: Rotation, base: Missing) -> dict[str, Answer]:
    """Flare height by pitch, by path alone, and the first minus the second."""
    radio = (*w.without("radio_height_ft"),)
    starts = turn.starts_s.T
    by_pitch, spread = turn.settle(np.stack([rows.at(path.height_fine, FINE, start) for start in starts], axis=1))
    height_u = np.hypot(spread, _height_u(w, path, turn.start_s, turn.sampling_u_s))
    by_path = rows.at(path.height_fine, FINE, turn.path_start_s)
    path_u = _height_u(w, path, turn.path_start_s, turn.path_start_u_s)
    common = np.where(np.isfinite(path.height_u_ft), path.height_u_ft, 0.0)
    apart_u = np.sqrt(np.maximum(height_u**2 + path_u**2 - 2.0 * common**2, 0.0))
    broke = (*radio, *w.no_contact, (~np.isfinite(turn.path_start_s), "not_reached"))
    return {
        "flare_height_ft": answer(by_pitch, height_u, missing=(*radio, *base)),
        "flare_height_path_ft": answer(by_path, path_u, missing=broke),
        "flare_disagreement_ft": answer(by_pitch - by_path, apart_u, missing=(*radio, *base, *broke)),
    }


def _height_u(w: Window, path: ContactPath, when: Floats, when_u: Floats) -> Floats:
    """Uncertainty (n,) of the wheel height at an instant known to `when_u`, apart from what `settle` tells."""
    sink = rows.at(-slope(smooth(path.height_fine, 1.5, _STEP), _STEP), FINE, when)
    moved = np.abs(np.nan_to_num(sink, nan=10.0))
    sampled = w.noise("radio_height_ft") / np.sqrt(2.0)
    return np.sqrt(path.height_u_ft**2 + sampled**2 + (moved * np.hypot(when_u, HEIGHT_DELAY_U_S)) ** 2)


def _reversals(w: Window, turn: Rotation, missing: Missing) -> Answer:
    """How often the nose turns back after the first rotation and before contact."""
    pitch = smooth(w.fine("pitch_deg")[:, _LAST], 0.3, _STEP)
    after = np.where(turn.start_s[:, None] <= FINE[_LAST], pitch, np.nan)[:, ::2]
    swing = np.maximum(_LEAST_SWING_DEG, 4.0 * np.hypot(w.noise("pitch_deg"), w.resolution("pitch_deg") / 2.0))
    sure = np.where(w.interval_s("pitch_deg") < 0.26, 0.9, 0.7)
    slow = (*missing, (w.slower_than("pitch_deg", _SLOW_TURN_S), "too_slow"))
    return answer(reversals(after, swing), sure, missing=slow)


def _regained(w: Window, path: ContactPath, turn: Rotation, missing: Missing) -> Answer:
    calm = smooth(path.height_fine, 0.5, _STEP)
    after = (turn.start_s[:, None] <= FINE) & (FINE <= 0.0) & np.isfinite(calm)
    lowest = np.minimum.accumulate(np.where(after, calm, np.inf), axis=1)
    climb = np.where(after, calm - np.where(np.isfinite(lowest), lowest, 0.0), np.nan)
    value = np.maximum(rows.largest(climb), 0.0)
    u = np.hypot(w.noise("radio_height_ft"), 0.4)
    small = value < 2.0 * u
    return answer(np.where(small, 0.0, value), u, missing=missing)

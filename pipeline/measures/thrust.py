"""Thrust closing: when the final movement to idle begins, how long it takes, and what the nose does afterwards.

Goes in: a window, wheel heights and the rotation. Comes out: the answers by measure name.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS, HEIGHT_LAG_U_S
from pipeline.measures.contact_path import ContactPath
from pipeline.measures.rotation import Rotation
from pipeline.measures.window import FINE, Window, between, slope, smooth
from pipeline.stack import gather

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_LEVER = "thrust_lever_pct"
_IDLE_PCT = 3.0
"""A lever within this much of its lowest place near contact is at idle (calibration and resolution: our own choice)."""
_STEP = 1.0 / 16.0
_BACK = np.arange(-10.5, 0.0 + 1e-9, _STEP)
_MOVE_S = np.arange(0.25, 7.51, 0.125)
_LEVEL_S = 2.5
_SLOW_S = 1.05


@dataclass(frozen=True)
class Closing:
    """Final movement of the lever to idle, times to contact in s, (n,); NaN where it did not come to idle."""

    start_s: Floats
    idle_s: Floats
    u_s: Floats


def closing(w: Window) -> Closing:
    """Find the final movement to idle.

    Idle is reached where the lever last comes down to its idle place; the movement begins at the corner of the
    level-then-straight course that fits the lever's last seconds before it best.
    """
    lever = w.fine(_LEVER)
    low = rows.smallest(lever[:, between(FINE, -12.0, 6.0)])
    place = np.where(low < 8.0, np.maximum(low, 0.0) + _IDLE_PCT, np.nan)
    idle = rows.last_down_crossing(lever, FINE, np.nan_to_num(place, nan=-1e9))
    duration = _corner(w, idle)
    interval = np.minimum(w.interval_s(_LEVER), 2.0)
    return Closing(idle - duration, idle, np.sqrt((0.35 * interval) ** 2 + (0.08 * duration) ** 2 + 0.08**2))


def _corner(w: Window, idle: Floats) -> Floats:
    """Duration (n,) s of the straight movement that ends at `idle`, by least squares over all durations."""
    times = w.anchor_s[:, None] + np.nan_to_num(idle)[:, None] + _BACK
    lever = gather(w.stack, _LEVER, w.log, times)
    held = np.isfinite(lever)
    level = np.where(held, lever, 0.0)
    misfit = np.full((w.n, len(_MOVE_S)), np.inf)
    for i, duration in enumerate(_MOVE_S):
        inside = -duration - _LEVEL_S <= _BACK
        shape = np.clip(-_BACK[inside] / duration, 0.0, 1.0)
        misfit[:, i] = _misfit(level[:, inside], shape, ~rows.has(np.where(held[:, inside], np.nan, 0.0)))
    best = _MOVE_S[np.argmin(misfit, axis=1)]
    return np.where(np.isfinite(idle) & np.isfinite(misfit.min(axis=1)), best, np.nan)


def _misfit(level: Floats, shape: Floats, whole: Bools) -> Floats:
    """Mean squared distance of each row from the best multiple of `shape` plus a constant; infinite where not whole."""
    centred = shape - shape.mean()
    rest = level - level.mean(axis=1)[:, None]
    gain = rest @ centred / (centred @ centred)
    left = ((rest - gain[:, None] * centred) ** 2).mean(axis=1)
    return np.where(whole & (gain > 2.0), left, np.inf)


def thrust(w: Window, path: ContactPath, turn: Rotation, close: Closing) -> dict[str, Answer]:
    """Height, lag and duration of closing, idle before contact, thrust at contact, pitch afterwards.

    Null `no_channel` without a lever, `too_slow` below one sample a second, `automation` where autothrust moves thrust
    and the lever does not follow it, `not_reached` where the lever does not come to idle near contact.
    """
    driven = (rows.median(w.fine("autothrottle_on")[:, between(FINE, -6.0, -0.5)]) > 0.5) & ~(
        w.reference.lever_follows_thrust
    )
    base = (
        (w.lacks(_LEVER) | ~w.timed, "no_channel"),
        (w.slower_than(_LEVER, _SLOW_S), "too_slow"),
        (driven, "automation"),
    )
    closed = (*base, (~np.isfinite(close.start_s), "not_reached"))
    at_contact = rows.mean(w.fine(_LEVER)[:, between(FINE, -0.25, 0.0)])
    sink = rows.at(-slope(smooth(path.height_fine, 1.5, _STEP), _STEP), FINE, close.start_s)
    moved = np.abs(np.nan_to_num(sink, nan=10.0)) * np.hypot(close.u_s, HEIGHT_LAG_U_S)
    height = rows.at(path.height_fine, FINE, close.start_s)
    height_u = np.sqrt(path.height_u_ft**2 + moved**2 + w.noise("radio_height_ft") ** 2 / 2.0)
    flared = (*closed, (w.lacks("pitch_deg"), "no_channel"), (~turn.found, "not_reached"))
    before = np.hypot(close.u_s, w.contact_u_s)
    return {
        "thrust_close_height_ft": answer(
            height, height_u, missing=(*closed, (w.lacks("radio_height_ft"), "no_channel"))
        ),
        "thrust_close_lag_s": answer(close.start_s - turn.start_s, np.hypot(close.u_s, turn.start_u_s), missing=flared),
        "thrust_close_time_s": answer(close.idle_s - close.start_s, 1.2 * close.u_s, missing=closed),
        "idle_before_contact_s": answer(-close.idle_s, before, missing=closed),
        "thrust_at_contact_pct": answer(at_contact, np.full(w.n, BIAS[_LEVER]), missing=base[:2]),
        **_after(w, turn, close, flared),
    }


def _after(w: Window, turn: Rotation, close: Closing, missing: tuple[tuple[Bools, str], ...]) -> dict[str, Answer]:
    """What pitch does between the later of rotation end and idle, and contact."""
    pitch = smooth(np.where(FINE <= 0.0, w.fine("pitch_deg"), np.nan), 0.4, _STEP)
    since = np.fmax(turn.end_s, close.idle_s)
    short = (*missing, (~(since < -0.25), "not_reached"))
    inside = np.where((since[:, None] <= FINE) & (FINE <= 0.0), pitch, np.nan)
    change = rows.at(pitch, FINE, np.zeros(w.n)) - rows.at(pitch, FINE, since)
    interval = np.minimum(w.interval_s("pitch_deg"), 2.0)
    u = np.sqrt(w.noise("pitch_deg") ** 2 + w.resolution("pitch_deg") ** 2 / 12.0 + (0.15 * interval) ** 2 + 0.04**2)
    return {
        "pitch_after_close_deg": answer(change, u, missing=short),
        "pitch_after_close_range_deg": answer(rows.largest(inside) - rows.smallest(inside), u, missing=short),
    }

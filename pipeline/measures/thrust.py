"""Thrust closing: when the final movement to idle begins, how long it takes, and what the nose does afterwards.

Goes in: a window, wheel heights, the rotation and the closing. Comes out: the answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS
from pipeline.measures.closing import Closing, closing
from pipeline.measures.contact_path import ContactPath
from pipeline.measures.flare import HEIGHT_DELAY_U_S
from pipeline.measures.rotation import Rotation
from pipeline.measures.thrust_source import LEVER
from pipeline.measures.window import FINE, Window, between, slope, smooth

__all__ = ["Closing", "closing", "thrust"]

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Missing = tuple[tuple[Bools, str], ...]

_STEP = 1.0 / 16.0
_SLOW_S = 1.05
_DRIVEN = between(FINE, -6.0, -0.5)
_LEAST_AFTER_S = 0.25


def thrust(w: Window, path: ContactPath, turn: Rotation, close: Closing) -> dict[str, Answer]:
    """Height, lag and duration of closing, idle before contact, thrust at contact, pitch afterwards.

    Null `no_channel` without lever, engine speed and fuel flow (thrust at contact: without a lever), `too_slow` below
    one sample a second, `automation` where autothrust moves thrust and the lever does not follow it, `not_reached`
    where thrust does not come to idle near contact.
    """
    driven = (rows.median(w.fine("autothrottle_on")[:, _DRIVEN]) > 0.5) & ~w.reference.lever_follows_thrust
    slow = np.isfinite(close.source.interval_s) & (close.source.interval_s > _SLOW_S * 1.01)
    base = (
        *w.lacking(close.source.lacking, LEVER, "engine_speed_pct", "fuel_flow_kg_h"),
        *w.no_contact,
        (slow, "too_slow"),
        (driven, "automation"),
    )
    closed = (*base, (~np.isfinite(close.start_s), "not_reached"))
    flared = (*closed, *w.without("pitch_deg"), (~turn.found, "not_reached"))
    lag_u = np.hypot(close.start_u_s, turn.start_u_s)
    return {
        "thrust_close_height_ft": _height(w, path, close, closed),
        "thrust_close_lag_s": answer(close.start_s - turn.start_s, lag_u, missing=flared),
        "thrust_close_time_s": answer(
            close.idle_s - close.start_s, np.hypot(close.start_u_s, close.idle_u_s), missing=closed
        ),
        "idle_before_contact_s": answer(-close.idle_s, np.hypot(close.idle_u_s, w.contact_u_s), missing=closed),
        "thrust_at_contact_pct": _at_contact(w),
        **_after(w, turn, close, flared),
    }


def _height(w: Window, path: ContactPath, close: Closing, missing: Missing) -> Answer:
    sink = rows.at(-slope(smooth(path.height_fine, 1.5, _STEP), _STEP), FINE, close.start_s)
    moved = np.abs(np.nan_to_num(sink, nan=10.0)) * np.hypot(close.start_u_s, HEIGHT_DELAY_U_S)
    height = rows.at(path.height_fine, FINE, close.start_s)
    u = np.sqrt(path.height_u_ft**2 + moved**2 + w.noise("radio_height_ft") ** 2 / 2.0)
    return answer(height, u, missing=(*w.without("radio_height_ft"), *missing))


def _at_contact(w: Window) -> Answer:
    lever = w.fine(LEVER)
    now, before = (rows.mean(lever[:, between(FINE, low, high)]) for low, high in ((-0.25, 0.0), (-0.75, -0.5)))
    moved = np.nan_to_num(np.abs(now - before)) * np.minimum(w.interval_s(LEVER), 2.0)
    missing = (*w.without(LEVER), *w.no_contact, (w.slower_than(LEVER, _SLOW_S), "too_slow"))
    return answer(now, np.hypot(BIAS[LEVER], moved), missing=missing)


def _after(w: Window, turn: Rotation, close: Closing, missing: Missing) -> dict[str, Answer]:
    """What pitch does between the later of rotation end and idle, and contact."""
    pitch = smooth(np.where(FINE <= 0.0, w.fine("pitch_deg"), np.nan), 0.3, _STEP)
    since = np.fmax(turn.end_s, close.idle_s)
    short = (*missing, (~(since < -_LEAST_AFTER_S), "not_reached"))
    inside = np.where((since[:, None] - 1e-6 <= FINE) & (FINE <= 0.0), pitch, np.nan)
    change = rows.at(pitch, FINE, np.zeros(w.n)) - rows.at(pitch, FINE, since)
    rate = np.abs(np.nan_to_num(rows.at(slope(pitch, _STEP), FINE, since)))
    final = np.abs(np.nan_to_num(rows.at(slope(pitch, _STEP), FINE, np.full(w.n, -0.1))))
    interval = np.minimum(w.interval_s("pitch_deg"), 2.0)
    since_u = np.where(turn.end_s > close.idle_s, 0.15, close.idle_u_s)
    u = np.sqrt(
        w.noise("pitch_deg") ** 2
        + w.resolution("pitch_deg") ** 2 / 12.0
        + (rate * since_u) ** 2
        + (final * w.contact_u_s) ** 2
        + (0.08 * interval) ** 2
        + 0.03**2
    )
    return {
        "pitch_after_close_deg": answer(change, u, missing=short),
        "pitch_after_close_range_deg": answer(rows.largest(inside) - rows.smallest(inside), u, missing=short),
    }

"""The rollout: how the speed was lost, how far it took, and how close to the centreline.

Goes in: a window and the track. Comes out: the answers by measure name.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS, GROUND_SPEED_DELAY_S, GROUND_SPEED_DELAY_U_S, POSITION_FT
from pipeline.measures.runway_axes import along_across
from pipeline.measures.track import Track, distance_u, position_rounding_ft
from pipeline.measures.window import G_FPS2, KT_FPS, ROLL, Window
from pipeline.stack import gather

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Missing = tuple[tuple[Bools, str], ...]

SPEEDS_KT = (100, 80, 60)
_SPEED = "ground_speed_kt"
_SLOW_S = 2.1
_SHORTEST_S = 3.0
_STEP = ROLL[1] - ROLL[0]
_SECONDS = np.arange(0.0, 75.1, 1.0)
_ZERO = int(np.searchsorted(ROLL, -1e-9))
_TWO_S = int(round(2.0 / _STEP))
_LEAST_KT_S = 0.5
"""Least loss of speed a second that turns an error of speed into one of time."""


@dataclass(frozen=True)
class Roll:
    """Per landing: ground speed (n, r) kt and ground covered since contact (n, r) ft on the rollout grid.

    `end_s` (n,): where the speed has fallen to 60 kt or half of that at contact, whichever is less; else where it was
    least, or the log's end.
    """

    speed_kt: Floats
    covered_ft: Floats
    end_s: Floats


def roll(w: Window) -> Roll:
    """Speed and distance of the rollout by integrated ground speed, taken as late; NaN where it is missing."""
    speed = gather(w.stack, _SPEED, w.log, w.anchor_s[:, None] + ROLL + GROUND_SPEED_DELAY_S)
    pieces = 0.5 * (speed[:, 1:] + speed[:, :-1]) * _STEP * KT_FPS
    covered = np.concatenate([np.zeros((w.n, 1)), np.cumsum(pieces, axis=1)], axis=1)
    covered = covered - covered[:, [_ZERO]]
    low = np.minimum(60.0, 0.5 * speed[:, _ZERO])
    after = np.where(ROLL >= 0.0, speed, np.nan)
    slowest = ROLL[np.where(np.isfinite(after), after, np.inf).argmin(axis=1)]
    reached = rows.first_up_crossing(-speed, ROLL, -low, 0.0)
    return Roll(speed, covered, np.where(np.isfinite(reached), reached, slowest))


def rollout(w: Window, rolled: Roll, track: Track) -> dict[str, Answer]:
    """Deceleration, time and distance to 100, 80 and 60 kt, largest lateral offset, runway left at 60 kt.

    Null `not_reached` or `untimed` without a timed contact, `no_channel` without ground speed (position for the
    places), `no_reference` without the runway, `too_slow` below one sample in 2 s, `not_reached` where the aircraft was
    slower already, or the log or the touch-and-go ends before.
    """
    base = (*w.without(_SPEED), *w.no_contact, (w.slower_than(_SPEED, _SLOW_S), "too_slow"))
    found = _deceleration(w, rolled, base)
    for speed in SPEEDS_KT:
        found |= _to(w, rolled, speed, base)
    found["rollout_lateral_max_ft"] = _lateral(w, rolled)
    found["runway_left_at_60kt_ft"] = _left_at_60(w, track, found["distance_to_60kt_ft"])
    return found


def _deceleration(w: Window, rolled: Roll, base: Missing) -> dict[str, Answer]:
    end, speed = rolled.end_s, rolled.speed_kt
    lost = speed[:, _ZERO] - rows.at(speed, ROLL, end)
    to_g = KT_FPS / G_FPS2
    fast = (ROLL[None, _TWO_S // 2 : -(_TWO_S // 2)] >= 0.0) & (
        ROLL[None, _TWO_S // 2 : -(_TWO_S // 2)] <= end[:, None]
    )
    over_two = np.where(fast, (speed[:, :-_TWO_S] - speed[:, _TWO_S:]) / 2.0, np.nan)
    noise = w.noise(_SPEED) / np.sqrt(2.0)
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = lost / end * to_g
        mean_u = np.hypot(2.0 * noise / end * to_g, np.abs(mean) * (GROUND_SPEED_DELAY_U_S + w.contact_u_s) / end)
    peak = rows.largest(over_two) * to_g
    peak_u = np.hypot(noise * to_g, 0.03 * np.abs(peak) * np.minimum(w.interval_s(_SPEED), 2.0) + 0.003)
    short = (*base, (~(end >= _SHORTEST_S), "not_reached"))
    return {
        "mean_deceleration_g": answer(mean, np.hypot(mean_u, 0.002), missing=short),
        "peak_deceleration_g": answer(peak, peak_u, missing=short),
    }


def _to(w: Window, rolled: Roll, speed_kt: int, base: Missing) -> dict[str, Answer]:
    speed = rolled.speed_kt
    when = rows.first_up_crossing(-speed, ROLL, -float(speed_kt), 0.0)
    losing = (rows.at(speed, ROLL, when - 1.0) - rows.at(speed, ROLL, np.minimum(when + 1.0, ROLL[-1]))) / 2.0
    losing = np.maximum(np.nan_to_num(losing, nan=_LEAST_KT_S), _LEAST_KT_S)
    speed_u = np.hypot(BIAS[_SPEED], w.noise(_SPEED) / np.sqrt(2.0))
    slow_u, late_u = speed_u / losing, np.hypot(GROUND_SPEED_DELAY_U_S, w.contact_u_s)
    rolling = (speed[:, _ZERO] > speed_kt) & (when <= rolled.end_s + _STEP)
    gone = (*base, (~rolling, "not_reached"))
    from_speed, from_time = speed_kt * KT_FPS * slow_u, speed[:, _ZERO] * KT_FPS * late_u
    far_u = np.sqrt(distance_u(when) ** 2 + from_speed**2 + from_time**2)
    return {
        f"time_to_{speed_kt}kt_s": answer(when, np.hypot(slow_u, late_u), missing=gone),
        f"distance_to_{speed_kt}kt_ft": answer(rows.at(rolled.covered_ft, ROLL, when), far_u, missing=gone),
    }


def _lateral(w: Window, rolled: Roll) -> Answer:
    """Offset from the centreline where it is largest from contact to the end of the rollout."""
    times = w.anchor_s[:, None] + _SECONDS
    _, across = along_across(
        gather(w.stack, "latitude_deg", w.log, times),
        gather(w.stack, "longitude_deg", w.log, times),
        threshold_lat=w.reference.threshold_lat,
        threshold_lon=w.reference.threshold_lon,
        heading_deg=w.reference.runway_heading_deg,
    )
    y = np.where(rolled.end_s[:, None] >= _SECONDS, across, np.nan)
    furthest = np.where(np.isfinite(y), np.abs(y), -1.0).argmax(axis=1)
    value = y[np.arange(w.n), furthest]
    u = np.hypot(POSITION_FT, position_rounding_ft(w))
    missing = (
        *w.without("latitude_deg", "longitude_deg", _SPEED),
        *w.no_contact,
        (~np.isfinite(w.reference.threshold_lat), "no_reference"),
        (~(rolled.end_s >= _SHORTEST_S), "not_reached"),
    )
    return answer(value, u, missing=missing)


def _left_at_60(w: Window, track: Track, rolled: Answer) -> Answer:
    length = w.reference.length_ft
    missing = (
        *w.without("latitude_deg", "longitude_deg"),
        *w.no_contact,
        (~np.isfinite(w.reference.threshold_lat) | ~np.isfinite(length), "no_reference"),
        *rolled.missing,
    )
    left = length - track.contact_x_ft - rolled.number
    return answer(left, np.hypot(track.x_u_ft, rolled.quality), missing=missing)

"""What bears on one contact, gathered for all landings at once: native samples, integrals of acceleration, the rollout.

Goes in: a window whose anchor is near the contact. Comes out: evidence in feet, seconds and radians, times to the
anchor. The split is a moment before the earliest possible contact: before it the path is the twice integrated
acceleration as recorded, after it a smooth one.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.window import FINE, G_FPS2, KT_FPS, Window, between, slope, smooth
from pipeline.stack import native

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

BEFORE_S, UNSEEN_BEFORE_S = 5.5, 4.0
"""Length of path before the anchor that is fitted, where acceleration shows its course, and where not."""
AFTER_S = 0.5
"""How long after the latest possible contact samples are used."""
_STEP = 1.0 / 16.0
_ZERO_PLACE = int(np.searchsorted(FINE, 0.0))
_MOST = 72
_HEIGHT_SHARE = 0.01
_SLOW_ACCEL_S, _QUICK_ACCEL_S = 0.55, 0.27
_LEAST_HALF_S, _MOST_HALF_S = 0.5, 3.0
_HEIGHT_FLOOR_FT, _SPEED_FLOOR_FPS, _ACCEL_FLOOR_FPS2 = 0.35, 0.4, 0.3
_LEAST_PULSE_FPS2 = 1.5
_ROLLOUT = between(FINE, 3.0, 7.0)
_SETTLING = between(FINE, 1.5, 3.5)


@dataclass(frozen=True)
class Samples:
    """Native samples: `tau_s` and `value` (n, k), filled from the left, NaN beyond; `sigma` (n, k)."""

    tau_s: Floats
    value: Floats
    sigma: Floats


@dataclass(frozen=True)
class Rollout:
    """Medians or means over the rollout, (n,), NaN where the log does not show them.

    `radio_ft`, `attitude` (rad from the anchor's), `climb_fps` and `felt_fps2` on the wheels; `settled_fps`: speed
    gained from the split to 1.5-3.5 s after the anchor, by acceleration.
    """

    radio_ft: Floats
    attitude: Floats
    climb_fps: Floats
    felt_fps2: Floats
    settled_fps: Floats


@dataclass(frozen=True)
class Evidence:
    """All that bears on the contacts of n landings.

    `split_s`, `half_s` (n,): the split, and how far either side of the anchor the contact may lie. `accel` ft/s2 above
    steady flight, `radio` ft, `climb` ft/s over the rising runway. `has_accel`, `quick_accel` (n,): sampled often
    enough to integrate, to see the gear. `pulse_fps2` (n,): the largest acceleration. `switch_off_s`, `switch_on_s`
    (n,): last and first sample about the closing of the main-wheel switch, NaN without. On the fine grid (n, m): `felt`
    acceleration, `once` and `twice` its integrals from the split, `attitude` rad from the anchor's, `turning` rad/s,
    `closing` the radio height's rate in ft/s, `bend` the attitude over the line it follows at the split.
    """

    split_s: Floats
    half_s: Floats
    accel: Samples
    radio: Samples
    climb: Samples
    has_accel: Bools
    quick_accel: Bools
    accel_interval_s: Floats
    pulse_fps2: Floats
    switch_off_s: Floats
    switch_on_s: Floats
    felt: Floats
    once: Floats
    twice: Floats
    attitude: Floats
    turning: Floats
    closing: Floats
    bend: Floats
    rollout: Rollout


def on_grid(x: Floats, tau_s: Floats) -> Floats:
    """Rows of `x` (n, m) on the fine grid at `tau_s` (n, ...); NaN times give the row's first value."""
    place = np.clip((np.nan_to_num(tau_s, nan=-99.0) - FINE[0]) / _STEP, 0.0, len(FINE) - 1.001)
    left = place.astype(np.int64)
    part = place - left
    row = np.arange(len(x)).reshape((-1,) + (1,) * (tau_s.ndim - 1))
    return x[row, left] * (1.0 - part) + x[row, left + 1] * part


def evidence(w: Window) -> Evidence:
    """Gather the evidence of every landing of the window; `contact_u_s` says how far from the anchor to look."""
    interval = w.interval_s("normal_accel_g")
    felt, tilt = _felt(w)
    has = (interval < _SLOW_ACCEL_S) & (np.isfinite(felt[:, between(FINE, -UNSEEN_BEFORE_S, 0.0)]).mean(axis=1) > 0.9)
    half = half_range_s(w)
    place = np.rint((-half - 0.05 - np.minimum(0.5 * np.where(has, interval, 0.0), 0.15) - FINE[0]) / _STEP).astype(int)
    split = FINE[place]
    known = np.where(has[:, None] & np.isfinite(felt), felt, 0.0)
    once = _integral(known, place)
    attitude = smooth(np.nan_to_num(np.radians(w.fine("pitch_deg"))), 0.3, _STEP)
    turning = slope(attitude, _STEP)
    attitude = attitude - attitude[:, [_ZERO_PLACE]]
    each = np.arange(w.n)
    line = attitude[each, place][:, None] + turning[each, place][:, None] * (FINE - split[:, None])
    closing = slope(smooth(w.fine("radio_height_ft"), 1.0, _STEP), _STEP)
    off, on = _switch(w)
    top = rows.largest(felt[:, between(FINE, -0.5, 1.2)])
    return Evidence(
        split_s=split,
        half_s=half,
        accel=_accel(w, felt, tilt, split=split, until=half + AFTER_S),
        radio=_radio(w, np.where(has, BEFORE_S, UNSEEN_BEFORE_S), half + AFTER_S),
        climb=_climb(w, np.where(has, BEFORE_S, UNSEEN_BEFORE_S), split),
        has_accel=has,
        quick_accel=has & sees_gear(w),
        accel_interval_s=np.where(np.isfinite(interval), interval, 1.0),
        pulse_fps2=np.maximum(np.nan_to_num(top), _LEAST_PULSE_FPS2),
        switch_off_s=off,
        switch_on_s=on,
        felt=known,
        once=once,
        twice=_integral(once, place),
        attitude=attitude,
        turning=turning,
        closing=np.nan_to_num(np.clip(closing, -40.0, 20.0)),
        bend=attitude - line,
        rollout=_rollout(w, felt, once, attitude),
    )


def sees_gear(w: Window) -> Bools:
    """Whether acceleration is sampled often enough to show what the gear does, (n,)."""
    return np.asarray(w.interval_s("normal_accel_g") < _QUICK_ACCEL_S)


def half_range_s(w: Window) -> Floats:
    """How far either side of the anchor the contact may lie, (n,) s."""
    return np.clip(3.0 * np.nan_to_num(w.contact_u_s, nan=0.5), _LEAST_HALF_S, _MOST_HALF_S)


def _felt(w: Window) -> tuple[Floats, Floats]:
    """Vertical acceleration over steady flight on the fine grid, ft/s2, and the cosine of the tilt, (n, m) each."""
    pitch, roll = (np.nan_to_num(np.radians(w.fine(channel))) for channel in ("pitch_deg", "roll_deg"))
    tilt = np.cos(pitch) * np.cos(roll)
    return (w.fine("normal_accel_g") * tilt - 1.0) * G_FPS2, tilt


def _integral(x: Floats, place: NDArray[np.int64]) -> Floats:
    """Running integral of each row over the fine grid, by trapezoids, 0 at its own `place` (n,)."""
    pieces = 0.5 * (x[:, 1:] + x[:, :-1]) * _STEP
    total = np.concatenate([np.zeros((len(x), 1)), np.cumsum(pieces, axis=1)], axis=1)
    return total - total[np.arange(len(x)), place][:, None]


def _samples(w: Window, channel: str, low_s: float | Floats, high_s: Floats, floor: float, per: float = 1.0) -> Samples:
    t, value = native(w.stack, channel, w.log, (w.anchor_s + low_s, w.anchor_s + high_s), most=_MOST)
    return Samples(
        t - w.anchor_s[:, None], value / per, np.maximum(w.noise(channel) / per, floor)[:, None] + 0.0 * value
    )


def _accel(w: Window, felt: Floats, tilt: Floats, *, split: Floats, until: Floats) -> Samples:
    """Acceleration samples about the contact; each as sure as the turbulence of the seconds before lets it be."""
    raw = _samples(w, "normal_accel_g", split, until, 0.0)
    gusts = rows.deviation((felt - smooth(felt, 1.0, _STEP))[:, between(FINE, -6.0, -1.0)])
    noise = np.maximum(raw.sigma * G_FPS2, _ACCEL_FLOOR_FPS2)
    value = (raw.value * on_grid(tilt, raw.tau_s) - 1.0) * G_FPS2
    return Samples(raw.tau_s, value, np.hypot(noise, np.nan_to_num(gusts)[:, None]))


def _radio(w: Window, before_s: Floats, until: Floats) -> Samples:
    """Radio heights, the less sure the higher: its own error grows, and the ground before the runway is no runway."""
    raw = _samples(w, "radio_height_ft", -before_s, until, _HEIGHT_FLOOR_FT)
    over_runway = np.where(raw.value < 45.0, raw.value, np.nan)
    return Samples(raw.tau_s, over_runway, np.hypot(raw.sigma, _HEIGHT_SHARE * np.maximum(raw.value, 0.0)))


def _climb(w: Window, before_s: Floats, split: Floats) -> Samples:
    """Vertical speed over the runway surface before the split, ft/s."""
    raw = _samples(w, "vertical_speed_fpm", -before_s, split, _SPEED_FLOOR_FPS, per=60.0)
    return Samples(raw.tau_s, raw.value - on_grid(rising_ground(w), raw.tau_s), raw.sigma)


def rising_ground(w: Window) -> Floats:
    """Speed at which the runway surface rises under the aircraft, ft/s, (n, m); 0 where slope or speed is unknown."""
    return np.nan_to_num(w.reference.slope_pct)[:, None] / 100.0 * np.nan_to_num(w.fine("ground_speed_kt")) * KT_FPS


def _rollout(w: Window, felt: Floats, once: Floats, attitude: Floats) -> Rollout:
    climb = w.fine("vertical_speed_fpm") / 60.0 - rising_ground(w)
    near = between(FINE, 2.0, 7.0)
    return Rollout(
        radio_ft=rows.median(w.fine("radio_height_ft")[:, near]),
        attitude=rows.median(attitude[:, near]),
        climb_fps=rows.median(climb[:, _ROLLOUT]),
        felt_fps2=rows.median(felt[:, _ROLLOUT]),
        settled_fps=rows.mean(np.where(np.isfinite(felt[:, _SETTLING]), once[:, _SETTLING], np.nan)),
    )


def _switch(w: Window) -> tuple[Floats, Floats]:
    """Last sample off and first sample on about the first closing of the main-wheel switch, (n,) s; NaN without."""
    t, value = native(w.stack, "main_on_ground", w.log, (w.anchor_s - 3.0, w.anchor_s + 4.0), most=64)
    on = value > 0.5
    first = np.argmax(on, axis=1)
    closes, each = on.any(axis=1) & (first > 0), np.arange(w.n)
    after, before = t[each, first] - w.anchor_s, t[each, np.maximum(first - 1, 0)] - w.anchor_s
    return np.where(closes, before, np.nan), np.where(closes, after, np.nan)

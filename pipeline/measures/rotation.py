"""The nose-up rotation that breaks the approach descent: a smooth ramp on a sloping line, found for all at once.

Goes in: a window and wheel heights. Comes out: when the rotation starts and ends, and by how much the nose rose.

Every candidate ramp (start, duration) has its own stretch of pitch: 5 s of line before it, the ramp, a moment held. The
ramp's part at right angles to the line is a fixed vector, so one matrix product gives every landing's gain for every
candidate. The rotation is the one with the greatest gain over its own uncertainty, near where the path breaks: in gusts
the nose moves at other times too.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.rotation_fit import refine
from pipeline.measures.window import FINE, Window, between, smooth

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_SPAN = between(FINE, -20.0, 0.0)
_TAU = FINE[_SPAN]
_STEP = 1.0 / 16.0
_LINE_S, _HELD_S = 5.0, 0.4
_DURATIONS_S = (0.75, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.5)
STANDS_DEG = 0.3
"""The flare starts when the attitude stands this much above the line before it."""
_LEAST_RISE_DEG = 0.6
_LEAST_SIGNIFICANCE = 4.0
_HIGHEST_FT = 100.0
_WANDER_DEG = 0.12
"""Pitch wanders about its line by this much even in smooth air (our own choice, from invented landings)."""
_LEAD_S, _LEAD_U_S = 1.4, 1.4
"""The sink has fallen half way about so long after the rotation began (our own choice, from closed-form flares)."""
_APART_S, _NEARLY = 1.5, 0.75
"""Another rotation this far away with this share of the best one's score makes the choice doubtful."""
_LEAST_SINK_FPS = 3.0
_END_RATE = 0.2
"""The rotation ends where its rate has fallen below this share of its peak."""


@dataclass(frozen=True)
class Rotation:
    """Per landing (n,), NaN where no rotation was found: times to contact in s, attitudes in deg.

    `start_s` when the attitude stands 0.3 deg above the line, `start_u_s`; `end_s` when the rotation has ended;
    `line_deg` the line's value at the start; `rise_deg` from there to the end, `rise_u_deg`.
    `found` (n,): a rotation beyond doubt; `shown` (n,): the pitch channel could have shown one.
    """

    start_s: Floats
    start_u_s: Floats
    end_s: Floats
    line_deg: Floats
    rise_deg: Floats
    rise_u_deg: Floats
    found: Bools
    shown: Bools


@dataclass(frozen=True)
class _Candidates:
    start: Floats
    duration: Floats
    across: Floats
    """(s, c) ramp less its projection on the line, 0 outside the stretch."""
    size: Floats
    """(c,) squared length of each column of `across`."""
    stretch: Floats
    """(s, c) 1 inside the stretch."""


@cache
def _candidates() -> _Candidates:
    start, duration, across, stretch = [], [], [], []
    for d in _DURATIONS_S:
        for c in np.arange(-14.5, -0.45, 0.125):
            inside = (c - _LINE_S - 1e-9 <= _TAU) & (min(c + d + _HELD_S, 0.0) + 1e-9 >= _TAU)
            ramp = 0.5 * (1.0 - np.cos(np.pi * np.clip((_TAU - c) / d, 0.0, 1.0)))
            basis = np.stack([np.ones(inside.sum()), _TAU[inside] - c], axis=1)
            rest = np.zeros(len(_TAU))
            rest[inside] = ramp[inside] - basis @ np.linalg.lstsq(basis, ramp[inside], rcond=None)[0]
            start.append(c)
            duration.append(d)
            across.append(rest)
            stretch.append(inside.astype(float))
    table = np.array(across).T
    return _Candidates(np.array(start), np.array(duration), table, (table**2).sum(axis=0), np.array(stretch).T)


def rotation(w: Window, height: Floats) -> Rotation:
    """Find the rotation of each landing; `height` (n, m) of the wheels on the fine grid, NaN where unknown."""
    pitch = w.fine("pitch_deg")[:, _SPAN]
    ramps = _candidates()
    score, gains = _scores(pitch, height[:, _SPAN], _path_breaks(height))
    which = np.argmax(score, axis=1)
    significance = _significance(w, gains, which)
    start, duration, gain, line = refine(pitch, ramps.start[which], ramps.duration[which])
    found = (gain >= _LEAST_RISE_DEG) & (significance >= _LEAST_SIGNIFICANCE) & w.timed
    lift = np.arccos(np.clip(1.0 - 2.0 * STANDS_DEG / np.where(found, gain, 1.0), -1.0, 1.0)) / np.pi
    stands = np.where(found, start + duration * lift, np.nan)
    base = line[:, 0] + line[:, 1] * (stands - start)
    end, value = _end(pitch, stands, start + duration)
    sigma = _sigma(w)
    rise = np.where(found, value - base, np.nan)
    rate = np.maximum(gain / duration, 0.2)
    other_s, other_deg = _runner_up(score, gains, which)
    start_u = np.sqrt(
        other_s**2 + (0.8 * sigma / rate) ** 2 + (0.3 * np.minimum(w.interval_s("pitch_deg"), 2.0)) ** 2 + 0.1**2
    )
    rise_u = np.sqrt(
        other_deg**2 + (1.2 * sigma) ** 2 + (0.02 * rise) ** 2 + w.resolution("pitch_deg") ** 2 / 24.0 + 0.05**2
    )
    shown = np.isfinite(pitch[:, between(_TAU, -8.0, 0.0)]).mean(axis=1) > 0.9
    return Rotation(stands, start_u, np.where(found, end, np.nan), base, rise, rise_u, found, shown)


def _path_breaks(height: Floats) -> Floats:
    """When the sink last falls half way from the approach's to the contact's, (n,) s to contact; NaN where unknown."""
    sink = -np.gradient(smooth(height, 1.5, _STEP), _STEP, axis=1)
    steady = rows.median(np.where((height > 70.0) & (height < 250.0) & (FINE < 0.0), sink, np.nan))
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where(steady[:, None] > _LEAST_SINK_FPS, sink / steady[:, None], np.nan)
    final = rows.mean(share[:, between(FINE, -0.75, -0.25)])
    level = np.clip(0.5 * (1.0 + np.where(np.isfinite(final), final, 0.5)), 0.5, 0.85)
    return rows.last_down_crossing(share, FINE, level, before=np.zeros(len(height)))


def _scores(pitch: Floats, height: Floats, breaks: Floats) -> tuple[Floats, Floats]:
    """Score of every candidate, -inf where it cannot be, and its gain in deg, (n, c) each."""
    ramps = _candidates()
    held = np.isfinite(pitch)
    level = np.nan_to_num(rows.mean(pitch))[:, None]
    projected = np.where(held, pitch - level, 0.0) @ ramps.across
    broken = (~held).astype(float) @ ramps.stretch > 0.5
    starts = np.searchsorted(_TAU, ramps.start)
    high = np.nan_to_num(height[:, starts], nan=0.0) > _HIGHEST_FT
    away = (ramps.start + _LEAD_S - breaks[:, None]) / _LEAD_U_S
    likely = np.exp(-0.5 * np.where(np.isfinite(away), away, 0.0) ** 2)
    score = np.where(broken | high, -np.inf, projected / np.sqrt(ramps.size) * likely)
    return score, projected / ramps.size


def _significance(w: Window, gains: Floats, which: NDArray[np.intp]) -> Floats:
    """Gain of the chosen candidate over its uncertainty, (n,)."""
    size = _candidates().size[which] * _independent(w)
    gain = gains[np.arange(len(gains)), which]
    return gain * np.sqrt(size) / np.hypot(w.noise("pitch_deg"), _WANDER_DEG)


def _runner_up(score: Floats, gains: Floats, which: NDArray[np.intp]) -> tuple[Floats, Floats]:
    """Half the distance in s and deg to a rotation elsewhere that scores nearly as well, (n,) each; 0 without one."""
    ramps = _candidates()
    chosen = np.arange(len(score))
    middle = ramps.start + 0.5 * ramps.duration
    apart = np.abs(middle - middle[which][:, None]) > _APART_S
    second = np.argmax(np.where(apart, score, -np.inf), axis=1)
    close = score[chosen, second] > _NEARLY * score[chosen, which]
    seconds = 0.5 * np.abs(ramps.start[second] - ramps.start[which])
    degrees = 0.5 * np.abs(gains[chosen, second] - gains[chosen, which])
    return np.where(close, seconds, 0.0), np.where(close, degrees, 0.0)


def _independent(w: Window) -> Floats:
    """Native samples in each grid step, at most one, (n,)."""
    return np.minimum(_STEP / np.maximum(w.interval_s("pitch_deg"), _STEP), 1.0)


def _sigma(w: Window) -> Floats:
    """Uncertainty of pitch averaged over about a second, deg, (n,)."""
    held = np.clip(1.0 / np.maximum(w.interval_s("pitch_deg"), _STEP), 1.0, 8.0)
    return np.sqrt(w.noise("pitch_deg") ** 2 / held + _WANDER_DEG**2 / 2.0)


def _end(pitch: Floats, stands: Floats, ramp_end: Floats) -> tuple[Floats, Floats]:
    """When the rate has fallen below a fifth of its peak, s to contact, and the smoothed pitch there, deg."""
    calm = smooth(pitch, 0.6, _STEP)
    rate = np.gradient(calm, _STEP, axis=1)
    turning = (stands[:, None] <= _TAU) & (ramp_end[:, None] + 0.5 >= _TAU)
    peaked = np.where(turning & np.isfinite(rate), rate, -np.inf)
    top = np.argmax(peaked, axis=1)
    slow = (rate < _END_RATE * peaked[np.arange(len(rate)), top][:, None]) & (np.arange(len(_TAU)) > top[:, None])
    last = np.where(slow.any(axis=1), np.argmax(slow, axis=1), len(_TAU) - 1)
    return _TAU[last], calm[np.arange(len(calm)), last]

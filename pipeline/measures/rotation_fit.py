"""The rotation's start and duration by least squares, once it is known roughly where it is.

Goes in: pitch about each rotation. Comes out: start, duration, rise and the line before it, for all landings at once.

Model: a straight line, a cosine ramp, and a second slope after the ramp (the nose held, raised or dropped). All
landings share one grid about the middle of their rotation, and one table of candidate shapes.
"""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from pipeline.measures.window import FINE, between

Floats = NDArray[np.float64]

_SPAN = between(FINE, -20.0, 0.0)
_TAU = FINE[_SPAN]
_STEP = 0.125
_ABOUT = np.arange(-8.0, 4.0 + 1e-9, _STEP)
"""Seconds about the middle of the rough rotation."""
_BEFORE_S, _AFTER_S = 5.0, 1.0
_DURATIONS_S = (0.5, 0.75, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.5)
_STARTS_S = np.arange(-4.5, 1.01, _STEP)
_AFTER_PRIOR_DEG_S = 0.4
"""Spread of the slope after the ramp; a weak prior that keeps a short tail from bending the ramp."""
_RIDGE_SIGMA_DEG = 0.2


@cache
def _shapes() -> tuple[Floats, Floats, Floats]:
    """Start (c,), duration (c,) and basis (c, s, 4): one, time from start, ramp, slope after the ramp."""
    starts, durations, bases = [], [], []
    for duration in _DURATIONS_S:
        for start in _STARTS_S:
            past = np.clip((_ABOUT - start) / duration, 0.0, 1.0)
            ramp = 0.5 * (1.0 - np.cos(np.pi * past))
            after = np.maximum(_ABOUT - start - duration, 0.0)
            starts.append(start)
            durations.append(duration)
            bases.append(np.stack([np.ones(len(_ABOUT)), _ABOUT - start, ramp, after], axis=1))
    return np.array(starts), np.array(durations), np.array(bases)


def refine(pitch: Floats, start: Floats, duration: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Best start (n,) s to contact, duration (n,) s, rise (n,) deg and line (n, 2: value at the start, slope).

    `pitch` (n, s) deg on the grid of the last 20 s before contact; `start`, `duration` (n,) of the rough rotation.
    """
    middle = start + 0.5 * duration
    seen = _about(pitch, middle)
    low, high = (-0.5 * duration - _BEFORE_S)[:, None], (0.5 * duration + _AFTER_S)[:, None]
    weight = (np.isfinite(seen) & (low <= _ABOUT) & (high >= _ABOUT)).astype(float)
    value = np.where(weight > 0, seen, 0.0)
    starts, durations, basis = _shapes()
    misfit, coefficients = _fits(value, weight, basis)
    best = np.argmin(misfit, axis=1)
    chosen = coefficients[np.arange(len(pitch)), best]
    return middle + starts[best], durations[best], chosen[:, 2], chosen[:, :2]


def _about(pitch: Floats, middle: Floats) -> Floats:
    """Pitch on the grid about each middle, (n, s); NaN beyond contact or before the grid."""
    position = (middle[:, None] + _ABOUT - _TAU[0]) * 16.0
    inside = (position >= 0.0) & (position <= len(_TAU) - 1)
    j = np.clip(position.astype(int), 0, len(_TAU) - 2)
    part = position - j
    rows = np.arange(len(pitch))[:, None]
    return np.where(inside, pitch[rows, j] * (1.0 - part) + pitch[rows, j + 1] * part, np.nan)


def _fits(value: Floats, weight: Floats, basis: Floats) -> tuple[Floats, Floats]:
    """Misfit (n, c) and coefficients (n, c, 4) of every candidate for every landing, by normal equations."""
    c, s, k = basis.shape
    squares = np.einsum("csi,csj->csij", basis, basis).reshape(c, s, k * k)
    normal = np.tensordot(weight, squares, axes=(1, 1)).reshape(len(value), c, k, k)
    normal[..., 3, 3] += (_RIDGE_SIGMA_DEG / _AFTER_PRIOR_DEG_S) ** 2
    normal += 1e-9 * np.eye(k)
    right = np.tensordot(value * weight, basis, axes=(1, 1))
    coefficients = np.linalg.solve(normal, right[..., None])[..., 0]
    explained = (coefficients * right).sum(axis=2)
    misfit = (weight * value**2).sum(axis=1)[:, None] - explained
    return np.where(coefficients[..., 2] > 0.0, misfit, np.inf), coefficients.astype(np.float64)

"""Reductions along the last axis of matrices with gaps (NaN): a row without any value gives NaN, never a warning."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


def count(x: Floats) -> Floats:
    """Number of values a row, (n,)."""
    return np.isfinite(x).sum(axis=-1).astype(float)


def has(x: Floats) -> Bools:
    """Whether each row has any value, (n,)."""
    return np.asarray(np.isfinite(x).any(axis=-1), dtype=np.bool_)


def middle(x: Floats) -> float:
    """Upper median of a vector that has at least one value and no gaps; an order of magnitude quicker than a median."""
    half = len(x) // 2
    return float(np.partition(x, half)[half])


def mean(x: Floats) -> Floats:
    """Mean of the values of each row, (n,); NaN for a row without one."""
    n = count(x)
    return np.where(n > 0, np.where(np.isfinite(x), x, 0.0).sum(axis=-1) / np.maximum(n, 1.0), np.nan)


def deviation(x: Floats) -> Floats:
    """Standard deviation (one degree of freedom taken) of each row, (n,); NaN below two values."""
    n = count(x)
    spread = np.where(np.isfinite(x), x - mean(x)[..., None], 0.0)
    return np.where(n > 1, np.sqrt((spread**2).sum(axis=-1) / np.maximum(n - 1.0, 1.0)), np.nan)


def median(x: Floats) -> Floats:
    """Median of the values of each row, (n,); NaN for a row without one."""
    ordered = np.sort(x, axis=-1)
    n = count(x).astype(int)
    low = np.take_along_axis(ordered, np.maximum((n - 1) // 2, 0)[..., None], axis=-1)[..., 0]
    high = np.take_along_axis(ordered, np.maximum(n // 2, 0).clip(max=x.shape[-1] - 1)[..., None], axis=-1)[..., 0]
    return np.where(n > 0, 0.5 * (low + high), np.nan)


def largest(x: Floats) -> Floats:
    """Largest value of each row, (n,); NaN for a row without one."""
    top = np.where(np.isfinite(x), x, -np.inf).max(axis=-1)
    return np.where(np.isfinite(top), top, np.nan)


def smallest(x: Floats) -> Floats:
    """Smallest value of each row, (n,); NaN for a row without one."""
    return -largest(-x)


def at(x: Floats, grid: Floats, where: Floats) -> Floats:
    """Linear interpolation of each row of `x` (n, m), given on the uniform `grid` (m,), at `where` (n,).

    NaN where `where` is NaN or outside the grid, or a neighbour is missing.
    """
    position = (where - grid[0]) / (grid[1] - grid[0])
    inside = np.isfinite(position) & (position >= -1e-9) & (position <= len(grid) - 1 + 1e-9)
    place = np.clip(np.where(inside, position, 0.0), 0.0, len(grid) - 1.0)
    nearest = np.rint(place)
    place = np.where(np.abs(place - nearest) < 1e-9, nearest, place)
    j = np.floor(place).astype(int)
    rows, part = np.arange(len(x)), place - j
    left, right = x[rows, j], x[rows, np.minimum(j + 1, len(grid) - 1)]
    return np.where(inside, np.where(part > 0.0, left * (1.0 - part) + right * part, left), np.nan)


def last_down_crossing(x: Floats, grid: Floats, level: float | Floats, before: Floats | None = None) -> Floats:
    """Latest grid time at which each row of `x` (n, m) falls through `level`, interpolated; NaN where it never does.

    `before` (n,): only crossings that begin before this grid time count.
    """
    limit = np.broadcast_to(np.asarray(level, dtype=float), (len(x),))[:, None]
    falls = (x[:, :-1] > limit) & (x[:, 1:] <= limit)
    if before is not None:
        falls &= grid[None, :-1] < before[:, None]
    reached = falls.any(axis=1)
    j = np.where(reached, falls.shape[1] - 1 - np.argmax(falls[:, ::-1], axis=1), 0)
    rows = np.arange(len(x))
    upper, lower = x[rows, j], x[rows, j + 1]
    with np.errstate(invalid="ignore", divide="ignore"):
        part = (upper - limit[:, 0]) / (upper - lower)
    return np.where(reached, grid[j] + part * (grid[1] - grid[0]), np.nan)


def first_up_crossing(x: Floats, grid: Floats, level: float | Floats, after: float = -np.inf) -> Floats:
    """Earliest grid time from `after` on at which each row of `x` (n, m) rises through `level`, interpolated.

    A row that stands above the level at its first value from `after` on has no crossing there; NaN where it never
    rises through.
    """
    limit = np.broadcast_to(np.asarray(level, dtype=float), (len(x),))[:, None]
    rises = (x[:, :-1] <= limit) & (x[:, 1:] > limit) & (grid[None, :-1] >= after - 1e-9)
    reached = rises.any(axis=1)
    j = np.argmax(rises, axis=1)
    rows = np.arange(len(x))
    lower, upper = x[rows, j], x[rows, j + 1]
    with np.errstate(invalid="ignore", divide="ignore"):
        part = (limit[:, 0] - lower) / (upper - lower)
    return np.where(reached, grid[j] + part * (grid[1] - grid[0]), np.nan)

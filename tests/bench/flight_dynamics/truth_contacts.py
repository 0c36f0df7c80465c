"""When the main wheels truly touched, and how firmly each time, from a noise-free trace."""

from dataclasses import dataclass

import numpy as np
from flight_dynamics.setting import RATE_HZ
from flight_dynamics.traces import Trace, filtered
from numpy.typing import NDArray

Floats = NDArray[np.float64]

BOUNCE_S = 0.2
"""Airtime that makes a bounce."""


@dataclass(frozen=True)
class Contact:
    """One contact of the main wheels: when, s; airtime before it, s; its downward speed and 5 Hz peak."""

    t_s: float
    airtime_before_s: float
    height_before_ft: float
    vertical_speed_fpm: float
    peak_g: float


def touches(trace: Trace) -> tuple[list[float], float | None]:
    """Start of every contact of the main wheels after at least 0.2 s off, and when they left for good."""
    low = np.minimum(trace["left_ft"], trace["right_ft"])
    on = low <= 0.0
    if not on.any():
        return [], None
    edges = np.flatnonzero(np.diff(on.astype(int)))
    rises = [zero(low, int(i)) for i in edges if not on[i]]
    falls = [zero(low, int(i)) for i in edges if on[i]]
    starts = rises[:1]
    for rise in rises[1:]:
        off = max(f for f in falls if f < rise)
        if rise - off >= BOUNCE_S:
            starts.append(rise)
    return starts, (falls[-1] if not on[-1] else None)


def zero(low: Floats, i: int) -> float:
    """Instant, s, of the crossing of 0 between a sample and the next."""
    return (i + low[i] / (low[i] - low[i + 1])) / RATE_HZ


def contact(trace: Trace, start: float, before: float | None) -> Contact:
    """The contact that begins at `start`, s, after the one that began at `before`."""
    airtime, height = float("nan"), float("nan")
    if before is not None:
        low = np.minimum(trace["left_ft"], trace["right_ft"])
        spell = slice(int(before * RATE_HZ) + 1, int(start * RATE_HZ) + 1)
        off = np.flatnonzero(low[spell] > 0.0)
        last = np.flatnonzero(low[spell] <= 0.0)[-1] if (low[spell] <= 0.0).any() else 0
        airtime = start - (spell.start + int(last)) / RATE_HZ
        height = float(low[spell][off[off > last]].max(initial=0.0))
    smooth = filtered(trace["normal_g"], 5.0)
    inside = slice(int(start * RATE_HZ), int((start + 1.0) * RATE_HZ) + 1)
    return Contact(start, airtime, height, 60.0 * rate_at(trace["mid_ft"], start), float(smooth[inside].max()))


def rate_at(x: Floats, t: float) -> float:
    """Rate of change just before `t`, a second: the line through the last two steps before it, taken to `t`."""
    i = int(np.floor(t * RATE_HZ))
    first, second = (x[i - 1] - x[i - 2]) * RATE_HZ, (x[i] - x[i - 1]) * RATE_HZ
    ahead = t * RATE_HZ - (i - 0.5)
    return float(second + (second - first) * ahead)

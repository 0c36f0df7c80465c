"""A channel's samples in; how often, how finely and how wholly it was recorded out."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline.channels import CHANNELS
from pipeline.recording import Repair, Samples
from pipeline.rows import middle

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_GAP = 2.5
"""A time between samples of more than this many usual ones, and over a second, is a gap (our own choice)."""
_SHORTEST_GAP_S = 1.0
_MOVES = 8


@dataclass(frozen=True)
class ChannelQuality:
    """One channel of one log.

    `rate_hz`: usual rate; `resolution`: smallest step between distinct values, channel unit, None where it never
    moves; `gaps` and `longest_gap_s`: times without samples inside its span; `stuck_s`: longest time without any
    change, 0 for a channel that hardly ever changes; `repeats`, `spikes`, `outside`: samples taken out while reading;
    `lag_s`: how late it is against `lag_against`; `suspect`: why it is not to be believed, None where it is.
    """

    channel: str
    samples: int
    rate_hz: float | None
    resolution: float | None
    gaps: int
    longest_gap_s: float
    stuck_s: float
    repeats: int
    spikes: int
    outside: int
    lag_s: float | None = None
    lag_against: str | None = None
    suspect: str | None = None


def channel_facts(name: str, samples: Samples, repair: Repair) -> ChannelQuality:
    """Facts of one channel from its own samples."""
    step = samples.t[1:] - samples.t[:-1]
    usual = middle(step) if len(step) else np.nan
    gap = step[step > max(_GAP * usual, _SHORTEST_GAP_S)] if len(step) else step
    after = np.flatnonzero(samples.value[1:] != samples.value[:-1]) + 1
    moved = np.abs(samples.value[after] - samples.value[after - 1])
    real = moved[moved > 1e-9]
    return ChannelQuality(
        channel=name,
        samples=len(samples.t),
        rate_hz=float(f"{1.0 / usual:.3g}") if usual > 0 else None,
        resolution=float(f"{real.min():.3g}") if len(real) else None,
        gaps=len(gap),
        longest_gap_s=round(float(gap.max()), 3) if len(gap) else 0.0,
        stuck_s=_stuck(samples.t, after) if CHANNELS[name].kind != "switch" else 0.0,
        repeats=repair.repeats,
        spikes=repair.spikes,
        outside=repair.outside,
    )


def _stuck(t: Floats, changed: Ints) -> float:
    """Longest time without a change, s; 0 for a channel that hardly ever changes."""
    if len(changed) < _MOVES:
        return 0.0
    return round(float(np.diff(t[changed], prepend=t[0], append=t[-1]).max()), 3)

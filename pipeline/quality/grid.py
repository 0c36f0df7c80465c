"""A recording in, its channels on one even grid of time out, so that one channel can be held against another."""

from collections.abc import Collection
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from pipeline.channels import CHANNELS
from pipeline.recording import Recording
from pipeline.rows import middle

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

STEP_S = 0.5
"""Grid step: a spoken second holds two, and no check below needs more (our own choice)."""
_SHORTEST_GAP_S = 2.5
_HELD_SWITCH_S = 10.0


@dataclass
class Grid:
    """Channels of one recording every half second.

    `t` (m,) s. `of(channel)` (m,) in the channel's unit, NaN in gaps and where the log has none; angles are unwrapped;
    switches hold their last value.
    """

    recording: Recording
    t: Floats
    _held: dict[str, Floats] = field(default_factory=dict)

    @classmethod
    def over(cls, recording: Recording) -> "Grid":
        """Grid from the first to the last sample of any channel."""
        ends = [(s.t[0], s.t[-1]) for s in recording.channels.values() if len(s.t) > 1]
        low, high = (min(a for a, _ in ends), max(b for _, b in ends)) if ends else (0.0, 0.0)
        return cls(recording, np.arange(low, high + 1e-9, STEP_S))

    def without(self, names: Collection[str]) -> "Grid":
        """Return the grid without some channels; what was laid on it stays laid."""
        channels = {name: samples for name, samples in self.recording.channels.items() if name not in names}
        held = {name: value for name, value in self._held.items() if name not in names}
        return Grid(replace(self.recording, channels=channels), self.t, held)

    def has(self, channel: str) -> bool:
        """Whether the log has at least eight samples of a channel."""
        samples = self.recording.channels.get(channel)
        return samples is not None and len(samples.t) >= 8

    def of(self, channel: str) -> Floats:
        """Channel on the grid, (m,)."""
        if channel not in self._held:
            self._held[channel] = self._taken(channel)
        return self._held[channel]

    def _taken(self, channel: str) -> Floats:
        if not self.has(channel):
            return np.full(len(self.t), np.nan)
        samples = self.recording.channels[channel]
        kind = CHANNELS[channel].kind
        after = np.searchsorted(samples.t, self.t, "right")
        if kind == "switch":
            left = np.maximum(after - 1, 0)
            near = (after > 0) & (self.t - samples.t[left] <= _HELD_SWITCH_S)
            return np.where(near, samples.value[left], np.nan)
        value = np.unwrap(samples.value, period=360.0) if kind == "angle" else samples.value
        right = np.clip(after, 1, len(samples.t) - 1)
        longest = max(3.0 * middle(np.diff(samples.t)), _SHORTEST_GAP_S)
        inside = (self.t >= samples.t[0] - 1e-9) & (self.t <= samples.t[-1] + 1e-9)
        inside &= samples.t[right] - samples.t[right - 1] <= longest
        return np.where(inside, np.interp(self.t, samples.t, value), np.nan)


def change(x: Floats, span: int) -> Floats:
    """Change of `x` (m,) over `span` steps, (m - span,)."""
    return x[span:] - x[:-span]


def gained(rate: Floats, span: int) -> Floats:
    """What a rate per second adds up to over `span` steps, trapezoidal, (m - span,); NaN over gaps."""
    steps = 0.5 * (rate[1:] + rate[:-1]) * STEP_S
    total = np.concatenate([[0.0], np.cumsum(np.where(np.isfinite(steps), steps, 0.0))])
    missing = np.concatenate([[0], np.cumsum(~np.isfinite(steps))])
    return np.where(change(missing, span) == 0, change(total, span), np.nan)

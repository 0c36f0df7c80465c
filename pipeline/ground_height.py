"""Height above the ground from whatever height channel a recording has.

Goes in: a recording. Comes out: one height trace whose zero is the aircraft standing on its wheels, or None.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.signal import medfilt

from pipeline.recording import Recording, Samples
from pipeline.rows import middle

Floats = NDArray[np.float64]

_SOURCES = ("radio_height_ft", "geometric_altitude_ft", "pressure_altitude_ft")
_STANDS_S = 6.0
"""A lowest radio height held for this long is the ground, not a low pass."""
_LARGEST_ZERO_FT = 15.0
_AROUND_S = 240.0
"""An altitude is tied to the lowest ground within this time; another field may lie higher."""


@dataclass(frozen=True)
class GroundHeight:
    """`t` (n,) s and `above_ground` (n,) ft; `source` is the channel, `interval_s` its median sample interval."""

    t: Floats
    above_ground: Floats
    source: str
    interval_s: float

    @property
    def wheels(self) -> bool:
        """Whether it is a radio height, good to a foot near the ground."""
        return self.source == "radio_height_ft"


def ground_height(recording: Recording) -> GroundHeight | None:
    """Height above the ground in ft; None without a height channel of at least four samples.

    Radio height is set to zero where the ground switch says the wheels bear, else at its lowest readings. An altitude
    has no ground of its own: it is set to zero at the lowest value within four minutes either side.
    """
    for source in _SOURCES:
        samples = recording.channels.get(source)
        if samples is not None and len(samples.t) >= 4:
            return _tied(recording, source, samples)
    return None


def _tied(recording: Recording, source: str, samples: Samples) -> GroundHeight:
    value = medfilt(samples.value, 3)
    value[0], value[-1] = samples.value[0], samples.value[-1]
    interval = middle(np.diff(samples.t))
    if source == "radio_height_ft":
        return GroundHeight(samples.t, value - _radio_zero(recording, samples), source, interval)
    return GroundHeight(samples.t, value - _local_ground(samples.t, value), source, interval)


def _radio_zero(recording: Recording, radio: Samples) -> float:
    """Reading on the wheels: while the switch bears, else the lowest reading where it lasts; else 0, as calibrated."""
    switch = recording.channels.get("main_on_ground")
    if switch is not None:
        held = np.searchsorted(switch.t, radio.t, "right") - 1
        bears = (held >= 0) & (switch.value[np.maximum(held, 0)] > 0.5)
        return float(np.median(radio.value[bears])) if bears.sum() >= 3 else 0.0
    near = radio.value < radio.value.min() + 1.5
    lasts = near.sum() * middle(np.diff(radio.t)) >= _STANDS_S
    zero = float(np.median(radio.value[near]))
    return zero if lasts and abs(zero) < _LARGEST_ZERO_FT else 0.0


def _local_ground(t: Floats, value: Floats) -> Floats:
    """Smallest altitude within four minutes of each sample, (n,)."""
    low = np.searchsorted(t, t - _AROUND_S, "left")
    high = np.searchsorted(t, t + _AROUND_S, "right")
    table = _sparse_minimum(value)
    level = np.log2(high - low).astype(int)
    return np.minimum(table[level, low], table[level, high - (1 << level)])


def _sparse_minimum(value: Floats) -> Floats:
    """Minimum over every run of 2**k values, by k and start."""
    rows = [value]
    width = 1
    while 2 * width <= len(value):
        below = rows[-1]
        row = np.full(len(value), np.inf)
        row[: len(value) - 2 * width + 1] = np.minimum(
            below[: len(value) - 2 * width + 1], below[width : len(value) - width + 1]
        )
        rows.append(row)
        width *= 2
    return np.array(rows)

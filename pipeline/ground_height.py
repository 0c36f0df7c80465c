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
Bools = NDArray[np.bool_]

ALTITUDES = ("radio_height_ft", "geometric_altitude_ft", "pressure_altitude_ft")
_STANDS_S = 6.0
"""A lowest radio height held for this long is the ground, not a low pass."""
_LARGEST_ZERO_FT, _AT_REST_FT = 15.0, 60.0
"""Largest zero of an uncalibrated radio height, and what it never reads on the wheels, whatever a switch says."""
_AROUND_S = 240.0
"""Where nothing tells the ground an altitude is tied to the lowest within this time; another field may lie higher."""
_TAXI_KT = 30.0
"""Slower than this an aircraft is on the ground."""
_RUN_S, _LEVEL_S = 2.0, 15.0
"""A stay on the ground lasts at least the first, and its level is the median over the second at its nearer end."""
_AIRBORNE_FT = 5_000.0
"""Stands for any height in the trace of a log that has none; the shortest stay in the air it shows is the next."""
_HOP_S = 15.0


@dataclass(frozen=True)
class GroundHeight:
    """`t` (n,) s and `above_ground` (n,) ft; `source` is the channel, `interval_s` its median sample interval.

    Where `source` is no height channel the trace tells the air (5,000 ft) from the ground (0) and nothing between.
    """

    t: Floats
    above_ground: Floats
    source: str
    interval_s: float

    @property
    def wheels(self) -> bool:
        """Whether it is a radio height, good to a foot near the ground."""
        return self.source == "radio_height_ft"


def ground_height(recording: Recording) -> GroundHeight | None:
    """Height above the ground in ft; None where the recording cannot tell the air from the ground.

    Radio height is set to zero where the ground switch says the wheels bear, else at its lowest readings. An altitude
    has no ground of its own: it is set to zero at the nearest time on the ground, told by the switch or by taxi speed;
    where neither tells any, at the lowest value within four minutes either side. Without any height of at least four
    samples, switch or speed alone tell the air from the ground.
    """
    for source in ALTITUDES:
        samples = recording.channels.get(source)
        if samples is not None and len(samples.t) >= 4:
            return _tied(recording, source, samples)
    return _without_height(recording)


def _tied(recording: Recording, source: str, samples: Samples) -> GroundHeight:
    value = medfilt(samples.value, 3)
    value[0], value[-1] = samples.value[0], samples.value[-1]
    interval = middle(np.diff(samples.t))
    if source == "radio_height_ft":
        return GroundHeight(samples.t, value - _radio_zero(recording, samples), source, interval)
    ground = _nearest_ground(samples.t, value, _on_ground(recording, samples.t))
    if ground is None:
        ground = _local_ground(samples.t, value)
    return GroundHeight(samples.t, np.maximum(value - ground, 0.0), source, interval)


def _radio_zero(recording: Recording, radio: Samples) -> float:
    """Reading on the wheels: while the switch bears, else the lowest reading where it lasts; else 0, as calibrated."""
    switch = recording.channels.get("main_on_ground")
    if switch is not None:
        bears = (_held(switch, radio.t) > 0.5) & (np.abs(radio.value) < _AT_REST_FT)
        return float(np.median(radio.value[bears])) if bears.sum() >= 3 else 0.0
    near = radio.value < radio.value.min() + 1.5
    lasts = near.sum() * middle(np.diff(radio.t)) >= _STANDS_S
    zero = float(np.median(radio.value[near]))
    return zero if lasts and abs(zero) < _LARGEST_ZERO_FT else 0.0


def _held(samples: Samples, t: Floats) -> Floats:
    """Value of the last sample at or before each time; 0 before the first."""
    last = np.searchsorted(samples.t, t, "right") - 1
    return np.where(last >= 0, samples.value[np.maximum(last, 0)], 0.0)


def _on_ground(recording: Recording, t: Floats) -> Bools:
    """Whether switch or taxi speed puts the aircraft on the ground at each time, (n,); stays too short left out."""
    switch = recording.channels.get("main_on_ground")
    speed = recording.channels.get("ground_speed_kt") or recording.channels.get("airspeed_kt")
    on = np.zeros(len(t), dtype=bool)
    if switch is not None:
        on |= _held(switch, t) > 0.5
    if speed is not None and len(speed.t) > 1:
        on |= np.interp(t, speed.t, medfilt(speed.value, 3) if len(speed.t) > 2 else speed.value) < _TAXI_KT
    for first, last in _runs(on):
        if t[last] - t[first] < _RUN_S:
            on[first : last + 1] = False
    return on


def _runs(on: Bools) -> list[tuple[int, int]]:
    """First and last index of every run of True."""
    edges = np.diff(np.concatenate([[False], on, [False]]).astype(int))
    return list(zip(np.flatnonzero(edges > 0), np.flatnonzero(edges < 0) - 1, strict=True))


def _nearest_ground(t: Floats, value: Floats, on: Bools) -> Floats | None:
    """Altitude of the ground at each sample, (n,), by the nearest stay on it in time; None without one."""
    times, levels = [], []
    for first, last in _runs(on):
        inside = slice(first, last + 1)
        for end in (first, last):
            times.append(t[end])
            levels.append(float(np.median(value[inside][np.abs(t[inside] - t[end]) <= _LEVEL_S])))
    if not times:
        return None
    between = 0.5 * (np.array(times[1:]) + np.array(times[:-1]))
    ground = np.array(levels)[np.searchsorted(between, t)]
    return np.where(on, value, ground)


def _without_height(recording: Recording) -> GroundHeight | None:
    """Air and ground told by the switch, else by taxi speed; None where there is neither.

    A stay in the air of a few seconds is a bounce or a swing of the reading, and no flight between two landings.
    """
    for source in ("main_on_ground", "ground_speed_kt"):
        samples = recording.channels.get(source)
        if samples is None or len(samples.t) < 4:
            continue
        on = _on_ground(recording, samples.t)
        for first, last in _runs(~on):
            if first > 0 and last < len(on) - 1 and samples.t[last] - samples.t[first] < _HOP_S:
                on[first : last + 1] = True
        above = np.where(on, 0.0, _AIRBORNE_FT)
        return GroundHeight(samples.t, above, source, middle(np.diff(samples.t)))
    return None


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

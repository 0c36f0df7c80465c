"""Many recordings as flat arrays: one search answers "this channel, of these logs, at these times" for all at once."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from pipeline.channels import CHANNELS
from pipeline.recording import Recording
from pipeline.rows import middle

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

_LOG_APART_S = 1e8
"""Distance on the common time axis between two logs; longer than any log."""
_HELD_SWITCH_S = 10.0
"""A switch holds its last value this long (recorders repeat discretes at least every 4 s: common practice)."""
_SHORTEST_GAP_S = 2.0
_ON_BOUND_S = 1e-4


@dataclass(frozen=True)
class FlatChannel:
    """One channel of all logs.

    `key` (n,): log number times a large distance plus time, for searching alone, since it loses digits; `t` (n,): time
    in the log, s; `value` (n,); `start` (logs + 1,) offsets of each log;
    `interval_s` (logs,): median sample interval, NaN where a log has fewer than two samples; `resolution` (logs,):
    smallest step between distinct values; `noise` (logs,): standard deviation of single samples about a smooth course.
    """

    key: Floats
    t: Floats
    value: Floats
    start: Ints
    interval_s: Floats
    resolution: Floats
    noise: Floats


@dataclass(frozen=True)
class Stack:
    """Channels of a batch of logs by canonical name, and the number of logs.

    `suspect`: by channel, whether each log (logs,) had one that is not to be believed and was therefore taken out.
    """

    channels: dict[str, FlatChannel]
    logs: int
    suspect: dict[str, Bools] = field(default_factory=dict)


def stack(recordings: Sequence[Recording]) -> Stack:
    """Lay the channels of all recordings end to end; a channel no recording has is absent."""
    names = [name for name in CHANNELS if any(name in r.channels for r in recordings)]
    wrong = dict.fromkeys(name for r in recordings for name in r.suspect)
    suspect = {name: np.array([name in r.suspect for r in recordings]) for name in wrong}
    return Stack({name: _flat(name, recordings) for name in names}, len(recordings), suspect)


def _flat(name: str, recordings: Sequence[Recording]) -> FlatChannel:
    keys, times, values, sizes, facts = [], [], [], [], []
    for number, recording in enumerate(recordings):
        samples = recording.channels.get(name)
        if samples is None:
            sizes.append(0)
            facts.append((np.nan, np.nan, np.nan))
            continue
        value = np.unwrap(samples.value, period=360.0) if CHANNELS[name].kind == "angle" else samples.value
        keys.append(samples.t + number * _LOG_APART_S)
        times.append(samples.t)
        values.append(value)
        sizes.append(len(value))
        facts.append(_facts(samples.t, value))
    start = np.concatenate([[0], np.cumsum(sizes)]).astype(np.int64)
    interval, resolution, noise = np.array(facts).T
    return FlatChannel(
        np.concatenate(keys), np.concatenate(times), np.concatenate(values), start, interval, resolution, noise
    )


def _facts(t: Floats, value: Floats) -> tuple[float, float, float]:
    """Median interval (s), smallest step between distinct values, and noise of single samples (channel unit)."""
    if len(t) < 4:
        return (middle(np.diff(t)) if len(t) > 1 else np.nan), np.nan, np.nan
    steps = np.abs(np.diff(value))
    moved = steps[steps > 1e-9]
    resolution = float(moved.min()) if len(moved) else 0.0
    noise = middle(np.abs(np.diff(value, 2))) / (0.6745 * np.sqrt(6.0))
    return middle(np.diff(t)), resolution, max(noise, resolution / np.sqrt(12.0))


def gather(flat: Stack, channel: str, log: Ints, t: Floats) -> Floats:
    """Channel at times `t` (n, m) seconds of logs `log` (n,); NaN where the log has no samples near.

    Numbers are interpolated between neighbours no further apart than three sample intervals (at least 2 s); angles
    likewise, unwrapped (take them modulo 360); switches hold their last value for up to 10 s.
    """
    if channel not in flat.channels:
        return np.full(t.shape, np.nan)
    data = flat.channels[channel]
    first, end = data.start[log][:, None], data.start[log + 1][:, None]
    right = np.searchsorted(data.key, (log[:, None] * _LOG_APART_S + t).ravel(), "right").reshape(t.shape)
    if CHANNELS[channel].kind == "switch":
        return _held(data, t, right - 1, first)
    longest = np.maximum(3.0 * data.interval_s[log], _SHORTEST_GAP_S)[:, None]
    return _interpolated(data, t, right, first=first, end=end, longest=longest)


def _held(data: FlatChannel, query: Floats, left: Ints, first: Ints) -> Floats:
    safe = np.clip(left, 0, len(data.key) - 1)
    near = (left >= first) & (query - data.t[safe] <= _HELD_SWITCH_S)
    return np.where(near, data.value[safe], np.nan)


def _interpolated(data: FlatChannel, query: Floats, right: Ints, *, first: Ints, end: Ints, longest: Floats) -> Floats:
    if len(data.key) < 2:
        return np.full(query.shape, np.nan)
    j = np.clip(right - 1, first, np.maximum(end - 2, first))
    j = np.clip(j, 0, len(data.key) - 2)
    before, after = data.t[j], data.t[j + 1]
    width = after - before
    inside = (query >= before - 1e-6) & (query <= after + 1e-6) & (width <= longest) & (end - first >= 2)
    with np.errstate(divide="ignore", invalid="ignore"):
        value = data.value[j] + (query - before) / width * (data.value[j + 1] - data.value[j])
    return np.where(inside, value, np.nan)


def _places(data: FlatChannel, log: Ints, between: tuple[Floats, Floats]) -> tuple[Ints, Ints]:
    """First sample in [low, high] and first beyond, (n,) each; a sample on a bound is in, whatever the last digits."""
    low, high = (log * _LOG_APART_S + time for time in between)
    return np.searchsorted(data.key, low - _ON_BOUND_S, "left"), np.searchsorted(data.key, high + _ON_BOUND_S, "right")


def peak(flat: Stack, channel: str, log: Ints, between: tuple[Floats, Floats]) -> tuple[Floats, Floats]:
    """Largest sample of `channel` with time in [low, high] (n,) each, and the number of samples there."""
    if channel not in flat.channels:
        return np.full(len(log), np.nan), np.zeros(len(log))
    data = flat.channels[channel]
    a, b = _places(data, log, between)
    padded = np.append(data.value, -np.inf)
    bounds = np.stack([a, np.maximum(b, a + 1)], axis=1).ravel()
    top = np.maximum.reduceat(padded, np.minimum(bounds, len(padded) - 1))[::2]
    held = (b - a).astype(float)
    return np.where(held > 0, top, np.nan), held


def native(flat: Stack, channel: str, log: Ints, between: tuple[Floats, Floats], *, most: int) -> tuple[Floats, Floats]:
    """Samples of `channel` as recorded with time in [low, high] (n,) each: times in s and values, (n, k), k <= `most`.

    Rows are filled from the left, the rest is NaN. Where a stretch holds more than `most`, every second, third ... is
    taken.
    """
    if channel not in flat.channels:
        return np.full((len(log), 1), np.nan), np.full((len(log), 1), np.nan)
    data = flat.channels[channel]
    a, b = _places(data, log, between)
    stride = np.maximum(-(-(b - a) // most), 1)
    k = max(int((-(-(b - a) // stride)).max(initial=1)), 1)
    place = a[:, None] + np.arange(k) * stride[:, None]
    inside = place < b[:, None]
    safe = np.minimum(place, len(data.key) - 1)
    return np.where(inside, data.t[safe], np.nan), np.where(inside, data.value[safe], np.nan)

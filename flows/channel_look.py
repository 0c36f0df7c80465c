"""One log's stretches in; what each of its channels holds, how well, and what contradicts the rest, out."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from pipeline.channels import CHANNELS
from pipeline.quality.examine import examine
from pipeline.quality.facts import ChannelQuality
from pipeline.recording import Artefact, Recording, Samples


@dataclass(frozen=True)
class ChannelSeen:
    """One channel: samples, usual rate, smallest step between different values, range, in the channel's unit; faults.

    `gaps`, the longest of them `longest_gap_s`; `stuck_s` the longest time it stood still while it should have moved;
    `repeats`, `spikes` and `outside` samples taken out; `lag_s` its delay against `lag_against`; `suspect` why it is
    not to be believed, None where it is.
    """

    channel: str
    unit: str
    samples: int
    rate_hz: float | None
    resolution: float | None
    low: float
    high: float
    gaps: int = 0
    longest_gap_s: float = 0.0
    stuck_s: float = 0.0
    repeats: int = 0
    spikes: int = 0
    outside: int = 0
    lag_s: float | None = None
    lag_against: str | None = None
    suspect: str | None = None


@dataclass(frozen=True)
class Look:
    """Channels of a log in their order, and what simulators do to time and place in it."""

    channels: tuple[ChannelSeen, ...]
    artefacts: tuple[Artefact, ...]


def look(stretches: Iterable[Recording]) -> Look:
    """Look at each channel, stretch by stretch; a fault of one stretch is a fault of the log."""
    seen: dict[str, ChannelSeen] = {}
    artefacts: list[Artefact] = []
    for stretch in stretches:
        quality = examine(stretch)
        of = {one.channel: one for one in quality.channels}
        for name, samples in stretch.channels.items():
            one = _channel(name, samples, stretch, of.get(name))
            seen[name] = _joined(seen[name], one) if name in seen else one
        artefacts += [a for a in quality.artefacts if stretch.own_from_s <= a.start_s < stretch.own_to_s]
    return Look(tuple(seen.values()), tuple(artefacts))


def _channel(name: str, samples: Samples, stretch: Recording, quality: ChannelQuality | None) -> ChannelSeen:
    values = np.unique(samples.value)
    apart = np.diff(values)
    real = apart[apart > 1e-9 * max(1.0, float(np.abs(values).max()))]
    one = ChannelSeen(
        name,
        CHANNELS[name].unit,
        samples=int(((samples.t >= stretch.own_from_s) & (samples.t < stretch.own_to_s)).sum()),
        rate_hz=round(1.0 / float(np.median(np.diff(samples.t))), 3) if len(samples.t) > 1 else None,
        resolution=float(f"{real.min():.3g}") if len(real) else None,
        low=float(f"{values[0]:.6g}"),
        high=float(f"{values[-1]:.6g}"),
    )
    return one if quality is None else _judged(one, quality)


def _judged(one: ChannelSeen, quality: ChannelQuality) -> ChannelSeen:
    return replace(
        one,
        gaps=quality.gaps,
        longest_gap_s=quality.longest_gap_s,
        stuck_s=quality.stuck_s,
        repeats=quality.repeats,
        spikes=quality.spikes,
        outside=quality.outside,
        lag_s=quality.lag_s,
        lag_against=quality.lag_against,
        suspect=quality.suspect,
    )


def _joined(one: ChannelSeen, next_one: ChannelSeen) -> ChannelSeen:
    """Put two stretches of a channel together; rate and delay are those of the first."""
    steps = [step for step in (one.resolution, next_one.resolution) if step is not None]
    return replace(
        one,
        samples=one.samples + next_one.samples,
        resolution=min(steps, default=None),
        low=min(one.low, next_one.low),
        high=max(one.high, next_one.high),
        gaps=one.gaps + next_one.gaps,
        longest_gap_s=max(one.longest_gap_s, next_one.longest_gap_s),
        stuck_s=max(one.stuck_s, next_one.stuck_s),
        repeats=one.repeats + next_one.repeats,
        spikes=one.spikes + next_one.spikes,
        outside=one.outside + next_one.outside,
        suspect=one.suspect or next_one.suspect,
    )

"""One log after reading: each canonical channel with its own sample times, in canonical units and signs."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Samples:
    """One channel: `t` (n,) seconds from the log's start, strictly increasing; `value` (n,), finite, canonical unit."""

    t: Floats
    value: Floats


@dataclass(frozen=True)
class Repair:
    """What reading one channel repaired, in samples.

    `repeats` were copies of a sample on rows faster than the channel, `spikes` stood alone against their neighbours,
    `outside` were beyond the channel's plausible range or no numbers; all of them were taken out.
    """

    repeats: int = 0
    spikes: int = 0
    outside: int = 0


@dataclass(frozen=True)
class Artefact:
    """Something no flight does, from `start_s` to `end_s`: what simulators make of time and place.

    `kind`: reposition, freeze or time_acceleration.
    """

    start_s: float
    end_s: float
    kind: str


@dataclass(frozen=True)
class Recording:
    """One log, or one stretch of a long one, as canonical channels.

    `started_at` is the UTC instant of t = 0 where the log's own stamps tell it, else None. A long log is read in
    stretches that overlap; a landing belongs to the stretch whose half-open interval [own_from_s, own_to_s) holds its
    contact. `notes` lists what was repaired or set aside while reading, `repairs` counts it by channel. `suspect` has
    channels that are not to be believed, each with the reason in plain words; they are not among `channels`.
    """

    log_sha256: str
    log_file: str
    map_sha256: str
    channels: Mapping[str, Samples]
    started_at: datetime | None
    rows: int
    duration_s: float
    own_from_s: float = -np.inf
    own_to_s: float = np.inf
    notes: tuple[str, ...] = ()
    repairs: Mapping[str, Repair] = field(default_factory=dict)
    suspect: Mapping[str, str] = field(default_factory=dict)
    artefacts: tuple[Artefact, ...] = ()

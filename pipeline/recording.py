"""One log after reading: each canonical channel with its own sample times, in canonical units and signs."""

from collections.abc import Mapping
from dataclasses import dataclass
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
class Recording:
    """One log, or one stretch of a long one, as canonical channels.

    `started_at` is the UTC instant of t = 0 where the log's own stamps tell it, else None. A long log is read in
    stretches that overlap; a landing belongs to the stretch whose half-open interval [own_from_s, own_to_s) holds its
    contact. `notes` lists what was repaired or set aside while reading.
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

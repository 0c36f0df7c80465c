"""What the page of one log's traces is made from: frames and numbers, by approach."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import polars as pl

from pipeline.faults.judging import SCHEMA as FAULT


@dataclass(frozen=True)
class Traced:
    """One approach about its anchor, s: the first contact, or the lowest point where there was none.

    `row`: its row of the landing frame. `samples`: by canonical channel, `tau_s` and `value` as the recorder wrote
    them, canonical unit; the height (`height_ft`) less what it reads on the wheels. `course`: the trace frame's rows of
    this landing, empty where its contact is not timed. `height_channel` and `height_zero_ft`: which height, and what it
    reads on the wheels; None without a height.
    """

    row: dict[str, Any]
    samples: Mapping[str, pl.DataFrame]
    course: pl.DataFrame
    height_channel: str | None = None
    height_zero_ft: float | None = None

    @property
    def about(self) -> str:
        """What times are counted from, in words."""
        return "first contact" if self.row["contact_t_s"] is not None else "the lowest point"


@dataclass(frozen=True)
class TraceData:
    """One log: its approaches in order, of `approaches_in_all`; `suspect` channels with why; what was noted reading it.

    `faults`: fault rows of the approaches. `gate_heights_ft` are those of the policy the approaches were judged by, `policy_sha256` that policy's hash.
    """

    log_file: str
    map_name: str
    traced: tuple[Traced, ...]
    approaches_in_all: int
    gate_heights_ft: tuple[float, ...]
    policy_sha256: str
    suspect: Mapping[str, str] = field(default_factory=dict)
    faults: pl.DataFrame = field(default_factory=lambda: pl.DataFrame(schema=FAULT))
    notes: tuple[str, ...] = ()

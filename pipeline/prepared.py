"""A group of recordings in, their approaches ready to be fitted out: channels vetted, landings found, context settled.

Measuring and learning both begin here, so that both see the same landings.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.constants import installation_of
from pipeline.context import context_rows, weights
from pipeline.found import Found, keys, landed_at, numbered, runways_flown, window_of
from pipeline.measures.window import Window
from pipeline.policy import Policy
from pipeline.quality.examine import examine, vetted
from pipeline.quality.frame import quality_frame, quality_rows
from pipeline.recording import Recording
from pipeline.stack import stack
from pipeline.wind import settled_wind

_GROUP_LOGS, _GROUP_VALUES = 100, 1_500_000


@dataclass(frozen=True)
class Known:
    """What is known beside the recordings: one context row a log or landing, the runway table, the policy."""

    context: pl.DataFrame
    runways: pl.DataFrame
    policy: Policy


@dataclass(frozen=True)
class Prepared:
    """Recordings without the channels that are not to be believed, their approaches, and one context row for each.

    `window` is anchored near the contacts; None where nothing was found. `quality` is what examining found.
    """

    group: list[Recording]
    found: list[Found]
    rows: pl.DataFrame
    window: Window | None
    quality: pl.DataFrame

    @property
    def one_touch(self) -> NDArray[np.bool_]:
        """Approaches on which no bounce was seen, (n,)."""
        return np.array([len(f.approach.touches_s or ()) < 2 for f in self.found], dtype=bool)

    @property
    def installations(self) -> list[tuple[str, str]]:
        """Recorder and aircraft type of each approach, as constants are learned for them."""
        maps = [self.group[f.recording].map_sha256 for f in self.found]
        stated = zip(self.rows["recorder"], maps, self.rows["aircraft_type"], strict=True)
        return [installation_of(*names) for names in stated]


def groups(recordings: Iterable[Recording]) -> Iterator[list[Recording]]:
    """Part recordings into groups of bounded size, so that an iterator never has all of them in memory."""
    group: list[Recording] = []
    values = 0
    for recording in recordings:
        group.append(recording)
        values += sum(len(samples.t) for samples in recording.channels.values())
        if len(group) >= _GROUP_LOGS or values >= _GROUP_VALUES:
            yield group
            group, values = [], 0
    if group:
        yield group


def prepare(group: list[Recording], known: Known, counted: Counter[tuple[str, str]]) -> Prepared:
    """Find the approaches of a group and lay them out; `counted` goes on from group to group for logs in stretches."""
    group, quality = _examined(group, known.context)
    found = [f for number, recording in enumerate(group) for f in numbered(number, recording, counted)]
    if not found:
        return Prepared(group, found, pl.DataFrame(), None, quality)
    flat = stack(group)
    rows = context_rows(keys(group, found), known.context)
    rows = rows.with_columns(runways_flown(flat, found, rows, known.runways))
    rows = settled_wind(rows, landed_at(group, found, rows))
    return Prepared(group, found, rows, window_of(flat, found, rows, known.runways, known.policy), quality)


def _examined(group: list[Recording], context: pl.DataFrame) -> tuple[list[Recording], pl.DataFrame]:
    """The recordings without the channels that are not to be believed, and what examining them found."""
    stated = weights(context)
    found = [examine(recording, stated_weight_kg=stated.get(recording.log_sha256)) for recording in group]
    kept = [vetted(recording, quality) for recording, quality in zip(group, found, strict=True)]
    rows = [quality_rows(recording.log_sha256, quality) for recording, quality in zip(group, found, strict=True)]
    return kept, quality_frame(rows)

"""Recordings in, measured landings out: the whole way from channels to frames, in groups of bounded size.

Goes in: recordings, what is known of each landing, runways and policy. Comes out: landings, contacts, traces, and what
examining the channels found.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import polars as pl

from pipeline.contact_frame import SCHEMA as CONTACTS
from pipeline.contact_frame import contact_frame
from pipeline.context import context_rows, weights
from pipeline.found import fitted, keys, landed_at, numbered, runways_flown, window_of
from pipeline.landing_frame import landing_frame, landing_schema, versions
from pipeline.measures.all_measures import measure_window
from pipeline.measures.contact_fit import contact_fit
from pipeline.policy import Policy
from pipeline.quality.examine import examine, vetted
from pipeline.quality.frame import quality_frame, quality_rows
from pipeline.recording import Recording
from pipeline.stack import stack
from pipeline.trace_frame import trace_frame, trace_schema
from pipeline.wind import settled_wind

_GROUP_LOGS, _GROUP_VALUES = 100, 1_500_000


@dataclass(frozen=True)
class Measured:
    """Frames of one batch.

    `landings` one row an approach, `contacts` a contact, `traces` 101 rows a landing, `channel_quality` one a log and
    channel.
    """

    landings: pl.DataFrame
    contacts: pl.DataFrame
    traces: pl.DataFrame
    channel_quality: pl.DataFrame


def measure_batch(
    recordings: Iterable[Recording], context: pl.DataFrame, *, runways: pl.DataFrame, policy: Policy
) -> Measured:
    """Find and measure every approach of the recordings.

    Parameters
    ----------
    recordings : one or more; the stretches of a long log follow each other. They are taken in groups, so that an
        iterator never has all of them in memory.
    context : one row a log (`landing_index` null) or a landing: `log_sha256` and any of the context columns.
    runways : the runway table.
    policy : the rules verdicts depend on.

    Returns
    -------
    Frames with every column of their schemas, rows in the order of the recordings and of time; empty where nothing
    was found. Nulls carry a reason; nothing is NaN.
    """
    counted: Counter[tuple[str, str]] = Counter()
    parts = [_measure_group(group, context, runways, policy, counted) for group in _groups(recordings)]
    return Measured(
        pl.concat([pl.DataFrame(schema=landing_schema()), *(p.landings for p in parts)]),
        pl.concat([pl.DataFrame(schema=CONTACTS), *(p.contacts for p in parts)]),
        pl.concat([pl.DataFrame(schema=trace_schema()), *(p.traces for p in parts)]),
        quality_frame(p.channel_quality for p in parts),
    )


def _groups(recordings: Iterable[Recording]) -> Iterator[list[Recording]]:
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


def _measure_group(
    group: list[Recording],
    context: pl.DataFrame,
    runways: pl.DataFrame,
    policy: Policy,
    counted: Counter[tuple[str, str]],
) -> Measured:
    group, quality = _examined(group, context)
    found = [f for number, recording in enumerate(group) for f in numbered(number, recording, counted)]
    if not found:
        landings, contacts, traces = (pl.DataFrame(schema=s) for s in (landing_schema(), CONTACTS, trace_schema()))
        return Measured(landings, contacts, traces, quality)
    flat = stack(group)
    known = context_rows(keys(group, found), context)
    known = known.with_columns(runways_flown(flat, found, known, runways))
    known = settled_wind(known, landed_at(group, found, known))
    window = window_of(flat, found, known, runways, policy)
    fit = contact_fit(window, np.array([len(f.approach.touches_s or ()) < 2 for f in found]))
    found, window = fitted(found, window, fit)
    measures = measure_window(window, fit, [f.approach.touches_s for f in found], policy)
    rests_on = versions(group, found, policy, known, runways)
    landings = landing_frame(group, found, known, measures, window, rests_on)
    return Measured(
        landings,
        contact_frame(landings, [f.approach for f in found], window),
        trace_frame(landings, window, measures),
        quality,
    )


def _examined(group: list[Recording], context: pl.DataFrame) -> tuple[list[Recording], pl.DataFrame]:
    """The recordings without the channels that are not to be believed, and what examining them found."""
    stated = weights(context)
    found = [examine(recording, stated_weight_kg=stated.get(recording.log_sha256)) for recording in group]
    kept = [vetted(recording, quality) for recording, quality in zip(group, found, strict=True)]
    rows = [quality_rows(recording.log_sha256, quality) for recording, quality in zip(group, found, strict=True)]
    return kept, quality_frame(rows)

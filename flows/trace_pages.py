"""A measured log in; its page of traces, written to a file, out."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import polars as pl

from flows.channel_look import Look
from flows.files import write_atomically
from flows.intake import Tabled
from flows.measured_logs import Part
from pipeline.ground_height import ALTITUDES, ground_height
from pipeline.landings import find_approaches, owned
from pipeline.policy import Policy
from pipeline.reading.record import recordings
from pipeline.recording import Recording, Samples
from reports.trace import trace_page
from reports.trace_data import Traced, TraceData

MOST_APPROACHES = 8
"""Approaches drawn on one page; each takes a screen or two."""
_BEFORE_S, _AFTER_S = 160.0, 15.0


def debrief_page_of(log: Tabled, row: dict[str, Any], course: pl.DataFrame, *, data: TraceData) -> str:
    """Return the page of one held approach's traces.

    Parameters
    ----------
    row : the approach's row of the landing frame, as it is held.
    course : rows of the trace frame of that landing; empty where there are none.
    data : the rest of the page; its `traced` is filled in.
    """
    return trace_page(replace(data, traced=tuple(_one(log, row, course))))


def trace_page_of(log: Tabled, part: Part, look: Look, *, policy: Policy, page: Path) -> None:
    """Write the page of a log's traces; its folder is made where it is missing.

    Raises
    ------
    OSError
        The disk refused.
    """
    (seen,) = part.seen
    landings = part.measured.landings
    traced = tuple(_traced(log, part))
    data = TraceData(
        log_file=log.log.name,
        map_name=log.channel_map.name,
        traced=traced,
        approaches_in_all=landings.height,
        gate_heights_ft=tuple(gate.height_ft for gate in policy.gates),
        policy_sha256=policy.sha256,
        suspect={one.channel: one.suspect for one in look.channels if one.suspect is not None},
        notes=seen.notes,
        faults=part.measured.faults,
    )
    page.parent.mkdir(parents=True, exist_ok=True)
    write_atomically(page, trace_page(data).encode())


def _traced(log: Tabled, part: Part) -> Iterator[Traced]:
    """The first approaches with their samples; a long log is read stretch by stretch, and no further than needed."""
    rows = part.measured.landings.head(MOST_APPROACHES).to_dicts()
    traces = part.measured.traces
    number = 0
    for recording in recordings(log.table.path, log.channel_map, log_sha256=log.log_sha256, log_file=log.log.name):
        for approach in owned(find_approaches(recording), recording):
            if number >= len(rows):
                return
            row = rows[number]
            anchor = approach.anchor_s if row["contact_t_s"] is None else row["contact_t_s"]
            yield _about(anchor, row, recording, traces.filter(pl.col("landing_id") == row["landing_id"]))
            number += 1


def _one(log: Tabled, row: dict[str, Any], course: pl.DataFrame) -> Iterator[Traced]:
    """The approach with its samples, from the stretch of its log that holds it; nothing where it is not found again."""
    number = 0
    for recording in recordings(log.table.path, log.channel_map, log_sha256=log.log_sha256, log_file=log.log.name):
        if (contact_s := row["contact_t_s"]) is not None:
            if recording.own_from_s <= contact_s < recording.own_to_s:
                yield _about(contact_s, row, recording, course)
                return
            continue
        for approach in owned(find_approaches(recording), recording):
            if number == row["approach_index"]:
                yield _about(approach.anchor_s, row, recording, course)
                return
            number += 1


def _about(anchor_s: float, row: dict[str, object], recording: Recording, course: pl.DataFrame) -> Traced:
    samples = {name: _frame(one, anchor_s) for name, one in recording.channels.items()}
    height = ground_height(recording)
    if height is None or height.source not in ALTITUDES:
        return Traced(row, samples, course)
    raw = recording.channels[height.source]
    near = np.abs(raw.t - anchor_s) < _AFTER_S
    zero = float(np.median((raw.value - height.above_ground)[near])) if near.any() else 0.0
    samples["height_ft"] = samples[height.source].with_columns(pl.col("value") - zero)
    return Traced(row, samples, course, height.source, zero)


def _frame(samples: Samples, anchor_s: float) -> pl.DataFrame:
    low, high = np.searchsorted(samples.t, (anchor_s - _BEFORE_S, anchor_s + _AFTER_S))
    return pl.DataFrame({"tau_s": samples.t[low:high] - anchor_s, "value": samples.value[low:high]})

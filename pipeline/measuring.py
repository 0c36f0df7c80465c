"""Recordings in, measured landings out: the whole way from channels to frames, in groups of bounded size.

Goes in: recordings, what is known of each landing, runways and policy. Comes out: landings, contacts, traces, and what
examining the channels found.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

import polars as pl

from pipeline.approach_expected import SCHEMA as EXPECTED
from pipeline.approach_expected import approach_expected
from pipeline.constants import CONSTANTS, installed
from pipeline.contact_frame import SCHEMA as CONTACTS
from pipeline.contact_frame import contact_frame
from pipeline.faults.flown import flown
from pipeline.faults.judging import SCHEMA as FAULTS
from pipeline.faults.judging import judge_faults
from pipeline.found import fitted
from pipeline.gate_frame import SCHEMA as GATES
from pipeline.gate_frame import gate_frame
from pipeline.landing_frame import landing_frame, landing_schema, versions
from pipeline.measures.all_measures import measure_window
from pipeline.measures.contact_fit import contact_fit
from pipeline.policy import Policy
from pipeline.prepared import Known, Prepared, groups, prepare
from pipeline.quality.frame import quality_frame
from pipeline.recording import Recording
from pipeline.trace_frame import trace_frame, trace_schema

_SCHEMAS: dict[str, dict[str, type[pl.DataType] | pl.DataType]] = {
    "landings": landing_schema(),
    "contacts": dict(CONTACTS),
    "gates": dict(GATES),
    "expected": dict(EXPECTED),
    "faults": dict(FAULTS),
    "traces": dict(trace_schema()),
}


@dataclass(frozen=True)
class Measured:
    """Frames of one batch.

    `landings` one row an approach, `contacts` a contact, `gates` an approach and gate, `expected` an approach,
    `faults` an approach and fault,
    `traces` 101 rows a landing, `channel_quality` one a log and channel.
    """

    landings: pl.DataFrame
    contacts: pl.DataFrame
    gates: pl.DataFrame
    expected: pl.DataFrame
    faults: pl.DataFrame
    traces: pl.DataFrame
    channel_quality: pl.DataFrame


def measure_batch(
    recordings: Iterable[Recording],
    context: pl.DataFrame,
    *,
    runways: pl.DataFrame,
    policy: Policy,
    constants: pl.DataFrame | None = None,
) -> Measured:
    """Find and measure every approach of the recordings.

    Parameters
    ----------
    recordings : one or more; the stretches of a long log follow each other. They are taken in groups, so that an
        iterator never has all of them in memory.
    context : one row a log (`landing_index` null) or a landing: `log_sha256` and any of the context columns.
    runways : the runway table.
    policy : the rules verdicts depend on.
    constants : what was learned of gear and instruments, one version an installation; None where nothing was.

    Returns
    -------
    Frames with every column of their schemas, rows in the order of the recordings and of time; empty where nothing
    was found. Nulls carry a reason; nothing is NaN.
    """
    counted: Counter[tuple[str, str]] = Counter()
    known = Known(context, runways, policy)
    learned = pl.DataFrame(schema=CONSTANTS) if constants is None else constants
    parts = [_measured(prepare(group, known, counted), known, learned) for group in groups(recordings)]
    return Measured(
        **{
            name: pl.concat([pl.DataFrame(schema=schema), *(getattr(part, name) for part in parts)])
            for name, schema in _SCHEMAS.items()
        },
        channel_quality=quality_frame(part.channel_quality for part in parts),
    )


def _measured(ready: Prepared, known: Known, constants: pl.DataFrame) -> Measured:
    if ready.window is None:
        nothing = {name: pl.DataFrame(schema=schema) for name, schema in _SCHEMAS.items()}
        return Measured(**nothing, channel_quality=ready.quality)
    group, rows = ready.group, ready.rows
    before, version = installed(ready.installations, constants)
    fit = contact_fit(ready.window, ready.one_touch, before)
    found, window = fitted(ready.found, ready.window, fit)
    measures = measure_window(window, fit, [f.approach.touches_s for f in found], known.policy)
    rests_on = versions(group, found, known.policy, rows, known.runways) | {"constants": version}
    landings = landing_frame(group, found, rows, measures, window, rests_on)
    contacts = contact_frame(landings, [f.approach for f in found], window)
    return Measured(
        landings=landings,
        contacts=contacts,
        gates=gate_frame(landings, measures.gates, window),
        expected=approach_expected(landings, known.policy),
        faults=judge_faults(
            landings,
            known.policy,
            contacts=contacts,
            flown=flown(landings, contacts, measures.wheel_height_coarse, window),
        ),
        traces=trace_frame(landings, window, measures),
        channel_quality=ready.quality,
    )

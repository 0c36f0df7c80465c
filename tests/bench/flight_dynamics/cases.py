"""Landings with their truth, flown once and kept in a folder outside the project; recordings and tables beside.

::

    landings = cases.landings("tuning", count=220, seed=1)
    batch = cases.recorded(landings, band="8 Hz and more")
    measured = measure_batch(batch.recordings, batch.context, runways=batch.runways, policy=batch.policy)
    truth = cases.truth_frame(landings)  # joins batch.index on half and number
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import polars as pl
from flight_dynamics import tables
from flight_dynamics.drawing import draw
from flight_dynamics.field import LENGTH_FT
from flight_dynamics.kept import fill, folder, kept
from flight_dynamics.recorder import record
from flight_dynamics.recorders import recorder
from flight_dynamics.scenario import Scenario
from flight_dynamics.traces import Trace
from flight_dynamics.truth import Truth, truth_of

from pipeline.policy import Policy
from pipeline.recording import Recording

__all__ = ["Batch", "Landing", "fill", "folder", "landings", "recorded", "truth_frame"]


@dataclass(frozen=True)
class Landing:
    """One flight: its plan, its noise-free trace and what is true of it."""

    plan: Scenario
    trace: Trace
    truth: Truth


@dataclass(frozen=True)
class Batch:
    """What `measure_batch` takes; `index` joins log_sha256 to half, number, airframe, kind, recorder and band."""

    recordings: list[Recording]
    context: pl.DataFrame
    runways: pl.DataFrame
    policy: Policy
    index: pl.DataFrame


def landings(half: str, *, count: int, seed: int = 1, processes: int = 2) -> list[Landing]:
    """The first `count` flights of a half, flown where they are not kept already; what came to nothing is left out."""
    fill(half, count=count, seed=seed, processes=processes)
    flown = (_landing(draw(half, number, seed), seed) for number in range(count))
    return [one for one in flown if _on_runway(one)]


def _on_runway(one: Landing) -> bool:
    """Whether the pilot landed on the runway or meant to go around; in heavy turbulence one in hundreds did neither."""
    where = one.truth.values.get("touchdown_distance_ft")
    return bool(np.isfinite(one.trace.events["go"])) if where is None else 0.0 <= where <= LENGTH_FT


def _landing(plan: Scenario, seed: int) -> Landing:
    flown = kept(plan, seed)
    vref, target = tables.speeds(plan)
    return Landing(plan, flown, truth_of(flown, vref_kt=vref, target_kt=target))


def recorded(some: Sequence[Landing], *, band: str) -> Batch:
    """Every landing as one recorder of the band kept it; the recorders of an airframe take turns."""
    chosen = [recorder(one.plan.airframe, band, one.plan.number % 3) for one in some]
    recordings = [record(one.trace, one.plan, of) for one, of in zip(some, chosen, strict=True)]
    index = pl.DataFrame(
        {
            "log_sha256": [r.log_sha256 for r in recordings],
            "half": [one.plan.half for one in some],
            "number": [one.plan.number for one in some],
            "airframe": [one.plan.airframe for one in some],
            "kind": [one.plan.kind for one in some],
            "recorder": [of.name for of in chosen],
            "band": band,
            "has_switch": ["switch" in of.rates for of in chosen],
        }
    )
    plans = [one.plan for one in some]
    return Batch(recordings, tables.context(plans, index), tables.runways(plans), tables.policy(), index)


def truth_frame(some: Sequence[Landing]) -> pl.DataFrame:
    """One row a landing: half, number, `true_outcome`, and `true_<measure>`, null where it did not happen."""
    rows = [
        {"half": one.plan.half, "number": one.plan.number, "true_outcome": one.truth.outcome}
        | {f"true_{name}": float(value) for name, value in one.truth.values.items()}
        for one in some
    ]
    return pl.DataFrame(rows, infer_schema_length=None).with_columns(pl.selectors.float().fill_nan(None))

"""The landing's own twins: one landing and its pilot's others in, those that came in alike and ended otherwise out.

Twins are alike in their state at the threshold, within what the recorder can tell or a small part of the pilot's own
scatter. Where none is alike enough there is no true twin, and the nearest is not passed off as one.
"""

from dataclasses import dataclass

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.recording import Floats
from pipeline.statistics.eligible import eligible

Mask = NDArray[np.bool_]

STATE = (
    "threshold_height_ft",
    "threshold_speed_over_vref_kt",
    "threshold_sink_fpm",
    "threshold_headwind_kt",
    "threshold_crosswind_kt",
)
"""State in which twins are alike, where the log has it; the first three are needed."""

NEEDED = 3
LEAST_LANDINGS = 20
"""Fewer other landings of the pilot in the type tell no scatter of his own: our own choice."""

ALIKE = 0.75
"""Spreads of the pilot that a twin may differ by in any part of the state, or twice its uncertainty if that is more."""

OTHERWISE = {"vertical_speed_at_contact_fpm": 60.0, "touchdown_distance_ft": 300.0}
"""Difference of an outcome that a person would see as another landing: our own choice."""

MOST = 3
SURE = 2.0

SCHEMA: dict[str, type[pl.DataType]] = {
    "landing_id": pl.String,
    "twin_id": pl.String,
    "outcome": pl.String,
    "distance": pl.Float64,
    "difference": pl.Float64,
    "difference_u": pl.Float64,
}
"""One row a twin, nearest first: `distance` is the root mean square of differing in spreads of the pilot's state;
`difference` is the twin's outcome less the landing's, in the outcome's unit."""


@dataclass(frozen=True)
class Twins:
    """`rows`: columns of SCHEMA, at most three; `statement` says why there is none, or how alike they are."""

    rows: pl.DataFrame
    statement: str


def twins(landings: pl.DataFrame, *, landing_id: str, outcome: str) -> Twins:
    """Find the landings of the same pilot in the same type that came in alike and ended otherwise.

    Parameters
    ----------
    landings : a landing frame with the landing and its pilot's others; the eligible ones can be twins.
    outcome : one of OTHERWISE.
    """
    one = landings.filter(pl.col("landing_id") == landing_id)
    state = [c for c in STATE if one.height and one[c][0] is not None]
    if not set(STATE[:NEEDED]) <= set(state) or one[outcome][0] is None:
        return _none("No true twin: the state at the threshold or the outcome is not known.")
    own = eligible(landings).filter(
        pl.col("pilot") == one["pilot"][0],
        pl.col("aircraft_type").eq_missing(one["aircraft_type"][0]),
        pl.col("landing_id") != landing_id,
    )
    own = own.drop_nulls([*state, outcome])
    if own.height < LEAST_LANDINGS:
        return _none(f"No true twin: {own.height} other landings to look among, {LEAST_LANDINGS} are needed.")
    distance, alike = _alike(_numbers(own, state), _numbers(one, state))
    difference = own[outcome].to_numpy() - float(one[outcome][0])
    difference_u = np.hypot(_u(own, outcome), _u(one, outcome))
    otherwise = np.abs(difference) > np.maximum(OTHERWISE[outcome], SURE * difference_u)
    return _told(own, landing_id, outcome, np.column_stack([distance, difference, difference_u]), alike & otherwise)


def _none(why: str) -> Twins:
    return Twins(pl.DataFrame(schema=SCHEMA), why)


def _u(frame: pl.DataFrame, measure: str) -> Floats:
    name = f"{measure}_u"
    return frame[name].fill_null(0.0).to_numpy() if name in frame.columns else np.zeros(frame.height)


def _numbers(frame: pl.DataFrame, state: list[str]) -> tuple[Floats, Floats]:
    """State and its uncertainty, (n, s) each."""
    return frame.select(state).cast(pl.Float64).to_numpy(), np.column_stack([_u(frame, c) for c in state])


def _alike(own: tuple[Floats, Floats], one: tuple[Floats, Floats]) -> tuple[Floats, Mask]:
    """Distance in spreads (n,), and whether no part of the state differs by more than a twin's may (n,)."""
    low, high = np.quantile(own[0], [0.25, 0.75], axis=0)
    spread = np.maximum((high - low) / 1.349, 1e-9)
    apart = np.abs(own[0] - one[0])
    told = SURE * np.hypot(own[1], one[1])
    alike = (apart <= np.maximum(ALIKE * spread, np.minimum(told, spread))).all(axis=1)
    return np.sqrt(np.mean((apart / spread) ** 2, axis=1)), alike


def _told(own: pl.DataFrame, landing_id: str, outcome: str, found: Floats, is_twin: Mask) -> Twins:
    rows = own.select(
        landing_id=pl.lit(landing_id),
        twin_id="landing_id",
        outcome=pl.lit(outcome),
        distance=pl.Series(found[:, 0]),
        difference=pl.Series(found[:, 1]),
        difference_u=pl.Series(found[:, 2]),
    ).filter(pl.Series(is_twin))
    if rows.is_empty():
        return _none(f"No true twin among {own.height} landings: none came in alike and ended otherwise.")
    nearest = rows.sort("distance", "twin_id").head(MOST)
    apart = f"{nearest['distance'][0]:.1f} of the pilot's own spreads"
    return Twins(nearest, f"{rows.height} of {own.height} landings came in alike and ended otherwise; nearest {apart}.")

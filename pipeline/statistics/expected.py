"""What a landing's state leads one to expect: landings in, prediction intervals of their outcomes out.

The outcome is predicted from the state at the gate, and again at the threshold, by a model fitted without the landing's
own session; the interval is of residuals of landings that took no part either (split conformal: Lei et al. 2018, JASA
113:1094-1111), so that it holds whatever their distribution. Beside the outcome it says where the landing was made.
"""

import numpy as np
import polars as pl

from pipeline.recording import Floats
from pipeline.statistics.eligible import eligible, measured
from pipeline.statistics.outcome_model import fit_outcome, foretold
from pipeline.statistics.standing import Ints

SCHEMA: dict[str, type[pl.DataType]] = {
    "landing_id": pl.String,
    "pilot": pl.String,
    "outcome": pl.String,
    "stage": pl.String,
    "value": pl.Float64,
    "usual": pl.Float64,
    "expected": pl.Float64,
    "expected_low": pl.Float64,
    "expected_high": pl.Float64,
}
"""One row a landing, outcome and stage. `usual` is the outcome of a landing of this pilot and type in average state;
`expected` given the state at the stage, with its interval of 90 % for this landing. All in the outcome's unit."""

STAGES = {
    "gate": ("gate_500_speed_over_target_kt", "gate_500_glideslope_dots", "gate_500_sink_fpm", "gate_500_thrust_pct"),
    "threshold": ("threshold_height_ft", "threshold_speed_over_vref_kt", "threshold_sink_fpm"),
}
"""State at each stage; conditions of the day are known at both."""

CONDITIONS = ("headwind_kt", "crosswind_kt", "gust_spread_kt", "density_ratio")
OUTCOMES = ("touchdown_distance_ft", "vertical_speed_at_contact_fpm")

LEAST_LANDINGS, LEAST_SESSIONS = 200, 40
"""Fewer landings of a type, or sessions, predict nothing: our own choice."""

FOLDS, SEED = 10, 20261125
COMMON = 0.6
_LEVELS = (0.05, 0.95)


def expected_landings(landings: pl.DataFrame) -> pl.DataFrame:
    """Predict every eligible landing's outcomes from each stage.

    Returns
    -------
    Columns of SCHEMA, by type, outcome, stage and flying order; a stage without one measure most landings have has no
    rows, nor has a type with too few landings.
    """
    kept = eligible(landings).with_columns(pl.col("aircraft_type").fill_null("not known"))
    parts = [pl.DataFrame(schema=SCHEMA)]
    for _, group in sorted(kept.partition_by("aircraft_type", as_dict=True, maintain_order=True).items()):
        for outcome in OUTCOMES:
            some = measured(group, outcome)
            parts += [_expected(some, outcome, stage) for stage in STAGES]
    return pl.concat(parts)


def _expected(some: pl.DataFrame, outcome: str, stage: str) -> pl.DataFrame:
    state = [c for c in STAGES[stage] if _common(some, c)]
    whole = some.drop_nulls(state)
    if not state or whole.height < LEAST_LANDINGS or whole["session"].n_unique() < LEAST_SESSIONS:
        return pl.DataFrame(schema=SCHEMA)
    conditions = [c for c in CONDITIONS if _common(whole, c)]
    filled = whole.select(*state, *(pl.col(c).fill_null(pl.col(c).mean()) for c in conditions))
    x = filled.cast(pl.Float64).to_numpy()
    pilot, session = (whole[c].rank("dense").to_numpy().astype(np.int64) - 1 for c in ("pilot", "session"))
    low, middle, high, usual = predicted(x, whole[outcome].to_numpy().astype(float), pilot=pilot, session=session)
    return whole.select(
        "landing_id",
        "pilot",
        outcome=pl.lit(outcome),
        stage=pl.lit(stage),
        value=pl.col(outcome).cast(pl.Float64),
        usual=pl.Series(usual),
        expected=pl.Series(middle),
        expected_low=pl.Series(low),
        expected_high=pl.Series(high),
    )


def _common(frame: pl.DataFrame, column: str) -> bool:
    return frame.height > 0 and frame[column].count() >= COMMON * frame.height


def predicted(x: Floats, y: Floats, *, pilot: Ints, session: Ints) -> tuple[Floats, Floats, Floats, Floats]:
    """Interval of 90 %, middle and usual value of each landing, from models that never saw its session.

    Parameters
    ----------
    x : (n, p) state and conditions, no NaN.
    y : (n,) outcomes.
    pilot, session : (n,) numbers.

    Returns
    -------
    low, middle, high, usual : (n,) each. A pilot of whom the model saw nothing has a wider interval.
    """
    fold = np.random.default_rng(SEED).permutation(int(session.max()) + 1)[session] % FOLDS
    middle, usual, scale = np.empty(y.size), np.empty(y.size), np.empty(y.size)
    for f in range(FOLDS):
        out = fold == f
        model = fit_outcome(x[~out], y[~out], pilot[~out], pilots=int(pilot.max()) + 1)
        middle[out], usual[out], scale[out] = foretold(model, x[out], pilot[out])
    z = (y - middle) / scale
    low, high = np.empty(y.size), np.empty(y.size)
    for f in range(FOLDS):
        out = fold == f
        low[out], high[out] = _outer(z[~out])
    return middle + low * scale, middle, middle + high * scale, usual


def _outer(z: Floats) -> tuple[float, float]:
    """The 5 and 95 % points of (n,) scaled residuals, a little outside, as a landing more would need."""
    ordered = np.sort(z)
    last = ordered.size - 1
    down, up = (int(np.floor(_LEVELS[0] * (last + 2))) - 1, int(np.ceil(_LEVELS[1] * (last + 2))) - 1)
    return float(ordered[max(down, 0)]), float(ordered[min(up, last)])

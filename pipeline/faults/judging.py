"""Measured landings in, the probability of each fault out."""

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.faults.derived import with_derived
from pipeline.faults.limits import applies, limits_for
from pipeline.faults.probability import SURE, UNSEEN, held, together
from pipeline.faults.rule import Beyond, Rule
from pipeline.faults.rules import FAULTS
from pipeline.policy import AircraftType, Policy

Floats = NDArray[np.float64]

SCHEMA: dict[str, type[pl.DataType]] = {
    "landing_id": pl.String,
    "fault": pl.String,
    "verdict": pl.String,
    "probability": pl.Float64,
    "value": pl.Float64,
    "value_u": pl.Float64,
    "limit_value": pl.Float64,
    "reason": pl.String,
}
"""One row a landing and fault that is judged for it. `verdict`: seen, not_seen or cannot_tell."""
INTENDED = "intended"
"""Why a fault that an intent lifts has no probability."""


def judge_faults(landings: pl.DataFrame, contacts: pl.DataFrame, policy: Policy) -> pl.DataFrame:
    """Judge every landing by every fault that applies to it.

    Technique is judged where the type names a profile, on landings without an exercise; automatic landings are not
    judged at all, and go-arounds only by the rules of the approach. What is not judged has no row.

    Returns
    -------
    Columns of SCHEMA. `probability` is null with a reason where the log, the type or the policy cannot tell.
    """
    wider = with_derived(landings.filter(pl.col("landing_mode") != "automatic"), contacts, policy)
    parts = [_judged(wider, name, rule, policy) for name, rule in FAULTS.items()]
    order = {name: place for place, name in enumerate(FAULTS)}
    found = pl.concat([pl.DataFrame(schema=SCHEMA), *parts])
    return found.sort("landing_id", pl.col("fault").replace_strict(order, default=0), maintain_order=True)


def _judged(landings: pl.DataFrame, name: str, rule: Rule, policy: Policy) -> pl.DataFrame:
    kinds = {kind: policy.types.get(kind or "", AircraftType()) for kind in landings["aircraft_type"].unique()}
    for_type = {kind: applies(name, rule, known, policy) for kind, known in kinds.items()}
    judged = pl.Series([for_type[kind] for kind in landings["aircraft_type"]], dtype=pl.Boolean)
    flown = pl.lit(rule.phase == "approach") | pl.col("landing_index").is_not_null()
    usual = pl.lit(not rule.technique) | (pl.col("exercise").fill_null("normal") == "normal")
    some = landings.filter(judged).filter(flown & usual)
    if some.is_empty():
        return pl.DataFrame(schema=SCHEMA)
    limits = {kind: limits_for(name, rule, known, policy) for kind, known in kinds.items()}
    parts = []
    for condition in rule.conditions:
        limit = np.full(some.height, np.nan)
        if isinstance(condition, Beyond):
            each = [limits[kind].get(condition.limit) for kind in some["aircraft_type"]]
            limit = np.array([np.nan if value is None else value for value in each], dtype=float)
        parts.append(held(some, condition, limit))
    found = together(parts, either=rule.either)
    lifted = (some["intent"] == (rule.lifted_by or "")).fill_null(value=False).to_numpy()
    probability = np.where(lifted, np.nan, found.probability)
    return pl.DataFrame(
        {
            "landing_id": some["landing_id"],
            "fault": [name] * some.height,
            "verdict": _verdicts(probability),
            "probability": probability,
            "value": found.value,
            "value_u": found.value_u,
            "limit_value": found.limit,
            "reason": pl.Series(np.where(lifted, INTENDED, found.reason).tolist(), dtype=pl.String),
        },
        schema=SCHEMA,
    ).with_columns(
        pl.col("probability", "value", "value_u", "limit_value").fill_nan(None),
        pl.when(np.isnan(probability)).then("reason").alias("reason"),
    )


def _verdicts(probability: Floats) -> list[str]:
    """What a debrief says: seen where beyond doubt, not seen where there is none, else that it cannot tell."""
    return np.where(probability >= SURE, "seen", np.where(probability <= UNSEEN, "not_seen", "cannot_tell")).tolist()

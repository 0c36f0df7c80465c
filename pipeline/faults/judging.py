"""Measured landings in, the probability of each fault out."""

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.faults.derived import with_derived
from pipeline.faults.limits import applies, limit_of, limits_for
from pipeline.faults.probability import SURE, UNSEEN, Held, all_of, any_of, held
from pipeline.faults.rule import Beyond, Condition, Rule
from pipeline.faults.rules import FAULTS
from pipeline.policy import AircraftType, Policy

Floats = NDArray[np.float64]
Limits = dict[str | None, dict[str, float | None]]

SCHEMA: dict[str, type[pl.DataType]] = {
    "landing_id": pl.String,
    "fault": pl.String,
    "verdict": pl.String,
    "probability": pl.Float64,
    "value": pl.Float64,
    "value_u": pl.Float64,
    "limit_value": pl.Float64,
    "given": pl.Float64,
    "reason": pl.String,
}
"""One row a landing and fault that is judged for it. `verdict`: seen, not_seen or cannot_tell. `value` and
`limit_value` are of the first condition, `given` is the chance that the others hold, 1 where there are none."""
INTENDED = "intended"
"""Why a fault that an intent or an exercise lifts has no probability."""


def judge_faults(
    landings: pl.DataFrame, policy: Policy, *, contacts: pl.DataFrame, flown: pl.DataFrame
) -> pl.DataFrame:
    """Judge every landing by every fault that applies to it.

    Technique is judged where the type names a profile, on landings without an exercise; automatic landings and
    tailwheel types are not judged at all, and go-arounds only by the rules of the approach. What is not judged has no
    row.

    Parameters
    ----------
    landings, contacts : landing and contact frames.
    flown : what faults judge of the course, one row a landing.

    Returns
    -------
    Columns of SCHEMA. `probability` is null with a reason where the log, the type or the policy cannot tell, or where
    an intent or exercise lifts the fault.
    """
    by_hand = pl.col("landing_mode").fill_null("unknown") != "automatic"
    wider = with_derived(landings.filter(by_hand), contacts, flown, policy)
    parts = [_judged(wider, name, rule, policy) for name, rule in FAULTS.items()]
    order = {name: place for place, name in enumerate(FAULTS)}
    found = pl.concat([pl.DataFrame(schema=SCHEMA), *parts])
    return found.sort("landing_id", pl.col("fault").replace_strict(order, default=0), maintain_order=True)


def _judged(landings: pl.DataFrame, name: str, rule: Rule, policy: Policy) -> pl.DataFrame:
    kinds = {kind: policy.types.get(kind or "", AircraftType()) for kind in landings["aircraft_type"].unique()}
    some = landings.filter(_flown_for(rule), _of_kinds(landings, name, rule, policy, kinds))
    if some.is_empty():
        return pl.DataFrame(schema=SCHEMA)
    found = chances(some, rule, {kind: limits_for(name, rule, known, policy) for kind, known in kinds.items()})
    lifted = some.select(pl.any_horizontal(pl.col("intent", "exercise").is_in(rule.lifted_by).fill_null(value=False)))
    is_lifted = lifted.to_series().to_numpy()
    probability = np.where(is_lifted, np.nan, found.probability)
    reason = np.where(is_lifted, INTENDED, found.reason)
    reason[~np.isnan(probability)] = None
    return pl.DataFrame(
        {
            "landing_id": some["landing_id"],
            "fault": [name] * some.height,
            "verdict": _verdicts(probability),
            "probability": probability,
            "value": found.value,
            "value_u": found.value_u,
            "limit_value": found.limit,
            "given": found.given,
            "reason": pl.Series(reason.tolist(), dtype=pl.String),
        },
        schema=SCHEMA,
    ).with_columns(pl.selectors.float().fill_nan(None))


def _flown_for(rule: Rule) -> pl.Expr:
    """Landings, and for rules of the approach go-arounds too; technique without exercises; where the rule is judged."""
    ends = pl.lit(rule.phase == "approach") | pl.col("landing_index").is_not_null()
    usual = pl.lit(not rule.technique) | (pl.col("exercise").fill_null("normal") == "normal")
    return ends & usual & pl.col("device").fill_null("aircraft").is_in(rule.devices)


def _of_kinds(
    landings: pl.DataFrame, name: str, rule: Rule, policy: Policy, kinds: dict[str | None, AircraftType]
) -> pl.Series:
    judged = {kind: applies(name, rule, known, policy) for kind, known in kinds.items()}
    return pl.Series([judged[kind] for kind in landings["aircraft_type"]], dtype=pl.Boolean)


def chances(landings: pl.DataFrame, rule: Rule, limits: Limits) -> Held:
    """How probable a rule's conditions are together, for landings that have every column the rule rests on.

    `limits` : by aircraft type, then by the limit's name.
    """

    def one(condition: Condition) -> Held:
        none = np.full(landings.height, np.nan)
        limit = limit_of(landings, condition.limit, limits) if isinstance(condition, Beyond) else none
        return held(landings, condition, limit)

    parts = [part if isinstance(part, tuple) else (part,) for part in rule.conditions]
    return all_of([any_of([one(condition) for condition in part]) for part in parts])


def _verdicts(probability: Floats) -> list[str]:
    """What a debrief says: seen where beyond doubt, not seen where there is none, else that it cannot tell."""
    return np.where(probability >= SURE, "seen", np.where(probability <= UNSEEN, "not_seen", "cannot_tell")).tolist()

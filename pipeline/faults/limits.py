"""The limits of a fault: as shipped, as the profile has them, as type and policy say, as the operator set them."""

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.faults.derived import QUICK_HZ
from pipeline.faults.rule import Beyond, Rule
from pipeline.policy import AircraftType, Policy

Floats = NDArray[np.float64]

OF_TYPE = ("crab_max_deg", "crosswind_max_kt", "tailwind_max_kt")
"""Limits that are fields of the aircraft type."""
OF_POLICY = ("zone_start_ft", "zone_end_ft", "zone_fraction", "hard_fpm", "sampled_g_8hz", "sampled_g_16hz")
"""Limits that are fields of the policy's own."""
_MADE_OF = {"sampled_g": ("sampled_g_8hz", "sampled_g_16hz"), "zone_end_ft": ("zone_end_ft", "zone_fraction")}
"""Limits that are made of several for each landing."""


def limits_for(name: str, rule: Rule, kind: AircraftType, policy: Policy) -> dict[str, float | None]:
    """Limits of the rule `name` by name; None where the type or the policy does not say."""
    own: dict[str, float | None] = dict(rule.limits)
    own |= rule.by_profile.get(kind.profile, {}) if kind.profile else {}  # type: ignore[call-overload]
    own |= {field: getattr(kind, field) for field in OF_TYPE}
    own |= {field: getattr(policy.limits, field) for field in OF_POLICY}
    changed = policy.faults.get(name)
    return own | (dict(changed.limits) if changed else {})


def limit_names(rule: Rule) -> tuple[str, ...]:
    """Names of every limit a rule is judged by, as the settings may change them."""
    asked = [c.limit for c in rule.every_condition() if isinstance(c, Beyond)]
    names = [name for limit in asked for name in (_MADE_OF.get(limit) or (limit,))]
    return tuple(dict.fromkeys(names))


def limit_of(landings: pl.DataFrame, limit: str, by_kind: dict[str | None, dict[str, float | None]]) -> Floats:
    """One limit of each landing by its type, (n,); NaN where nothing says.

    `zone_end_ft` is not beyond the share `zone_fraction` of the landing distance available, where that is known.
    `hard_fpm` is a sink and compares with vertical speed, positive up. `sampled_g` is that of the recorder's rate.
    """
    if limit == "sampled_g":
        quick = (landings["normal_accel_rate_hz"] >= QUICK_HZ).fill_null(value=False).to_numpy()
        usual = _by_type(landings, "sampled_g_8hz", by_kind)
        return np.where(quick, _by_type(landings, "sampled_g_16hz", by_kind), usual)
    value = _by_type(landings, limit, by_kind)
    if limit == "hard_fpm":
        return -value
    if limit == "zone_end_ft":
        available = (landings["touchdown_distance_ft"] + landings["runway_remaining_ft"]).fill_null(np.inf).to_numpy()
        return np.minimum(value, _by_type(landings, "zone_fraction", by_kind) * available)
    return value


def _by_type(landings: pl.DataFrame, limit: str, by_kind: dict[str | None, dict[str, float | None]]) -> Floats:
    each = [by_kind[kind].get(limit) for kind in landings["aircraft_type"]]
    return np.array([np.nan if value is None else value for value in each], dtype=float)


def applies(name: str, rule: Rule, kind: AircraftType, policy: Policy) -> bool:
    """Whether the rule is judged for a type at all; nothing is judged of tailwheel, ski or float contact."""
    changed = policy.faults.get(name)
    if kind.tailwheel or (changed and not changed.judged):
        return False
    if rule.needs is not None and getattr(kind, rule.needs) is None:
        return False
    return not rule.technique or kind.profile in rule.profiles

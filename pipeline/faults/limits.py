"""The limits a fault has for one aircraft type: as shipped, as its profile has them, as the operator set them."""

from pipeline.faults.rule import Rule
from pipeline.policy import AircraftType, Policy

_OF_TYPE = ("crab_max_deg", "crosswind_max_kt", "tailwind_max_kt")
"""Limits that are fields of the aircraft type."""
_OF_POLICY = {"zone_start_ft": "zone_start_ft", "zone_end_ft": "zone_end_ft"}


def limits_for(name: str, rule: Rule, kind: AircraftType, policy: Policy) -> dict[str, float | None]:
    """Limits of the rule `name` by name; None where the type or the policy does not say."""
    own: dict[str, float | None] = dict(rule.limits)
    own |= rule.by_profile.get(kind.profile, {}) if kind.profile else {}  # type: ignore[call-overload]
    own |= {field: getattr(kind, field) for field in _OF_TYPE}
    own |= {field: getattr(policy.limits, source) for field, source in _OF_POLICY.items()}
    own |= {"zone_pct": 100.0 * policy.limits.zone_fraction, "hard_fpm": -policy.limits.hard_fpm}
    changed = policy.faults.get(name)
    return own | (dict(changed.limits) if changed else {})


def applies(name: str, rule: Rule, kind: AircraftType, policy: Policy) -> bool:
    """Whether the rule is judged for landings of a type at all."""
    changed = policy.faults.get(name)
    if changed and not changed.judged:
        return False
    return not rule.technique or (kind.profile in rule.profiles and not kind.tailwheel)

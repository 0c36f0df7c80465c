"""`roundout faults`: what each fault is judged by, for which types, with which limits, and what is published of it."""

from collections.abc import Iterator

from flows.commands.terminal import JsonOption, say, say_json
from pipeline.errors import SettingsError
from pipeline.faults.limits import limit_names, limits_for
from pipeline.faults.rule import EVERY, Beyond, Condition, Is, Rule
from pipeline.faults.rules import FAULTS
from pipeline.policy import AircraftType, Policy
from reports.faults import remedy


def faults(*names: str, json: JsonOption = False) -> int:
    """Say what each fault is judged by, with which limits as shipped, and what is published about it.

    The settings change a limit or leave a fault unjudged: [policy.faults.NAME] with `judged` and `limits`.

    Parameters
    ----------
    names
        Parts of names: only faults whose name holds one of them.
    """
    for part in names:
        if not any(part in name for name in FAULTS):
            message = f'no fault\'s name holds "{part}"; roundout faults lists all'
            raise SettingsError(message)
    chosen = {name: rule for name, rule in FAULTS.items() if not names or any(part in name for part in names)}
    if json:
        say_json({"faults": [_row(name, rule) for name, rule in chosen.items()]})
        return 0
    for name, rule in chosen.items():
        for line in _lines(name, rule):
            say(line)
    return 0


def _lines(name: str, rule: Rule) -> Iterator[str]:
    yield f"{name}: {rule.words}"
    yield f"  judged for: {', '.join(rule.profiles) if rule.technique else 'every type but tailwheel, ski and float'}"
    yield f"  where: {' and '.join(_said(part) for part in rule.conditions)}"
    for profile, limits in _limits(name, rule).items():
        if limits:
            yield f"  limits, {profile}: {', '.join(f'{k} = {v:g}' for k, v in limits.items())}"
    if rule.lifted_by:
        yield f"  lifted by: {', '.join(rule.lifted_by)}"
    yield f"  {remedy(rule)}"
    yield ""


def _said(part: Condition | tuple[Condition, ...]) -> str:
    if isinstance(part, tuple):
        return f"({' or '.join(_said(one) for one in part)})"
    if isinstance(part, Beyond):
        return f"{part.measure} {part.side} {part.limit}"
    if isinstance(part, Is):
        return f"{part.measure} {'has' if isinstance(part.value, str) else 'is'} {str(part.value).lower()}"
    return f"{part.measure} not reached"


def _limits(name: str, rule: Rule) -> dict[str, dict[str, float]]:
    """Shipped limits by profile; limits that only a type can give are left out."""
    asked = limit_names(rule)
    found: dict[str, dict[str, float]] = {}
    for profile in rule.profiles if rule.technique else EVERY:
        limits = limits_for(name, rule, AircraftType(profile=profile), Policy())
        found[profile] = {key: value for key in asked if (value := limits.get(key)) is not None}
    same = {tuple(limits.items()) for limits in found.values()}
    return found if len(same) > 1 else {"every profile": next(iter(found.values()))}


def _row(name: str, rule: Rule) -> dict[str, object]:
    return {
        "fault": name,
        "words": rule.words,
        "profiles": list(rule.profiles) if rule.technique else None,
        "where": " and ".join(_said(part) for part in rule.conditions),
        "limits": _limits(name, rule),
        "lifted_by": list(rule.lifted_by),
        "remedy": rule.remedy,
        "source": rule.source,
        "caution": rule.caution,
    }

"""Checks in, the channels not to be believed out: the guilty one where a third can tell, else both of a pair."""

from collections.abc import Collection, Iterable, Mapping, Sequence

from pipeline.channels import CHANNELS
from pipeline.quality.check import Check, titled

_TOGETHER = {"latitude_deg": "longitude_deg", "longitude_deg": "latitude_deg"}
"""A position is two channels, of which neither is good without the other."""
_EITHER = "which of them is wrong nothing in the log tells"


def suspects(
    checks: Sequence[Check], *, blamed: Mapping[str, str] | None = None, trusted: Collection[str] = ()
) -> dict[str, str]:
    """Channels to be suspected, each with the reason in words.

    `blamed`: channel -> reason, where other evidence than these checks names the guilty one of a pair. `trusted`:
    channels that agreed with others in earlier checks.

    A channel that fails by itself is guilty. Of a failing pair that channel is guilty which disagrees with more
    others, or has no other that agrees with it while its partner has; where neither tells, both are suspect, and with
    them every other that agrees with none.
    """
    found: dict[str, str] = {}
    for check in sorted(checks, key=lambda c: bool(c.rests_on)):
        if check.passed is False and len(check.channels) == 1 and not any(name in found for name in check.rests_on):
            found.setdefault(check.channels[0], _own_reason(check, checks))
    pairs = [check for check in checks if len(check.channels) > 1]
    while open_ := [c for c in pairs if c.passed is False and not any(name in found for name in c.channels)]:
        known = [c for c in checks if not any(name in found for name in _parties(c))]
        worst = max(open_, key=lambda c: max(_against(name, known) for name in c.channels))
        guilty = _guilty(worst, known, trusted) or _named(worst, blamed or {})
        if guilty is not None:
            found[guilty] = _reason(guilty, known)
        else:
            found |= {name: f"{_reason(name, known)}; {_EITHER}" for name in _lonely(worst, known)}
    for name, other in _TOGETHER.items():
        if name in found:
            found.setdefault(other, found[name])
    return {name: found[name] for name in CHANNELS if name in found}


def agreeing(checks: Iterable[Check]) -> set[str]:
    """Channels that agree with another."""
    return {name for c in checks if c.passed and len(_parties(c)) > 1 for name in _parties(c)}


def _parties(check: Check) -> set[str]:
    return {*check.channels, *check.rests_on}


def _against(name: str, checks: Sequence[Check]) -> int:
    """How many others a channel disagrees with."""
    return len({other for c in checks if c.passed is False and name in c.channels for other in c.channels} - {name})


def _with(name: str, checks: Sequence[Check], trusted: Collection[str]) -> int:
    """How many others a channel agrees with, here or before."""
    here = {other for c in checks if c.passed and name in _parties(c) for other in _parties(c)} - {name}
    return len(here) + (name in trusted)


def _guilty(check: Check, checks: Sequence[Check], trusted: Collection[str]) -> str | None:
    first, second = check.channels
    against = _against(first, checks) - _against(second, checks)
    told = against or _with(second, checks, trusted) - _with(first, checks, trusted)
    if not told:
        return None
    return first if told > 0 else second


def _lonely(check: Check, checks: Sequence[Check]) -> list[str]:
    """Both channels of a check, and those that disagree with them and agree with none."""
    near = {n for c in checks if c.passed is False and set(c.channels) & set(check.channels) for n in c.channels}
    return [n for n in near if n in check.channels or not _with(n, checks, ())]


def _named(check: Check, blamed: Mapping[str, str]) -> str | None:
    return next((name for name in check.channels if name in blamed), None)


def _own_reason(check: Check, checks: Sequence[Check]) -> str:
    """What a check of one channel says; where another check knows the likely mistake, what that one says."""
    name = check.channels[0]
    words = check.reason(name)
    if words.endswith("?"):
        return words
    others = (c.reason(name) for c in checks if c.passed is False and len(c.channels) > 1 and c.channels[0] == name)
    return next((other for other in others if other.endswith("?")), words)


def _reason(guilty: str, checks: Sequence[Check]) -> str:
    """Say what the failing checks of a channel say of it, the others that say the same named together."""
    failing = [c for c in checks if c.passed is False and guilty in c.channels]
    words = failing[0].reason(guilty)
    others = [titled(name) for c in failing[1:] for name in c.channels if name != guilty]
    head, says, tail = words.partition(" says")
    if says and others and not failing[0].wrong:
        return f"{head} and {' and '.join(dict.fromkeys(others))} say{tail}"
    return words

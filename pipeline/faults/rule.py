"""What a fault is made of: conditions on measures, limits, whom it applies to, and what is published about it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Profile = Literal["jet", "turboprop", "light"]
EVERY: tuple[Profile, ...] = ("jet", "turboprop", "light")
Phase = Literal["approach", "threshold", "flare", "thrust", "contact", "rollout"]


@dataclass(frozen=True)
class Beyond:
    """A number is above or below a limit; `limit` names it among the rule's limits, or a field of the type."""

    measure: str
    side: Literal["above", "below"]
    limit: str


@dataclass(frozen=True)
class Is:
    """A flag is true or false, or a text says `value`; a list of names, apart by blanks, has it among them."""

    measure: str
    value: bool | str


@dataclass(frozen=True)
class Never:
    """A measure is null because what it measures was not reached."""

    measure: str


Condition = Beyond | Is | Never


@dataclass(frozen=True)
class Rule:
    """One fault.

    `words` is what a debrief says was seen. All of `conditions` must hold, or any of them where `either`. `limits` are
    defaults by name; `by_profile` has those of one profile. `technique`: a way of flying, judged only where the type
    names a profile among `profiles`; the rest are outcomes and rules of the approach, judged for every type.
    `lifted_by`: an intent that lifts the fault. `remedy` is in our own words after `source`; without one it is common
    practice.
    """

    words: str
    phase: Phase
    conditions: tuple[Condition, ...]
    remedy: str
    source: str = "common practice"
    caution: str = ""
    limits: Mapping[str, float] = field(default_factory=dict)
    by_profile: Mapping[Profile, Mapping[str, float]] = field(default_factory=dict)
    profiles: tuple[Profile, ...] = EVERY
    technique: bool = True
    either: bool = False
    lifted_by: str | None = None

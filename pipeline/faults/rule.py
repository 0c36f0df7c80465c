"""What a fault is made of: conditions on measures, limits, whom it applies to, and what is published about it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

Profile = Literal["jet", "turboprop", "light"]
EVERY: tuple[Profile, ...] = ("jet", "turboprop", "light")
Phase = Literal["approach", "threshold", "flare", "thrust", "contact", "rollout"]
DEVICES = ("aircraft", "qualified_simulator", "desktop_simulator")


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

    `words` is what a debrief says was seen. All of `conditions` must hold; of conditions in a tuple of their own any
    one. The first is the one a page shows: a number beyond its limit where the fault is a matter of one. `limits` are
    defaults by name; `by_profile` has those of one profile. `technique`: a way of flying, judged only where the type
    names a profile among `profiles` and no exercise was flown; the rest are outcomes and rules of the approach.
    `needs`: what the type must state for the fault to apply at all. `lifted_by`: intents and exercises that lift the
    fault. `devices`: where it is judged. `remedy` is in our own words after `source`; without one it is common
    practice.
    """

    words: str
    phase: Phase
    conditions: tuple[Condition | tuple[Condition, ...], ...]
    remedy: str
    source: str = "Common practice"
    caution: str = ""
    limits: Mapping[str, float] = field(default_factory=dict)
    by_profile: Mapping[Profile, Mapping[str, float]] = field(default_factory=dict)
    profiles: tuple[Profile, ...] = EVERY
    technique: bool = True
    needs: Literal["pod_roll_deg", "tip_roll_deg"] | None = None
    lifted_by: tuple[str, ...] = ()
    devices: tuple[str, ...] = DEVICES

    @property
    def shown(self) -> Condition:
        """The condition a page shows, and the one whose share is told."""
        first = self.conditions[0]
        return first[0] if isinstance(first, tuple) else first

    def every_condition(self) -> Iterator[Condition]:
        """All conditions, those of which any one is enough too."""
        for part in self.conditions:
            yield from part if isinstance(part, tuple) else (part,)

"""Every measure of a window, in one call.

Goes in: a window, the touches of each landing, the policy. Comes out: answers by measure name and the wheel height.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline.measures.air import air
from pipeline.measures.answers import Answer
from pipeline.measures.approach import approach
from pipeline.measures.approach_spread import approach_spread
from pipeline.measures.attitude import attitude
from pipeline.measures.automation import automation
from pipeline.measures.conditions import conditions
from pipeline.measures.contact import contact
from pipeline.measures.contact_fit import ContactFit
from pipeline.measures.contact_path import contact_path
from pipeline.measures.decrab import decrab
from pipeline.measures.derotation import derotation
from pipeline.measures.drift import drift
from pipeline.measures.firmest import firmest, settled
from pipeline.measures.flare import flare
from pipeline.measures.gate_height import gate_height, gate_height_u
from pipeline.measures.gates import GATES_FT, Judged, judge, no_gate, target_speed
from pipeline.measures.peak_acceleration import peak_acceleration
from pipeline.measures.rollout import roll, rollout
from pipeline.measures.rotation import rotation
from pipeline.measures.slowing import slowing
from pipeline.measures.stability import HELD_FROM_FT, not_held, stability
from pipeline.measures.threshold import threshold
from pipeline.measures.threshold_air import threshold_air
from pipeline.measures.thrust import closing, thrust
from pipeline.measures.touchdown import touchdown
from pipeline.measures.track import Track, track
from pipeline.measures.window import Window
from pipeline.policy import Policy

Floats = NDArray[np.float64]
Texts = NDArray[np.object_]


@dataclass(frozen=True)
class Measures:
    """`answers` by measure name, (n,) each; `wheel_height_coarse` (n, k) ft on the coarse grid; the policy's gates."""

    answers: dict[str, Answer]
    wheel_height_coarse: Floats
    gates: tuple[Judged, ...]


def measure_window(w: Window, fit: ContactFit, touches: Sequence[tuple[float, ...] | None], policy: Policy) -> Measures:
    """Measure every landing of the window; each answer is null with its reason where the log cannot support it."""
    ground = track(w)
    path = contact_path(w, fit, ground)
    height, source = gate_height(w, path, ground)
    turn = rotation(w, path.height_fine)
    found = conditions(w, height) | air(w)
    found |= approach(w, ground, gate_height=height)
    gates = _judged(w, height, source, policy, before=found)
    found |= _gates(w, gates)
    found |= approach_spread(w, ground, gate_height=height)
    found |= automation(w, gate_height=height)
    found |= threshold(w, path, ground, gate_height=height, gate_height_u=gate_height_u(w, source))
    found |= threshold_air(w, ground, before=found)
    found |= flare(w, path, turn, ground)
    found |= thrust(w, path, turn, closing(w))
    found |= decrab(w, path)
    found |= peak_acceleration(w, fit)
    found |= contact(w, path, ground, touches)
    found |= touchdown(w, ground, limits=policy.limits, before=found)
    found |= attitude(w, drift(w, ground), before=found)
    found |= _after_contact(w, touches, ground, found)
    return Measures(found, path.height_coarse, gates)


def _judged(
    w: Window, height: Floats, source: Texts, policy: Policy, *, before: dict[str, Answer]
) -> tuple[Judged, ...]:
    """Every gate of the policy; `before` has the headwind and the path the approach was flown at."""
    target = target_speed(
        w,
        before["headwind_kt"].number,
        headwind_part=policy.headwind_additive,
        gust_part=policy.gust_additive,
        additive_max_kt=policy.additive_max_kt,
    )
    path_deg = before["approach_path_deg"].number
    return tuple(judge(w, height, source, rule=rule, target=target, path_deg=path_deg) for rule in policy.gates)


def _gates(w: Window, gates: tuple[Judged, ...]) -> dict[str, Answer]:
    """The gates that are measures of their own, and what became of the approach below the lowest of them.

    Of several gates at a height above the threshold the first counts; null where the policy has none.
    """
    own = {gate.rule.height_ft: gate for gate in reversed(gates) if gate.rule.reference == "threshold"}
    found: dict[str, Answer] = {}
    for height_ft in GATES_FT:
        found |= own[height_ft].answers() if height_ft in own else no_gate(w.n, height_ft)
    held = own.get(HELD_FROM_FT)
    return found | (stability(w, held) if held else not_held(w.n))


def _after_contact(
    w: Window, touches: Sequence[tuple[float, ...] | None], ground: Track, found: dict[str, Answer]
) -> dict[str, Answer]:
    rolled = roll(w)
    return (
        firmest(w, touches, before=found)
        | settled(w, touches, track=ground, rolled=rolled, first=found["touchdown_distance_ft"])
        | derotation(w)
        | slowing(w)
        | rollout(w, rolled, ground)
    )

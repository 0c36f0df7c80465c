"""Every measure of a window, in one call.

Goes in: a window, the touches of each landing, the policy. Comes out: answers by measure name and the wheel height.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline.measures.answers import Answer
from pipeline.measures.approach import approach
from pipeline.measures.conditions import conditions
from pipeline.measures.contact import contact
from pipeline.measures.contact_path import contact_path
from pipeline.measures.flare import flare
from pipeline.measures.gate_height import gate_height
from pipeline.measures.gates import gate, target_speed
from pipeline.measures.rotation import rotation
from pipeline.measures.threshold import threshold
from pipeline.measures.thrust import closing, thrust
from pipeline.measures.touchdown import touchdown
from pipeline.measures.track import track
from pipeline.measures.window import Window
from pipeline.policy import Policy

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Measures:
    """`answers` by measure name, (n,) each; `wheel_height_coarse` (n, k) ft on the coarse grid."""

    answers: dict[str, Answer]
    wheel_height_coarse: Floats


def measure_window(w: Window, touches: Sequence[tuple[float, ...] | None], policy: Policy) -> Measures:
    """Measure every landing of the window; each answer is null with its reason where the log cannot support it."""
    path = contact_path(w)
    height, source = gate_height(w, path)
    ground = track(w)
    turn = rotation(w, path.height_fine)
    found = conditions(w, height)
    target = target_speed(
        w,
        np.asarray(found["headwind_kt"].value, dtype=float),
        headwind_part=policy.headwind_additive,
        gust_part=policy.gust_additive,
        additive_max_kt=policy.additive_max_kt,
    )
    for rule in policy.gates:
        found |= gate(w, height, source, rule=rule, target=target)
    found |= approach(w, ground, gate_height=height)
    found |= threshold(w, path, ground, gate_height=height)
    found |= flare(w, path, turn, ground)
    found |= thrust(w, path, turn, closing(w))
    found |= contact(w, path, ground, touches)
    found |= touchdown(w, ground, limits=policy.limits, before=found)
    return Measures(found, path.height_coarse)

"""Values that a channel held while the aircraft went on: a sensor or a bus that stood still, and then jumped.

Goes in: one channel's samples. Comes out: which of them were held.
"""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

NEVER_STILL = frozenset({"radio_height_ft", "vertical_speed_fpm", "pitch_deg", "roll_deg", "airspeed_kt"})
"""Channels that neither stand still in flight nor jump. Acceleration does both: calm air, then the wheels touch."""
_LEAST_S, _LEAST_SAMPLES = 2.5, 12
_GAP = 3.0
"""A jump across a gap of more intervals than this says nothing: the aircraft had time to move."""
_JUMP_STEPS = 8.0
"""A channel that was really still goes on by its usual steps: our own choice."""
_WHOLE_STEPS = 40
"""Below so many different values a channel is too coarse to tell still from frozen."""


def frozen(t: Floats, value: Floats) -> Bools | None:
    """Samples (n,) held for 2.5 s and more before a jump many times the channel's usual step; None without any.

    The first of a run was measured, and is none of them. A channel at zero rests, it is not frozen.
    """
    change = np.flatnonzero(value[1:] != value[:-1]) + 1
    if len(change) < _WHOLE_STEPS:
        return None
    jump = np.abs(value[change] - value[change - 1])
    usual = float(np.median(jump))
    begins = np.concatenate([[0], change[:-1]])
    lasted, samples = t[change - 1] - t[begins], change - begins
    gap = t[change] - t[change - 1] > _GAP * np.median(t[1:] - t[:-1])
    wrong = (
        ~gap
        & (lasted >= _LEAST_S)
        & (samples >= _LEAST_SAMPLES)
        & (jump > _JUMP_STEPS * usual)
        & (value[begins] != 0.0)
    )
    if not wrong.any():
        return None
    held = np.zeros(len(value), dtype=bool)
    for first, end in zip(begins[wrong], change[wrong], strict=True):
        held[first + 1 : end] = True
    return held

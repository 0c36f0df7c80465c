"""What the main gear does to the wheels' path in the first moments after contact, tabulated for a grid of gears.

Goes in: time since contact. Comes out: height, and acceleration by the gear as recorded and behind a 5 Hz low-pass, for
one unit of speed at contact, of acceleration at contact, and of that acceleration's rate.

The gear is a spring and a damper on the whole mass behind a tyre that lags: h'' = a + j u + f, f' = (s - f) / tyre with
s = -w^2 h - 2 d w h', and h(0) = 0, h'(0) = v. Until the
wheels leave the ground again it is linear in (v, a, j), so that each is tabulated once. Acceleration is seen through
the smoothing of tyre and recorder.
"""

from functools import cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.signal import butter, sosfilt

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

FREQUENCY_RAD_S = (3.0, 4.5, 7.0, 11.0, 17.0)
DAMPING = (0.2, 0.5, 1.0)
GEARS = np.array([(w, d) for w in FREQUENCY_RAD_S for d in DAMPING])
"""Natural frequency in rad/s and damping ratio of each gear of the grid, (g, 2)."""
USUAL_GEAR = 4
"""The gear that stands where no acceleration shows any and nothing was learned."""
_STEP_S = 1.0 / 512.0
_FROM_S, _TO_S = -0.25, 1.25
_TYRE_S = 0.06
"""Longest lag of the strut's force behind the tyre, which softens its onset: our own choice."""
_SMOOTHING_S = 0.02
"""Standard deviation of the smoothing by the recorder: our own choice."""


LOW_PASS_HZ, LOW_PASS_DELAY_S = 5.0, 0.045
"""The low-pass a peak is stated behind: second-order Butterworth; its delay of slow signals is sqrt(2) / (2 pi f)."""

Seen = Literal["height", "recorded", "low_passed"]


def pulse(gear: Ints, since_s: Floats, seen: Seen) -> Floats:
    """Response (3, ...) at `since_s` seconds after contact of gear number `gear`, broadcast together; 0 before contact.

    Per unit of speed, of acceleration and of its rate at contact: the wheels' `height`, or the gear's acceleration as
    `recorded` or `low_passed`.
    """
    table = _tables()[seen]
    place = np.clip((since_s - _FROM_S) / _STEP_S, 0.0, table.shape[2] - 1.001)
    return table[:, gear, place.astype(np.int64)]


def tyre_s(frequency_rad_s: Floats, damping: Floats) -> Floats:
    """Lag of the strut's force behind the tyre, s; never so long that the gear would ring ever louder."""
    return np.minimum(_TYRE_S, damping / frequency_rad_s)


@cache
def _tables() -> dict[Seen, Floats]:
    """Responses (3, g, s) on the table's own steps."""
    steps = int(round(_TO_S / _STEP_S)) + 1
    w, d = GEARS[:, 0], GEARS[:, 1]
    height = np.zeros((3, len(GEARS), steps))
    force = np.zeros_like(height)
    h, v = np.zeros((3, len(GEARS))), np.zeros((3, len(GEARS)))
    v[0] = 1.0
    felt = np.zeros_like(h)
    for i in range(steps):
        felt = felt + (-(w**2) * h - 2.0 * d * w * v - felt) * (1.0 - np.exp(-_STEP_S / tyre_s(w, d)))
        height[:, :, i], force[:, :, i] = h, felt
        push = np.array([0.0, 1.0, i * _STEP_S])[:, None]
        v = v + (force[:, :, i] + push) * _STEP_S
        h = h + v * _STEP_S
    before = int(round(-_FROM_S / _STEP_S))
    full = np.concatenate([np.zeros((3, len(GEARS), before)), force], axis=2)
    reach = int(4.0 * _SMOOTHING_S / _STEP_S)
    kernel = np.exp(-0.5 * (np.arange(-reach, reach + 1) * _STEP_S / _SMOOTHING_S) ** 2)
    return {
        "height": np.concatenate([np.zeros((3, len(GEARS), before)), height], axis=2),
        "recorded": np.apply_along_axis(np.convolve, 2, full, kernel / kernel.sum(), mode="same"),
        "low_passed": sosfilt(butter(2, LOW_PASS_HZ, fs=1.0 / _STEP_S, output="sos"), full, axis=2),
    }

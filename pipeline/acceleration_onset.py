"""What normal acceleration tells of a first contact: the sharp rise it begins with, and whether a gear was felt at all.

Goes in: a recording, and where height or switch put the contact. Comes out: the onset, and whether the gear pushed.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline.ground_height import GroundHeight
from pipeline.recording import Recording, Samples
from pipeline.rows import middle

_GUIDE_S = 0.15
"""Scatter of a radio height's zero beyond its stated uncertainty (antenna arm times pitch): our own choice."""
_ONSET_G = 0.06
"""Least rise of normal acceleration over its level before, that counts as an onset."""
_PUSH_G, _PUSH_NEAR_S, _SLOWEST_PUSH_S = 0.12, 0.7, 0.26
_LEVEL_FT, _LEVEL_S = 2.5, 2.0
"""What the gear's first push adds at least, near the moment height tells, and how level the wheels stay: own choice."""
_GAP = 4.0
"""A rise across more intervals than this is none: nothing shows what came between."""


def onset(
    recording: Recording,
    start_s: float,
    reached: tuple[float, float] | None,
    switch: tuple[float, float] | None,
) -> tuple[float, float] | None:
    """Sharpest rise of normal acceleration near where height, or the switch, puts the contact; s and uncertainty.

    Gusts make rises too: one far from where the height puts the contact must be the sharper to be taken.
    """
    samples = recording.channels.get("normal_accel_g")
    guide = reached or switch
    if samples is None or guide is None or len(samples.t) < 8:
        return None
    interval = middle(np.diff(samples.t))
    if interval > 0.26:
        return None
    low, high = max(guide[0] - 1.5, start_s), (switch[0] + switch[1] + interval if switch else guide[0] + 1.5)
    inside = np.flatnonzero((samples.t >= low) & (samples.t <= max(high, low + 1.0)))
    rises = _rises(samples, inside, interval)
    if not rises:
        return None
    guided = [size * np.exp(-0.5 * ((t - guide[0]) / np.hypot(guide[1], _GUIDE_S)) ** 2) for t, size in rises]
    return rises[int(np.argmax(guided))][0], float(np.hypot(0.35 * interval, 0.03))


def _rises(samples: Samples, inside: NDArray[np.intp], interval: float) -> list[tuple[float, float]]:
    """Sharp rises among the samples `inside`: time the rise begins, s, and its size over the least that counts."""
    width = max(int(round(1.0 / interval)), 4)
    quiet = samples.value[max(inside[0] - 3 * width, 0) : inside[0]] if len(inside) else samples.value[:0]
    noise = float(np.median(np.abs(np.diff(quiet)))) / 0.954 if len(quiet) > 3 else 0.02
    rise = max(_ONSET_G, 3.5 * noise)
    found = []
    for i in inside:
        before = samples.value[max(i - width, 0) : i]
        level = middle(before[:-1]) if len(before) > 2 else 1.0
        seen = i > 0 and samples.t[i] - samples.t[i - 1] < _GAP * interval
        step = samples.value[i] - samples.value[i - 1] if seen else 0.0
        if samples.value[i] - level > rise and step > 0.6 * rise:
            part = np.clip((samples.value[i] - level) / max(step, 1e-6), 0.3, 1.0)
            found.append((float(samples.t[i] - interval * part), float(step / rise)))
    return found


def pushed(recording: Recording, height: GroundHeight, reached: tuple[float, float] | None) -> bool:
    """Without a switch: whether a push of the gear is felt where height stops coming down, and stays level for a while.

    A touch-and-go never slows; a low pass feels no gear.
    """
    accel = recording.channels.get("normal_accel_g")
    if reached is None or accel is None or middle(np.diff(accel.t)) > _SLOWEST_PUSH_S:
        return False
    low, high = reached[0] - _PUSH_NEAR_S, reached[0] + _PUSH_NEAR_S
    about = accel.value[(accel.t >= low) & (accel.t <= high)]
    before = accel.value[(accel.t >= low - 1.5) & (accel.t < low)]
    after = height.above_ground[(height.t >= reached[0]) & (height.t <= reached[0] + _LEVEL_S)]
    if not len(about) or len(before) < 3 or len(after) < 3:
        return False
    felt = about.max() - np.median(before) >= max(_PUSH_G, 4.0 * float(np.std(before)))
    return bool(felt and after.max() - after.min() < _LEVEL_FT)

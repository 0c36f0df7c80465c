"""A channel's samples in, those that stand apart from its course out: single ones, and several of another aircraft."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Leap:
    """What no aircraft does: a step of more than `step`, plus `rate` a second of the time between, channel unit."""

    step: float
    rate: float
    turn: float = np.inf


LEAPS: dict[str, Leap] = {
    "radio_height_ft": Leap(200.0, 300.0),
    "pressure_altitude_ft": Leap(150.0, 300.0),
    "geometric_altitude_ft": Leap(150.0, 300.0),
    "vertical_speed_fpm": Leap(2500.0, 6000.0),
    "airspeed_kt": Leap(25.0, 30.0),
    "ground_speed_kt": Leap(25.0, 30.0),
    "pitch_deg": Leap(8.0, 40.0),
    "roll_deg": Leap(20.0, 90.0, 360.0),
    "heading_true_deg": Leap(30.0, 60.0, 360.0),
    "track_true_deg": Leap(60.0, 60.0, 360.0),
    "engine_speed_pct": Leap(30.0, 40.0),
    "latitude_deg": Leap(0.02, 0.005),
    "longitude_deg": Leap(0.02, 0.01, 360.0),
    "gross_weight_kg": Leap(2000.0, 200.0),
}
"""Our own choices, wide of what aircraft do. No acceleration is among them: the firmest landing looks like a spike."""
_LONE = {"radio_height_ft": 6.0, "pressure_altitude_ft": 80.0, "geometric_altitude_ft": 80.0}
"""How far a single sample must leave both its neighbours, channel unit: our own choice."""
_LONGEST_S = 30.0
_LARGEST_SHARE = 0.25
_MOST_PIECES = 400
_END_SAMPLES = 10


def apart(name: str, t: Floats, value: Floats) -> Bools | None:
    """Samples (n,) of a channel that stand apart from its course; None without any.

    The samples are cut into pieces at every leap, and the course is the chain of pieces, with no leap from one to the
    next, that holds most samples. What is left out is a spike where it lasts at most 30 s and is amid the course; a
    leap after which the channel stays where it is (a reposition) is none. Where more than a quarter of the samples
    would go nothing is said.
    """
    leap = LEAPS.get(name)
    if leap is None or len(value) < 5:
        return None
    cuts = np.flatnonzero(_leaps(leap, value[1:] - value[:-1], t[1:] - t[:-1])) + 1
    if not 0 < len(cuts) <= _MOST_PIECES:
        return None
    begins, ends = np.concatenate([[0], cuts]), np.concatenate([cuts, [len(value)]])
    chain = _longest_chain(leap, t, value, begins, ends)
    spikes = np.zeros(len(value), dtype=bool)
    for piece in range(len(begins)):
        first, end = begins[piece], ends[piece]
        amid = chain[0] < piece < chain[-1] or end - first <= _END_SAMPLES
        if piece not in chain and amid and t[end - 1] - t[first] <= _LONGEST_S:
            spikes[first:end] = True
    return spikes if 0 < spikes.sum() <= _LARGEST_SHARE * len(value) else None


def lone(name: str, value: Floats) -> Bools | None:
    """Single samples (n,) that leave the channel's course by more than its neighbours differ; None without any."""
    least = _LONE.get(name)
    if least is None or len(value) < 5:
        return None
    before, after = value[1:-1] - value[:-2], value[1:-1] - value[2:]
    away = np.minimum(np.abs(before), np.abs(after))
    alone = (before * after > 0.0) & (away > np.maximum(least, 3.0 * np.abs(value[2:] - value[:-2])))
    wrong = np.concatenate([[False], alone, [False]])
    return wrong if 0 < wrong.sum() <= _LARGEST_SHARE * len(value) else None


def _leaps(leap: Leap, change: Floats, time: Floats) -> Bools:
    size = np.abs(change)
    if np.isfinite(leap.turn):
        size = np.minimum(size % leap.turn, leap.turn - size % leap.turn)
    return np.asarray(size > leap.step + leap.rate * time, dtype=np.bool_)


def _longest_chain(leap: Leap, t: Floats, value: Floats, begins: Floats, ends: Floats) -> list[int]:
    """Pieces, in order, that hold most samples with no leap from the end of one to the beginning of the next."""
    held = (ends - begins).astype(float)
    before = np.full(len(begins), -1)
    for j in range(1, len(begins)):
        last = ends[:j] - 1
        joined = ~_leaps(leap, value[begins[j]] - value[last], t[begins[j]] - t[last])
        best = np.where(joined, held[:j], 0.0)
        if best.max() > 0.0:
            before[j] = int(np.argmax(best))
            held[j] += best.max()
    chain = [int(np.argmax(held))]
    while before[chain[-1]] >= 0:
        chain.append(int(before[chain[-1]]))
    return chain[::-1]

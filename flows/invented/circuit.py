"""Two flown approaches of one log go in; the circuit between them comes out: drawn, not simulated. SI, radians."""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from flows.invented.lane import COLUMN, Lane
from flows.invented.units import G

Floats = NDArray[np.float64]

BANK = np.radians(22.0)
STEP_M = 15.0
STRAIGHT_M = 250.0
"""Bank in the turns, spacing of the points drawn, straight flight before the first turn and after the last."""


def between(before: Lane, after: Lane) -> tuple[Floats, NDArray[np.float32]]:
    """Left-hand circuit from the last instant of `before` to the first of `after`.

    Returns
    -------
    t : (n,) s since the last instant of `before`; its last element is where `after` begins.
    values : (n, len(HISTORY)), the last row left out of neither lane.
    """
    a, b = before.values[-1].astype(np.float64), after.values[0].astype(np.float64)
    start = {name: float(a[index]) for name, index in COLUMN.items()}
    end = {name: float(b[index]) for name, index in COLUMN.items()}
    s, curvature = _plan_view(start, end)
    part = s / s[-1]
    speed = start["u"] + (end["u"] - start["u"]) * part
    t = np.concatenate([[0.0], np.cumsum(np.diff(s) * 2.0 / (speed[1:] + speed[:-1]))])
    track = -np.concatenate([[0.0], np.cumsum(0.5 * (curvature[1:] + curvature[:-1]) * np.diff(s))])
    height, slope = _profile(s, start, end)
    bank = -np.arctan(speed**2 * curvature / G)
    values = a + (b - a) * part[:, None]  # what is not drawn goes over evenly
    drawn = {
        "x": _shift(start["x"] + _along(np.cos(track), s), end["x"], part),
        "y": _shift(start["y"] + _along(np.sin(track), s), end["y"], part),
        "h": height,
        "w": slope * speed,
        "vs_lagged": slope * speed,
        "u": speed * np.cos(track),
        "v": speed * np.sin(track),
        "theta": start["theta"] * (1.0 - part) + end["theta"] * part + slope - _evenly(slope, part),
        "phi": bank,
        "psi": track + start["psi"] + (end["psi"] - start["psi"]) * part,
        "nz": 1.0 / np.cos(bank),
        "clean": start["clean"] * np.clip(1.0 - (part - 0.6) / 0.25, 0.0, 1.0),
    }
    for name, value in drawn.items():
        values[:, COLUMN[name]] = value
    return t, values.astype(np.float32)


def _plan_view(start: dict[str, float], end: dict[str, float]) -> tuple[Floats, Floats]:
    """Distance flown and curvature (positive left) at each point: straight, half turn, downwind, the same."""
    speed = 0.5 * (start["u"] + end["u"])
    tightest = G * np.tan(BANK) / speed**2
    roll_in = 4.0 * speed
    turn = np.pi / tightest + roll_in
    downwind = max(start["x"] - end["x"] + 2.0 * STRAIGHT_M, 200.0)
    edges = np.cumsum([0.0, STRAIGHT_M, turn, downwind, turn, STRAIGHT_M])
    s = np.linspace(0.0, edges[-1], int(edges[-1] / STEP_M) + 2)
    curvature = np.zeros_like(s)
    for first, last in ((edges[1], edges[2]), (edges[3], edges[4])):
        curvature += tightest * np.clip(np.minimum(s - first, last - s) / roll_in, 0.0, 1.0)
    return s, curvature


def _profile(s: Floats, start: dict[str, float], end: dict[str, float]) -> tuple[Floats, Floats]:
    """Height and its slope: climb to circuit height, level, begin the descent."""
    down = end["w"] / end["u"]
    top, climb_m, descent_m = end["h"] - 0.5 * down * 600.0, 0.35 * s[-1], 600.0
    climbing = np.clip(s / climb_m, 0.0, 1.0)
    up = start["w"] / start["u"] * climb_m
    rise = top - start["h"]
    height = start["h"] + up * climbing + (3.0 * rise - 2.0 * up) * climbing**2 + (up - 2.0 * rise) * climbing**3
    late = np.clip(s - (s[-1] - descent_m), 0.0, descent_m)
    height = height + 0.5 * down * late**2 / descent_m
    return height, np.gradient(height, s)


def _along(direction: Floats, s: Floats) -> Floats:
    return np.concatenate([[0.0], np.cumsum(0.5 * (direction[1:] + direction[:-1]) * np.diff(s))])


def _shift(drawn: Floats, end: float, part: Floats) -> Floats:
    """Bend the drawn line so that it ends where it must."""
    return np.asarray(drawn + (end - drawn[-1]) * part)


def _evenly(slope: Floats, part: Floats) -> Floats:
    return slope[0] + (slope[-1] - slope[0]) * part


def join(lanes: list[Lane]) -> tuple[Floats, NDArray[np.float32], Floats]:
    """One log of several approaches: its clock, its motion, and when each lane's own clock was zero (lanes,)."""
    times, values, zeros = [lanes[0].t], [lanes[0].values], [0.0]
    for number, (before, after) in enumerate(pairwise(lanes), 1):
        t, motion = between(before, after)
        motion[:, COLUMN["psi"]] -= 2.0 * np.pi * (number - 1)
        times.append(times[-1][-1] + t[1:-1])
        values.append(motion[1:-1])
        begins = times[-1][-1] + (t[-1] - t[-2])
        zeros.append(begins - after.t[0])
        lane = after.values.copy()
        lane[:, COLUMN["psi"]] -= 2.0 * np.pi * number
        times.append(after.t + zeros[-1])
        values.append(lane)
    return np.concatenate(times), np.concatenate(values), np.array(zeros)

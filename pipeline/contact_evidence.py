"""When the main wheels first touched: acceleration, height and ground switch weighed against each other.

Goes in: a recording and one low stretch of it. Comes out: the instant with its uncertainty and what told it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline.acceleration_onset import onset, pushed
from pipeline.ground_height import GroundHeight
from pipeline.height_stops import height_stops
from pipeline.measures.biases import SWITCH_LAG_S, SWITCH_LAG_U_S
from pipeline.recording import Recording, Samples

Floats = NDArray[np.float64]

_LATE_SWITCH_SPEED = 0.9
"""A lone switch that flips below this share of the speed 20 s earlier flips on something else than contact."""
_SWITCH_AGREES_S = 2.0
"""A switch this far behind the other evidence, or further, is evidence of nothing."""
_AT_GROUND_FT = 15.0
"""An altitude this close to its lowest value is at the ground as well as it can tell."""
_ON_BOARD = ("radio_height_ft", "normal_accel_g", "longitudinal_accel_g", "pitch_deg")
"""A log with any of these was recorded in the aircraft; the air/ground flag of a broadcast times no contact."""


@dataclass(frozen=True)
class Instant:
    """First contact: `contact_s` with `u_s` and `evidence`; None where the wheels touched but no channel can time it.

    `anchor_s` is the contact, or the first moment the ground is reached as well as the log can tell.
    """

    anchor_s: float
    contact_s: float | None
    u_s: float | None
    evidence: str | None


def fuse(recording: Recording, height: GroundHeight, start_s: float, end_s: float) -> Instant | None:
    """First contact in the low stretch [start_s, end_s] s of the log; None where the wheels did not touch.

    The switch bounds the contact from above; the onset of normal acceleration and the wheels reaching zero height time
    it, weighed by their variances where they agree; where they do not, acceleration wins.
    """
    switch = _switch(recording, start_s, end_s)
    reached = height_stops(height, recording.channels.get("pitch_deg"), start_s, end_s)
    if switch is None and not (_sits(recording, height, start_s, end_s) or pushed(recording, height, reached)):
        return None
    rise = onset(recording, start_s, reached, switch)
    seen = [(name, found) for name, found in (("acceleration", rise), ("height", reached)) if found is not None]
    if seen:
        return _weighed(seen, switch)
    on_board = any(channel in recording.channels for channel in _ON_BOARD)
    if switch is None or not on_board or _late(recording, switch[0]):
        return Instant(_near_ground(height, start_s, end_s), None, None, None)
    t, u = switch[0] - SWITCH_LAG_S, float(np.hypot(switch[1], SWITCH_LAG_U_S))
    return Instant(t, t, u, "switch")


def _weighed(seen: list[tuple[str, tuple[float, float]]], switch: tuple[float, float] | None) -> Instant:
    disagreement = 0.0
    if len(seen) == 2:
        (_, (ta, ua)), (_, (th, uh)) = seen
        if abs(ta - th) > 3.0 * np.hypot(ua, uh):
            seen, disagreement = seen[:1], 0.5 * abs(ta - th)
    weight = np.array([u**-2 for _, (_, u) in seen])
    t = float(np.average([t for _, (t, _) in seen], weights=weight))
    u = float(np.hypot(weight.sum() ** -0.5, disagreement))
    names = [name for name, _ in seen]
    if switch is not None and switch[0] < t + _SWITCH_AGREES_S:
        names.append("switch")
        t = min(t, switch[0] + switch[1])
    return Instant(t, t, u, " ".join(names))


def _switch(recording: Recording, start_s: float, end_s: float) -> tuple[float, float] | None:
    """First closing of the main-wheel switch in the stretch: midpoint between samples and its uncertainty, s."""
    samples = recording.channels.get("main_on_ground")
    if samples is None:
        return None
    inside = (samples.t >= start_s) & (samples.t <= end_s + 2.0)
    t, on = samples.t[inside], samples.value[inside] > 0.5
    if not on.any():
        return None
    i = int(np.argmax(on))
    before = t[i - 1] if i > 0 else t[i]
    return float(0.5 * (t[i] + before)), max(float(t[i] - before) / np.sqrt(12.0), 0.02)


def _late(recording: Recording, switch_s: float) -> bool:
    """Whether the switch flips when the aircraft has already slowed well below its speed of 20 s before."""
    speed = recording.channels.get("ground_speed_kt") or recording.channels.get("airspeed_kt")
    if speed is None:
        return False
    then, now = _near(speed, switch_s - 20.0, 3.0), _near(speed, switch_s, 2.0)
    return bool(np.isfinite(then) and np.isfinite(now) and now < _LATE_SWITCH_SPEED * then)


def _near_ground(height: GroundHeight, start_s: float, end_s: float) -> float:
    """First moment of the stretch at the ground as well as its height can tell, s; the stretch's end without one."""
    at_ground = (height.t >= start_s) & (height.t <= end_s) & (height.above_ground < _AT_GROUND_FT)
    return float(height.t[at_ground][0]) if at_ground.any() else end_s


def _near(samples: Samples, t: float, width_s: float) -> float:
    chosen = samples.value[np.abs(samples.t - t) <= width_s]
    return float(np.median(chosen)) if len(chosen) else np.nan


def _sits(recording: Recording, height: GroundHeight, start_s: float, end_s: float) -> bool:
    """Without a switch: whether the stretch holds 2 s at zero height while the aircraft slows or its log ends."""
    inside = (height.t >= start_s) & (height.t <= end_s)
    t, h = height.t[inside], height.above_ground[inside]
    flat = t[h < (1.5 if height.wheels else _AT_GROUND_FT)]
    if len(flat) < 2 or flat[-1] - flat[0] < 2.0:
        return False
    speed = recording.channels.get("ground_speed_kt") or recording.channels.get("airspeed_kt")
    if speed is None:
        return bool(flat[-1] - flat[0] > 4.0)
    then = _near(speed, flat[0], 2.0)
    rolled = speed.value[(speed.t >= flat[0]) & (speed.t <= flat[-1])]
    return bool(len(rolled) and np.isfinite(then) and np.quantile(rolled, 0.1) < then - max(5.0, 0.06 * then))

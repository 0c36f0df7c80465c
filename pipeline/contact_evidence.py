"""When the main wheels first touched: acceleration, height and ground switch weighed against each other.

Goes in: a recording and one low stretch of it. Comes out: the instant with its uncertainty and what told it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline.ground_height import GroundHeight
from pipeline.recording import Recording, Samples
from pipeline.rows import middle

Floats = NDArray[np.float64]

_SWITCH_LAG_S = 0.15
"""Typical delay of an air/ground switch behind first contact (strut compression and filtering): common practice."""
_SWITCH_LAG_U_S = 0.15
_LATE_SWITCH_SPEED = 0.9
"""A lone switch that flips below this share of the speed 20 s earlier flips on something else than contact."""
_SWITCH_AGREES_S = 2.0
"""A switch this far behind the other evidence, or further, is evidence of nothing."""
_GUIDE_S = 0.15
"""Scatter of a radio height's zero beyond its stated uncertainty (antenna arm times pitch): our own choice."""
_NEARLY_DOWN_FT, _STOPPED_FT, _STAYS_FT = 6.0, 1.5, 3.0
"""A radio height below 6 ft has stopped coming down where it falls by less than 1.5 ft in 2 s and 3 ft in 6 s."""
_STOPPED_SLOW_FT, _QUICK_S, _LONGEST_ARM_FT = 0.8, 0.3, 30.0
"""The same where it is read so seldom that noise averages less than a float goes on; the longest antenna arm ahead."""
_PUSH_G, _PUSH_NEAR_S, _SLOWEST_PUSH_S = 0.12, 0.7, 0.26
_LEVEL_FT, _LEVEL_S = 2.5, 2.0
"""What the gear's first push adds at least, near the moment height tells, and how level the wheels stay: own choice."""
_GAP, _SHORTEST_GAP_S = 4.0, 1.5
"""Samples further apart than so many intervals show nothing of what came between."""
_DOWN_FT, _FLOATED_SHARE = 1.0, 0.35
"""Down for good within a foot of the lowest; a float that ended later makes the moment uncertain by a third of it."""
_AT_GROUND_FT = 15.0
"""An altitude this close to its lowest value is at the ground as well as it can tell."""
_ON_BOARD = ("radio_height_ft", "normal_accel_g", "longitudinal_accel_g", "pitch_deg")
"""A log with any of these was recorded in the aircraft; the air/ground flag of a broadcast times no contact."""
_ONSET_G = 0.06
"""Least rise of normal acceleration over its level before, that counts as an onset."""


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
    reached = _height_zero(height, recording.channels.get("pitch_deg"), start_s, end_s)
    if switch is None and not (_sits(recording, height, start_s, end_s) or _rolls(recording, height, reached)):
        return None
    onset = _onset(recording, start_s, reached, switch)
    seen = [(name, found) for name, found in (("acceleration", onset), ("height", reached)) if found is not None]
    if seen:
        return _weighed(seen, switch)
    on_board = any(channel in recording.channels for channel in _ON_BOARD)
    if switch is None or not on_board or _late(recording, switch[0]):
        return Instant(_near_ground(height, start_s, end_s), None, None, None)
    t, u = switch[0] - _SWITCH_LAG_S, float(np.hypot(switch[1], _SWITCH_LAG_U_S))
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


def _height_zero(
    height: GroundHeight, pitch: Samples | None, start_s: float, end_s: float
) -> tuple[float, float] | None:
    """When a radio height stops coming down, by the course of its last feet; s and uncertainty.

    Not when it reads what it reads in the rollout: the antenna goes on down with the nose.
    """
    if not height.wheels or height.interval_s > 1.05:
        return None
    inside = (height.t >= start_s) & (height.t <= end_s)
    t, h = height.t[inside], height.above_ground[inside]
    low = np.flatnonzero(h <= _NEARLY_DOWN_FT)
    quick = height.interval_s < _QUICK_S
    stopped = _STOPPED_FT if quick else _STOPPED_SLOW_FT
    stays = (
        i for i in low if _falls(t, h, i, 2.0) < stopped and _falls(t, h, i, 6.0) < _with_nose(pitch, t[i], stopped)
    )
    i = next(stays, None)
    if i is None:
        return None
    before = float(t[i - 1]) if i > 0 else float(t[i])
    if t[i] - before > max(_GAP * height.interval_s, _SHORTEST_GAP_S):
        return None
    ground = float(np.median(h[i : int(np.searchsorted(t, t[i] + 1.5, "right"))]))
    course = np.flatnonzero((np.arange(len(t)) < i) & (h < 8.0) & (t >= t[i] - 2.5))
    if len(course) < 2:
        return 0.5 * (before + float(t[i])), float(np.hypot((t[i] - before) / np.sqrt(12.0), 0.2))
    slope, level = np.polyfit(t[course] - t[i], h[course], 1)
    zero = float(np.clip(t[i] - (level - ground) / min(slope, -0.3), before, t[i] + 1.0))
    u = float(np.hypot(height.interval_s / np.sqrt(12.0), np.clip(0.8 / max(-slope, 0.3), 0.08, 1.0)))
    return zero, float(np.hypot(u, _FLOATED_SHARE * _later_fall_s(t[i:], h[i:])))


def _later_fall_s(t: Floats, h: Floats) -> float:
    """Time until a height has come down for good, s: it may have floated a little above ground, or the nose fell."""
    soon = t <= t[0] + 6.0
    down = h[soon] <= h[soon].min() + _DOWN_FT
    return float(t[soon][down][0] - t[0])


def _with_nose(pitch: Samples | None, t: float, steady_ft: float) -> float:
    """How far radio height may fall in the 6 s after a contact, ft: its antenna goes down with the nose."""
    if pitch is None:
        return _STAYS_FT
    then, later = np.interp([t, t + 6.0], pitch.t, pitch.value)
    return float(steady_ft + _LONGEST_ARM_FT * np.radians(max(then - later, 0.0)))


def _falls(t: Floats, h: Floats, i: np.intp, within_s: float) -> float:
    """How far a height is above the lowest of the next `within_s`, ft."""
    return float(h[i] - h[i : np.searchsorted(t, t[i] + within_s, "right")].min())


def _onset(
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


def _rolls(recording: Recording, height: GroundHeight, reached: tuple[float, float] | None) -> bool:
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
    pushed = about.max() - np.median(before) >= max(_PUSH_G, 4.0 * float(np.std(before)))
    return bool(pushed and after.max() - after.min() < _LEVEL_FT)


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

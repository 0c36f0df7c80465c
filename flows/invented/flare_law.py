"""The flare: height, sink and the pilot's habit go in; the attitude and the lever of the last seconds come out."""

import numpy as np
from numpy.typing import NDArray

from flows.invented.arrays import clamp
from flows.invented.dynamics import cushion, needed_alpha
from flows.invented.hand import Hand
from flows.invented.plan import Plan
from flows.invented.state import State
from flows.invented.units import G

Floats = NDArray[np.float64]

FLARE_LOAD = 0.35
"""Largest change of load factor the pilot pulls in a flare. Our own choice."""
FLARE_EAGERNESS = 1.1
"""Correction of sink in the flare against the one that would just do. Our own choice."""
LET_DOWN_S = 7.0
"""A flare longer than this is ended: the sink aimed at grows by half its size each second. Our own choice."""
BALLOON_MS = 0.3
"""Climb in the flare at which the pilot has stopped allowing the nose to move by itself. Our own choice."""
PITCH_LIMIT = np.radians(9.5)
"""Attitude the pilot does not exceed near the ground. Our own choice."""


def begin_flare(s: State, hand: Hand, plan: Plan, *, t: Floats) -> None:
    """Start the flare at its height, and its second stage at its own; sets the exponential the pilot means to follow.

    Sink goes with height as (h + base) / tau, so that it is the sink found at the start and the sink aimed at on the
    ground: tau = h / (found - aimed), base = tau * aimed.
    """
    start = (s.h < plan.flare_m) & np.isinf(hand.flare_at) & np.isinf(hand.go_at)
    second = (s.h < plan.stage_m) & (hand.staged == 0.0) & np.isfinite(hand.flare_at)
    if not (start.any() or second.any()):
        return
    hand.flare_at = np.where(start, t, hand.flare_at)
    hand.staged = np.where(second, 1.0, hand.staged)
    aimed = np.where((plan.stage_m > 0.0) & ~second, plan.stage_sink_ms, plan.sink_ms)
    found = np.maximum(s.sink, 0.6)
    aimed = np.minimum(aimed, 0.8 * found)
    tau = np.maximum(s.h, 0.3) / (found - aimed)
    hand.tau = np.where(start | second, tau, hand.tau)
    hand.base = np.where(start | second, tau * aimed, hand.base)


def flare(s: State, hand: Hand, plan: Plan, *, t: Floats) -> Floats:
    """Attitude that brings the sink to the exponential, with what the pilot allows once thrust is off."""
    a = plan.a
    ahead = plan.lag_s + 1.4 * a.pitch_damping / a.pitch_rad_s
    later = np.maximum(s.h - s.sink * ahead, 0.0)
    base = hand.base * (1.0 + 0.5 * np.maximum(t - hand.flare_at - LET_DOWN_S, 0.0))
    wanted = FLARE_EAGERNESS * (s.sink - (later + base) / np.where(hand.tau > 0.0, hand.tau, 1.0)) / ahead
    load = (1.0 + clamp(wanted / G, -0.5 * FLARE_LOAD, FLARE_LOAD)) / cushion(s.h, a)
    seen = 0.5 * (hand.airspeed_seen + s.airspeed)
    sinking = clamp(1.0 + s.sink / BALLOON_MS, 0.0, 1.0)
    relaxed = plan.after_close * clamp((t - hand.close_at - plan.close_s) / 1.2, 0.0, 1.0) * sinking
    attitude = s.w / s.u + needed_alpha(seen, load, plan) + relaxed + 0.3 * hand.wander
    return np.minimum(attitude, PITCH_LIMIT)


def close_lever(s: State, hand: Hand, plan: Plan, *, t: Floats) -> None:
    """Begin the lever's last movement: after the flare by the pilot's lag, or before it by the same lead."""
    early = (plan.close_lag_s < 0.0) & (s.h < plan.flare_m - plan.close_lag_s * s.sink)
    late = (plan.close_lag_s >= 0.0) & (t >= hand.flare_at + plan.close_lag_s)
    start = (early | late) & np.isinf(hand.close_at) & np.isinf(hand.go_at)
    hand.close_at = np.where(start, t, hand.close_at)
    hand.lever_at_close = np.where(start, hand.lever, hand.lever_at_close)


def move_lever(hand: Hand, plan: Plan, *, t: Floats, dt: float) -> Floats:
    """Lever now: steps on the approach, a ramp to idle, full when going."""
    rate = 0.25 * dt
    steps = hand.lever + clamp(hand.lever_wish - hand.lever, -rate, rate)
    closing = hand.lever_at_close * clamp(1.0 - (t - hand.close_at) / plan.close_s, 0.0, 1.0)
    lever = np.where(np.isfinite(hand.close_at), closing, steps)
    going = np.minimum(hand.lever + 0.8 * dt, 0.95)
    hand.lever = np.where(np.isfinite(hand.go_at), going, lever)
    return hand.lever

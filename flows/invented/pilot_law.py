"""The pilot: what is seen of the state goes in, attitudes and lever come out. Approach, flare, ground, going around."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flows.invented.arrays import clamp
from flows.invented.dynamics import needed_alpha
from flows.invented.flare_law import begin_flare, close_lever, flare, move_lever
from flows.invented.hand import Hand
from flows.invented.plan import FULL_STOP, GO_AROUND, REJECTED, TOUCH_AND_GO, Plan
from flows.invented.state import Controls, State
from flows.invented.units import G

Floats = NDArray[np.float64]

LEVER_DEADBAND = 0.035
"""The lever is left alone until the wish differs by this much: hands move levers in steps. Our own choice."""
PATH_AUTHORITY_MS = 2.0
"""Largest correction of vertical speed on the approach. Our own choice."""
APPROACH_LAG_S = 0.35
"""Slowness of the hand outside the flare. Our own choice."""
ATTITUDE_HOLD = 0.7
"""How fast the pilot trims out an attitude that does not come, 1/s. Our own choice."""
REVERSE_TO_MS = 31.0
"""Reverse is stowed at 60 kt (common practice)."""


def approach(s: State, hand: Hand, plan: Plan, *, dt: float, noise: Floats) -> Floats:
    """Attitude that tracks the path; moves the lever for speed. `noise` (2, lanes) is standard normal."""
    far = clamp((s.h - plan.offset_until_m) / 60.0, 0.0, 1.0)
    above = s.h + plan.slope * s.x - (plan.aim_m - plan.path * s.x) - plan.offset_m * far
    mend = clamp(plan.path_gain * above, -PATH_AUTHORITY_MS, PATH_AUTHORITY_MS) * clamp(s.h / 25.0, 0.15, 1.0)
    hand.airspeed_seen += (s.airspeed - hand.airspeed_seen) * min(dt / 1.2, 1.0)
    hand.wander += -hand.wander * dt / 2.0 + noise[0] * plan.rough * np.sqrt(dt)
    hand.wander_roll += -hand.wander_roll * dt / 1.5 + noise[1] * 2.5 * plan.rough * np.sqrt(dt)
    slow = plan.target_ms + plan.offset_ms * far - hand.airspeed_seen
    hand.speed_sum = clamp(hand.speed_sum + slow * dt, -20.0, 20.0)
    asked = clamp(hand.lever_trim + 0.045 * slow + 0.004 * hand.speed_sum, 0.0, 0.9)
    moved = (np.abs(asked - hand.lever_wish) > LEVER_DEADBAND) & (s.h > plan.flare_m + 3.0)
    hand.lever_wish = np.where(moved, asked, hand.lever_wish)
    calm = clamp(s.h / 25.0, 0.3, 1.0)
    return -plan.path - mend / s.u + needed_alpha(hand.airspeed_seen, 1.0, plan) + hand.wander * calm


def decide(s: State, hand: Hand, plan: Plan, *, t: Floats, dt: float) -> None:
    """Note contact and time on the wheels; decide to go again or around."""
    down = s.h < 0.0
    hand.on_wheels_s += down * dt
    touched = np.isfinite(hand.contact_at)
    go = (plan.kind == GO_AROUND) & (s.h < plan.go_m)
    go |= (plan.kind == TOUCH_AND_GO) & (hand.on_wheels_s > plan.ground_s)
    go |= (plan.kind == REJECTED) & touched & (hand.on_wheels_s > 0.3)
    hand.go_at = np.where(go & np.isinf(hand.go_at), t, hand.go_at)


def ground(hand: Hand, plan: Plan) -> Floats:
    """Attitude after contact: held, then the nose lowered."""
    lowered = plan.derotate_rate * np.maximum(hand.on_wheels_s - plan.derotate_s, 0.0)
    return np.maximum(hand.theta_contact - lowered, plan.a.rest_pitch - 0.02)


def going(s: State, plan: Plan) -> Floats:
    """Attitude of a pilot who goes: flat until there is speed (a rejected landing has it), then a climb."""
    climb = clamp(0.135 + 0.006 * (s.airspeed - plan.vref_ms - 4.0), 0.05, 0.19)
    enough = np.where(plan.kind == REJECTED, 0.85, 0.97) * plan.vref_ms
    wait = (s.h < 0.0) & (s.airspeed < enough)
    return np.where(wait, plan.a.rest_pitch, climb)


def across(s: State, hand: Hand, plan: Plan, right: Floats) -> tuple[Floats, Floats]:
    """Bank and heading: crab on the approach, kicked off with the wing lowered into wind, steering on the ground."""
    crab = np.arctan2(right, s.airspeed)
    kick = plan.decrab * clamp(1.6 * (1.0 - s.h / plan.decrab_m), 0.0, 1.0)
    slip = crab - s.psi
    bank = (-0.035 * s.y - 0.35 * s.v + 0.1 * s.u * slip * kick) / G + hand.wander_roll
    limit = np.radians(clamp(3.0 + s.h * 0.6, 3.0, 20.0))
    steer = -0.004 * s.y - 0.6 * s.v / np.maximum(s.u, 5.0)
    heading = np.where(s.h < 0.0, steer, crab * (1.0 - kick))
    return clamp(bank, -limit, limit), heading


@dataclass(frozen=True)
class Look:
    """What the pilot's next move depends on besides the aeroplane.

    `t` (lanes,) each lane's clock, `dt` since the last look, `right` (lanes,) the mean wind from the right, `noise`
    (2, lanes) standard normal; `far` from the ground only the approach need be flown.
    """

    t: Floats
    dt: float
    right: Floats
    noise: Floats
    far: bool


def command(s: State, hand: Hand, c: Controls, plan: Plan, look: Look) -> None:
    """Fill the controls `c` for the next steps."""
    wish: Floats = approach(s, hand, plan, dt=look.dt, noise=look.noise)
    lag: Floats | float = APPROACH_LAG_S
    if not look.far:
        wish, lag = _near(s, hand, plan, look, wish=wish)
        c.clean = clamp((look.t - hand.go_at) / 8.0, 0.0, 1.0)
        _slow_down(s, hand, c, plan)
    hand.theta += (wish - hand.theta) * np.minimum(look.dt / lag, 1.0)
    hand.held = clamp(hand.held + ATTITUDE_HOLD * (hand.theta - s.theta) * look.dt, -0.07, 0.07) * (s.h > 0.0)
    c.theta = hand.theta + hand.held
    c.lever = move_lever(hand, plan, t=look.t, dt=look.dt)
    c.phi, c.psi = across(s, hand, plan, look.right)


def _near(s: State, hand: Hand, plan: Plan, look: Look, *, wish: Floats) -> tuple[Floats, Floats]:
    """Attitude and slowness of the hand where the flare, the ground or going around may replace the approach's."""
    begin_flare(s, hand, plan, t=look.t)
    close_lever(s, hand, plan, t=look.t)
    decide(s, hand, plan, t=look.t, dt=look.dt)
    flaring, touched, gone = np.isfinite(hand.flare_at), np.isfinite(hand.contact_at), np.isfinite(hand.go_at)
    wish = np.where(flaring, flare(s, hand, plan, t=look.t), wish)
    wish = np.where(touched, ground(hand, plan), wish)
    wish = np.where(gone, going(s, plan), wish)
    return wish, np.where(flaring & ~touched & ~gone, plan.lag_s, APPROACH_LAG_S)


def _slow_down(s: State, hand: Hand, c: Controls, plan: Plan) -> None:
    """Spoilers, reverse and brakes of a landing that is to stop, after their waits on the wheels."""
    stopping = (plan.kind == FULL_STOP) * np.isfinite(hand.contact_at)
    since = hand.on_wheels_s
    c.spoiler = clamp((since - 0.4) / 0.6, 0.0, 1.0) * stopping * (plan.a.spoiler_lift > 0.0)
    c.reverse = clamp((since - 1.5) / 1.2, 0.0, 1.0) * stopping * (s.u > REVERSE_TO_MS) * (plan.a.reverse_n > 0.0)
    c.brake = clamp((since - 1.8) / 1.2, 0.0, 1.0) * stopping * plan.brake

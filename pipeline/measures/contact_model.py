"""The linear model of a contact: what every sample should read, given when the wheels touch and which gear they have.

Goes in: evidence. Comes out: information about eleven unknowns, from what does not depend on the moment of contact, and
from the samples after the split for many moments and gears at once.

Unknown: height, speed and acceleration of the main wheels at the split, and the acceleration's rate after it; bias of
the accelerometer; zero of radio height, its antenna's arm ahead of the main wheels, its delay; the main wheels' arm
behind the centre of gravity; bias and lag of vertical speed. Feet, seconds, radians.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.contact_samples import Evidence, on_grid
from pipeline.measures.gear_pulse import LOW_PASS_DELAY_S, Seen, pulse
from pipeline.measures.installation import Installation
from pipeline.measures.window import FINE, G_FPS2

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

HEIGHT, SPEED, ACCEL, JERK, BIAS, ZERO, ARM, DELAY, MAINS, VS_BIAS, VS_LAG = range(11)
UNKNOWNS = 11
TOUCHING = 9
"""The first unknowns are those that samples after the split bear on."""
# Priors, mean and standard deviation, our own choice for want of a source; wide against what a log tells by itself.
_PRIOR = {
    HEIGHT: (5.0, 30.0),
    SPEED: (-3.0, 10.0),
    ACCEL: (0.0, 30.0),
    ZERO: (0.0, 3.0),
    MAINS: (6.0, 5.0),
}
_JERK_U, _JERK_UNSEEN_U = 3.0, 0.3
_BIAS_U, _BIAS_ROLLED_U, _FLARE, _FLARE_U = 0.65, 0.35, 1.2, 1.5
"""Accelerometer bias, ft/s2, without and with a rollout to read it from; without one, a flare's mean acceleration."""
_VS_BIAS_U, _VS_BIAS_ROLLED_U = 0.5, 0.3
_COMPRESSION_FT, _COMPRESSION_U_FT = 0.7, 0.7
_SAME_ACCEL_U, _SAME_FLARE_U = 1.0, 0.5
_SETTLED_U, _SETTLED_SHARE = 0.8, 0.3
_SETTLED_AFTER_S = 2.5
_TOUCH_U_FT = 0.03
ACCEL_DELAY_S, ACCEL_DELAY_U_S = 0.06, 0.05
"""Delay of recorded acceleration behind the moment it describes: our own choice; one log cannot tell it."""
_PULSE_U_G, _PULSE_SHARE, _PULSE_GROWS_S = 0.02, 0.08, 0.35
"""What the gear model leaves unexplained: constant, share of the pulse, and the time in which it doubles."""


def before_contact(e: Evidence, one_touch: Bools, installed: Installation) -> tuple[Floats, Floats]:
    """Information (n, 11, 11) and vector (n, 11) of all that does not depend on when and on what the wheels touch.

    `one_touch` (n,): no bounce was seen, so that the rollout's first seconds are spent on the wheels. `installed`: what
    is known of gear and instruments.
    """
    mean, spread = _priors(e, one_touch, installed)
    information = spread[:, :, None] ** -2.0 * np.eye(UNKNOWNS)
    vector = mean * spread**-2.0
    for design, seen, sigma in (_radio(e), _climb(e), _steady(e), _rolled(e), _settled(e, one_touch)):
        known = np.isfinite(seen) & np.isfinite(sigma)
        weight = np.where(known, 1.0 / np.where(known, sigma, 1.0) ** 2, 0.0)
        weighed = np.where(known[..., None], design, 0.0) * weight[..., None]
        information = information + np.swapaxes(weighed, 1, 2) @ np.where(known[..., None], design, 0.0)
        vector = vector + (weighed * np.where(known, seen, 0.0)[..., None]).sum(axis=1)
    return information, vector


def _priors(e: Evidence, one_touch: Bools, installed: Installation) -> tuple[Floats, Floats]:
    n = len(e.split_s)
    mean, spread = np.zeros((n, UNKNOWNS)), np.ones((n, UNKNOWNS))
    for unknown, (centre, u) in _PRIOR.items():
        mean[:, unknown], spread[:, unknown] = centre, u
    mean[:, ARM], spread[:, ARM] = installed.radio_arm_ft.T
    mean[:, DELAY], spread[:, DELAY] = installed.radio_delay_s.T
    mean[:, VS_LAG], spread[:, VS_LAG] = installed.vertical_speed_lag_s.T
    spread[:, JERK] = np.where(e.quick_accel, _JERK_U, _JERK_UNSEEN_U)
    rolled = np.isfinite(e.rollout.felt_fps2) & one_touch
    bias = np.where(rolled, -np.nan_to_num(e.rollout.felt_fps2), 0.0)
    mean[:, BIAS] = np.where(e.has_accel, bias, _FLARE)
    spread[:, BIAS] = np.where(e.has_accel, np.where(rolled, _BIAS_ROLLED_U, _BIAS_U), _FLARE_U)
    rolled = np.isfinite(e.rollout.climb_fps) & one_touch
    mean[:, VS_BIAS] = np.where(rolled, np.nan_to_num(e.rollout.climb_fps), 0.0)
    spread[:, VS_BIAS] = np.where(rolled, _VS_BIAS_ROLLED_U, _VS_BIAS_U)
    return mean, spread


Rows = tuple[Floats, Floats, Floats]
"""Design (n, r, 11), seen (n, r), sigma (n, r); NaN in seen or sigma where there is nothing."""


def _radio(e: Evidence) -> Rows:
    tau = e.radio.tau_s
    since = np.nan_to_num(tau - e.split_s[:, None])
    design = np.zeros((*tau.shape, UNKNOWNS))
    design[..., HEIGHT], design[..., SPEED], design[..., BIAS] = 1.0, since, 0.5 * since**2
    _radio_errors(e, tau, design)
    design[..., MAINS] = -on_grid(e.bend, tau)
    seen = np.where(since <= 0.0, e.radio.value - on_grid(e.twice, tau), np.nan)
    return design, seen, e.radio.sigma


def _radio_errors(e: Evidence, tau: Floats, design: Floats) -> None:
    """Fill the columns of the radio height's own errors, for samples at `tau` (n, r), broadcast over `design`."""
    wide = (slice(None), *(None,) * (design.ndim - 3))
    design[..., ZERO] = 1.0
    design[..., ARM] = on_grid(e.attitude, tau)[wide]
    design[..., DELAY] = -on_grid(e.closing, tau)[wide]


def _climb(e: Evidence) -> Rows:
    tau = e.climb.tau_s
    design = np.zeros((*tau.shape, UNKNOWNS))
    design[..., SPEED], design[..., VS_BIAS] = 1.0, 1.0
    design[..., BIAS] = np.nan_to_num(tau - e.split_s[:, None])
    design[..., MAINS] = on_grid(e.turning, e.split_s)[:, None]
    design[..., VS_LAG] = -on_grid(e.felt, tau)
    seen = e.climb.value - on_grid(e.once, tau)
    return design, seen, e.climb.sigma


def _row(e: Evidence, coefficients: dict[int, Floats | float], seen: Floats, sigma: Floats) -> Rows:
    design = np.zeros((len(e.split_s), 1, UNKNOWNS))
    for unknown, coefficient in coefficients.items():
        design[:, 0, unknown] = coefficient
    return design, seen[:, None], sigma[:, None]


def _steady(e: Evidence) -> Rows:
    """The acceleration at the split goes on from what was felt just before it."""
    lately = (e.split_s[:, None] - 0.5 < FINE) & (e.split_s[:, None] >= FINE)
    felt = rows.mean(np.where(lately, e.felt, np.nan))
    return _row(e, {ACCEL: 1.0, BIAS: -1.0}, felt, np.where(e.has_accel, _SAME_ACCEL_U, _SAME_FLARE_U))


def _rolled(e: Evidence) -> Rows:
    """Radio height in the rollout: zero, antenna at the rollout's attitude, gear compressed."""
    sigma = np.full(len(e.split_s), _COMPRESSION_U_FT)
    coefficients: dict[int, Floats | float] = {ZERO: 1.0, ARM: np.nan_to_num(e.rollout.attitude)}
    return _row(e, coefficients, e.rollout.radio_ft + _COMPRESSION_FT, sigma)


def _settled(e: Evidence, one_touch: Bools) -> Rows:
    """Wheels that stay down have lost all their vertical speed soon after."""
    blurred = _SETTLED_SHARE * e.pulse_fps2 * e.accel_interval_s
    sigma = np.where(e.quick_accel & one_touch, np.hypot(_SETTLED_U, blurred), np.nan)
    return _row(e, {SPEED: 1.0, BIAS: _SETTLED_AFTER_S - e.split_s}, -e.rollout.settled_fps, sigma)


@dataclass(frozen=True)
class Touch:
    """Hypotheses of contact: time `tau_s` (n, q) to the anchor, and gear number `gear` (n, q)."""

    tau_s: Floats
    gear: Ints


def at_contact(e: Evidence, tau_s: Floats) -> Floats:
    """Coefficients (n, q, 9) of vertical speed the instant before contact at `tau_s` (n, q)."""
    since = tau_s - e.split_s[:, None]
    wanted = np.zeros((*tau_s.shape, TOUCHING))
    wanted[..., SPEED], wanted[..., ACCEL], wanted[..., JERK] = 1.0, since, 0.5 * since**2
    wanted[..., MAINS] = -_turned(e, tau_s)
    return wanted


def _turned(e: Evidence, tau_s: Floats) -> Floats:
    return on_grid(e.turning, tau_s) - on_grid(e.turning, e.split_s)[:, None]


def after_split(e: Evidence, touch: Touch) -> tuple[Floats, Floats, Floats]:
    """Information (n, q, 9, 9), vector (n, q, 9) and log weight (n, q) of the samples after the split."""
    parts = [_felt_rows(e, touch), _radio_rows(e, touch), _touching(e, touch)]
    design = np.concatenate([part[0] for part in parts], axis=2)
    sigma = np.concatenate([part[2] for part in parts], axis=2)
    seen = np.concatenate([part[1] for part in parts], axis=1)
    known = np.isfinite(seen)
    weight = np.where(known[:, None, :], 1.0 / sigma, 0.0)
    weighed = design * weight[..., None]
    value = np.where(known, seen, 0.0)[:, None, :] * weight
    turned = np.swapaxes(weighed, 2, 3)
    log = -0.5 * (value**2).sum(axis=2) - np.where(known[:, None, :], np.log(sigma), 0.0).sum(axis=2)
    return turned @ weighed, (turned @ value[..., None])[..., 0], log


def _since(tau: Floats, e: Evidence, touch: Touch) -> tuple[Floats, Floats, Floats]:
    """Times since the split (n, 1, r) and since contact (n, q, r); from split to contact (n, q, 1)."""
    split = e.split_s[:, None, None]
    times = np.nan_to_num(tau, nan=-1.0)[:, None, :]
    return times - split, times - touch.tau_s[:, :, None], touch.tau_s[:, :, None] - split


def _felt_rows(e: Evidence, touch: Touch) -> Rows:
    """Acceleration: smooth all along, and the gear's push from contact on."""
    tau = e.accel.tau_s - ACCEL_DELAY_S
    _, after, _ = _since(tau, e, touch)
    grows = 1.0 + (np.maximum(after, 0.0) / _PULSE_GROWS_S) ** 2
    unexplained = (_PULSE_U_G * G_FPS2 + _PULSE_SHARE * e.pulse_fps2)[:, None, None] * grows
    own = e.accel.sigma[:, None, :]
    sigma = np.nan_to_num(np.where(after > -ACCEL_DELAY_S, np.hypot(own, unexplained), own), nan=1.0)
    return felt(e, touch, tau, seen="recorded"), np.where(e.quick_accel[:, None], e.accel.value, np.nan), sigma


def felt(e: Evidence, touch: Touch, tau_s: Floats, *, seen: Seen) -> Floats:
    """Design (n, q, r, 9) of acceleration over steady flight at `tau_s` (n, r), as recorded or behind the low-pass."""
    since, after, reach = _since(tau_s, e, touch)
    push = pulse(touch.gear[:, :, None], after, seen)
    design = np.zeros((*after.shape, TOUCHING))
    design[..., BIAS] = -1.0
    design[..., SPEED] = push[0]
    design[..., ACCEL] = 1.0 + push[0] * reach + push[1]
    slow = since - (LOW_PASS_DELAY_S if seen == "low_passed" else 0.0)
    design[..., JERK] = slow + 0.5 * push[0] * reach**2 + push[1] * reach + push[2]
    design[..., MAINS] = -push[0] * _turned(e, touch.tau_s)[:, :, None]
    return design


def _radio_rows(e: Evidence, touch: Touch) -> Rows:
    """Radio height after the split: the smooth path, then the wheels on the gear."""
    tau, seen, own = _late(e)
    since, after, reach = _since(tau, e, touch)
    down = after > 0.0
    squeeze = pulse(touch.gear[:, :, None], after, "height")
    turned = _turned(e, touch.tau_s)[:, :, None]
    design = np.zeros((*after.shape, TOUCHING))
    design[..., HEIGHT] = np.where(down, 0.0, 1.0)
    design[..., SPEED] = np.where(down, squeeze[0], since)
    design[..., ACCEL] = np.where(down, squeeze[0] * reach + squeeze[1], 0.5 * since**2)
    on_gear = 0.5 * squeeze[0] * reach**2 + squeeze[1] * reach + squeeze[2]
    design[..., JERK] = np.where(down, on_gear, since**3 / 6.0)
    design[..., MAINS] = np.where(down, -squeeze[0] * turned, -on_grid(e.bend, tau)[:, None, :])
    _radio_errors(e, tau, design)
    own = own[:, None, :]
    sigma = np.where(down, np.hypot(own, 0.5 + 0.5 * np.maximum(after, 0.0)), own)
    return design, seen, sigma


def _late(e: Evidence) -> tuple[Floats, Floats, Floats]:
    """Times, values and uncertainties of the radio heights after the split, (n, r) each, filled from the left."""
    late = np.isfinite(e.radio.value) & (e.radio.tau_s > e.split_s[:, None])
    most = max(int(late.sum(axis=1).max(initial=0)), 1)
    place = np.argmax(late, axis=1)[:, None] + np.arange(most)
    beyond, place = place >= late.shape[1], np.minimum(place, late.shape[1] - 1)
    each = np.arange(len(late))[:, None]
    taken = late[each, place] & ~beyond
    return (
        e.radio.tau_s[each, place],
        np.where(taken, e.radio.value[each, place], np.nan),
        np.where(taken, e.radio.sigma[each, place], 1.0),
    )


def _touching(e: Evidence, touch: Touch) -> Rows:
    """The wheels are at the runway when they touch."""
    since = touch.tau_s - e.split_s[:, None]
    design = np.zeros((*since.shape, 1, TOUCHING))
    design[:, :, 0, HEIGHT], design[:, :, 0, SPEED] = 1.0, since
    design[:, :, 0, ACCEL], design[:, :, 0, JERK] = 0.5 * since**2, since**3 / 6.0
    design[:, :, 0, MAINS] = -on_grid(e.bend, touch.tau_s)
    return design, np.zeros((len(since), 1)), np.full((*since.shape, 1), _TOUCH_U_FT)

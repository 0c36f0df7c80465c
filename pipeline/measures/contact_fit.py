"""The joint fit of a contact: height, vertical speed, acceleration and switch weighed together, through contact.

Goes in: a window anchored near the contacts. Comes out: when the wheels touched and how fast, with uncertainties, and
the radio height's own errors.

Given the moment of contact and the gear, all is linear and solved exactly (contact_model). Those two are not: they are
laid out on a grid, coarse over all that is possible, then fine about the best, and averaged by their evidence. No start
value, no iteration, no local minimum; a contact that could be at two moments gets the uncertainty of both.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.contact_hypotheses import SPEED_U_FPS, grid, likeliest, weigh
from pipeline.measures.contact_model import (
    ACCEL,
    ACCEL_DELAY_S,
    ACCEL_DELAY_U_S,
    ARM,
    BIAS,
    DELAY,
    HEIGHT,
    JERK,
    MAINS,
    SPEED,
    TOUCHING,
    UNKNOWNS,
    VS_BIAS,
    VS_LAG,
    ZERO,
    Touch,
    after_split,
    before_contact,
    felt,
)
from pipeline.measures.contact_samples import BEFORE_S, Evidence, evidence, half_range_s, on_grid, sees_gear
from pipeline.measures.gear_pulse import GEARS
from pipeline.measures.window import FINE, G_FPS2, Window, between

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]

_COARSE, _COARSE_WIDE, _FINE, _BEST_GEARS = 17, 61, 13, 5
_WIDE_S = 0.8
_EVERY_GEAR, _USUAL_GEAR = np.arange(len(GEARS)), np.array([4])
"""Gears to weigh, and the one that stands where no acceleration shows any."""
_STEP_SHARE, _SMALLEST, _LARGEST = 0.6, 1.0 / 60.0, 1.0 / 8.0
"""Fine step as a share of the coarse standard deviation, and its bounds as shares of the half range."""
_AT_ONCE = 40
PATH = between(FINE, -BEFORE_S, 0.0)
_UNSEEN_U_FPS = 0.65
"""The model's own error of speed at contact where no acceleration shows how the path bends: our own choice."""
_MODEL_SHARE = 0.03
_PULSE_S = 0.6
"""How long after contact the gear's first push may peak."""


@dataclass(frozen=True)
class ContactFit:
    """Per landing (n,), NaN where nothing was fitted.

    `offset_s`, `offset_u_s`: contact after the anchor; `speed_fps`, `speed_u_fps`: vertical speed of the main wheels
    over the runway surface the instant before; `zero_ft`, `zero_u_ft`, `delay_s`, `arm_ft`: radio height at zero wheel
    height and the contact's attitude, its delay, its antenna's arm ahead of the main wheels; `vs_bias_fps`, `vs_lag_s`:
    bias and lag of vertical speed; `peak_gain_g`: what a 5 Hz low-pass of the true signal would show over the largest
    sample; `frequency_rad_s`, `damping`: the gear that explains the contact best. `path_ft` (n, k): height of the main
    wheels on the part `PATH` of the fine grid about the contact, where acceleration shows it.
    """

    offset_s: Floats
    offset_u_s: Floats
    speed_fps: Floats
    speed_u_fps: Floats
    zero_ft: Floats
    zero_u_ft: Floats
    delay_s: Floats
    arm_ft: Floats
    vs_bias_fps: Floats
    vs_lag_s: Floats
    peak_gain_g: Floats
    frequency_rad_s: Floats
    damping: Floats
    path_ft: Floats


_NAMES = tuple(name for name in ContactFit.__dataclass_fields__ if name != "path_ft")


def contact_fit(w: Window, one_touch: Bools) -> ContactFit:
    """Fit every landing of the window; `one_touch` (n,): no bounce was seen."""
    found = np.full((w.n, len(_NAMES)), np.nan)
    path = np.full((w.n, len(FINE[PATH])), np.nan)
    usable = np.flatnonzero(w.timed & _supported(w))
    kind = 2 * sees_gear(w)[usable] + (half_range_s(w)[usable] > _WIDE_S)
    for which in np.unique(kind):
        places, steps = usable[kind == which], _COARSE_WIDE if which % 2 else _COARSE
        gears = _EVERY_GEAR if which >= 2 else _USUAL_GEAR
        for some in np.split(places, np.arange(_AT_ONCE, len(places), _AT_ONCE)):
            seen = evidence(w.only(some))
            found[some], path[some] = _fit(seen, one_touch[some], w.contact_u_s[some], steps=steps, gears=gears)
    return ContactFit(**dict(zip(_NAMES, found.T, strict=True)), path_ft=path)


def _supported(w: Window) -> Bools:
    """Whether height or vertical speed is sampled often enough near contact."""
    return np.asarray((w.interval_s("radio_height_ft") < 2.1) | (w.interval_s("vertical_speed_fpm") < 1.1))


def _fit(e: Evidence, one_touch: Bools, anchor_u_s: Floats, *, steps: int, gears: Ints) -> tuple[Floats, Floats]:
    """Columns of the contact fit, (n, 13), and its path."""
    information, vector = before_contact(e, one_touch)
    known = _without_lag(information, vector)
    every = np.tile(gears, (len(anchor_u_s), 1))
    coarse = grid(np.linspace(-1.0, 1.0, steps) * e.half_s[:, None], every)
    first = weigh(e, known, coarse, anchor_u_s)
    step = np.clip(_STEP_SHARE * first.time_u, _SMALLEST * e.half_s, _LARGEST * e.half_s)
    times = first.time[:, None] + (np.arange(_FINE) - _FINE // 2) * step[:, None]
    fine = grid(np.maximum(times, e.split_s[:, None] + 0.03), likeliest(first.share, every, _BEST_GEARS))
    second = weigh(e, known, fine, anchor_u_s)
    away = np.abs(coarse.tau_s - first.time[:, None]) > (_FINE // 2 + 0.5) * step[:, None]
    elsewhere = (first.share * away).sum(axis=1)
    time_u = np.sqrt(second.time_u**2 + elsewhere * first.time_u**2 + ACCEL_DELAY_U_S**2)
    own = np.hypot(np.where(e.quick_accel, SPEED_U_FPS, _UNSEEN_U_FPS), _MODEL_SHARE * second.speed)
    log_gear = (second.share[..., None] * np.log(GEARS[fine.gear])).sum(axis=1)
    best = Touch(second.time[:, None], fine.gear[:, :1])
    unknowns, zero_u = _unknowns(e, information, vector, best)
    columns = (
        second.time,
        time_u,
        second.speed,
        np.hypot(second.speed_u, own),
        unknowns[:, ZERO] + unknowns[:, ARM] * on_grid(e.attitude, second.time),
        zero_u,
        unknowns[:, DELAY],
        unknowns[:, ARM],
        unknowns[:, VS_BIAS],
        unknowns[:, VS_LAG],
        np.where(e.quick_accel, _peak_gain(e, best, unknowns), np.nan),
        *np.exp(log_gear).T,
    )
    return np.stack(columns, axis=1), _path(e, second.time, unknowns)


def _path(e: Evidence, time: Floats, unknowns: Floats) -> Floats:
    """Height of the main wheels before contact, (n, k) ft; NaN where no acceleration shows how the path bends."""
    tau = time[:, None] + FINE[PATH]
    since = tau - e.split_s[:, None]
    x = unknowns[:, :, None]
    before = x[:, HEIGHT] + x[:, SPEED] * since + 0.5 * x[:, BIAS] * since**2 + on_grid(e.twice, tau)
    later = x[:, HEIGHT] + x[:, SPEED] * since + 0.5 * x[:, ACCEL] * since**2 + x[:, JERK] * since**3 / 6.0
    path = np.where(since <= 0.0, before, later) - x[:, MAINS] * on_grid(e.bend, tau)
    return np.where(e.quick_accel[:, None], path, np.nan)


def _without_lag(information: Floats, vector: Floats) -> tuple[Floats, Floats]:
    """Information and vector of the first unknowns with the vertical speed's own errors averaged out."""
    own, shared = information[:, TOUCHING:, TOUCHING:], information[:, :TOUCHING, TOUCHING:]
    out = np.linalg.solve(own, np.swapaxes(shared, 1, 2))
    kept = information[:, :TOUCHING, :TOUCHING] - shared @ out
    return kept, vector[:, :TOUCHING] - np.einsum("nrp,nr->np", out, vector[:, TOUCHING:])


def _unknowns(e: Evidence, information: Floats, vector: Floats, touch: Touch) -> tuple[Floats, Floats]:
    """All unknowns (n, 11) given one contact, and the uncertainty (n,) of radio height at the contact's attitude."""
    more, further, _ = after_split(e, touch)
    information, vector = information.copy(), vector.copy()
    information[:, :TOUCHING, :TOUCHING] += more[:, 0]
    vector[:, :TOUCHING] += further[:, 0]
    covariance = np.linalg.inv(information)
    zero = np.zeros((len(vector), UNKNOWNS))
    zero[:, ZERO], zero[:, ARM] = 1.0, on_grid(e.attitude, touch.tau_s)[:, 0]
    return np.einsum("npq,nq->np", covariance, vector), np.sqrt(np.einsum("np,npq,nq->n", zero, covariance, zero))


def _peak_gain(e: Evidence, touch: Touch, unknowns: Floats) -> Floats:
    """Largest low-passed acceleration less the largest of the samples, both by the fitted pulse, unbiased, (n,) g."""
    taken = e.accel.tau_s - ACCEL_DELAY_S
    taken = np.where((taken > touch.tau_s - 0.1) & (taken < touch.tau_s + _PULSE_S), taken, np.nan)
    every = touch.tau_s + np.linspace(0.0, _PULSE_S, 61)
    known = unknowns[:, :TOUCHING, None]
    sampled = (felt(e, touch, taken, seen="recorded")[:, 0] @ known)[..., 0]
    passed = (felt(e, touch, every, seen="low_passed")[:, 0] @ known)[..., 0]
    gain = rows.largest(passed) - rows.largest(np.where(np.isfinite(taken), sampled, np.nan))
    return (gain + unknowns[:, BIAS]) / G_FPS2

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
from pipeline.measures.installation import Installation
from pipeline.measures.window import FINE, G_FPS2, Window, between

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]

_COARSE, _COARSE_WIDE, _FINE, _BEST_GEARS = 17, 61, 13, 5
_WIDE_S = 0.8
_LOG_GEARS = np.log(GEARS)
_STEP_SHARE, _SMALLEST, _LARGEST = 0.6, 1.0 / 60.0, 1.0 / 8.0
"""Fine step as a share of the coarse standard deviation, and its bounds as shares of the half range."""
_AT_ONCE = 40
PATH = between(FINE, -BEFORE_S, 0.0)
_UNSEEN_U_FPS = 0.65
"""The model's own error of speed at contact where no acceleration shows how the path bends: our own choice."""
_MODEL_SHARE = 0.03
_GEAR_STEP_U = 0.2
"""Half a step of the grid of gears, in logarithms."""
_PULSE_S = 0.6
"""How long after contact the gear's first push may peak."""


@dataclass(frozen=True)
class ContactFit:
    """Per landing (n,), NaN where nothing was fitted.

    `offset_s`, `offset_u_s`: contact after the anchor; `speed_fps`, `speed_u_fps`: vertical speed of the main wheels
    over the runway surface the instant before; `zero_ft`, `zero_u_ft`, `delay_s`, `arm_ft`: radio height at zero wheel
    height and the contact's attitude; `vs_bias_fps`: bias of vertical speed; `peak_gain_g`: what a 5 Hz low-pass of the
    true signal would show over the largest sample. `installed`: gear and instruments as this landing leaves them known;
    NaN for the gear where no acceleration shows it. `path_ft` (n, k): height of the main wheels on the part `PATH` of
    the fine grid about the contact, where acceleration shows it.
    """

    offset_s: Floats
    offset_u_s: Floats
    speed_fps: Floats
    speed_u_fps: Floats
    zero_ft: Floats
    zero_u_ft: Floats
    vs_bias_fps: Floats
    peak_gain_g: Floats
    installed: Installation
    path_ft: Floats


_NUMBERS = ("offset_s", "offset_u_s", "speed_fps", "speed_u_fps", "zero_ft", "zero_u_ft", "vs_bias_fps", "peak_gain_g")
_INSTALLED = tuple(Installation.__dataclass_fields__)


def contact_fit(w: Window, one_touch: Bools, installed: Installation) -> ContactFit:
    """Fit every landing of the window.

    `one_touch` (n,): no bounce was seen; `installed`: what is known of gear and instruments before.
    """
    numbers = np.full((w.n, len(_NUMBERS)), np.nan)
    learned = np.full((w.n, len(_INSTALLED), 2), np.nan)
    path = np.full((w.n, len(FINE[PATH])), np.nan)
    usable = np.flatnonzero(w.timed & _supported(w))
    kind = 2 * sees_gear(w)[usable] + (half_range_s(w)[usable] > _WIDE_S)
    for which in np.unique(kind):
        places, steps = usable[kind == which], _COARSE_WIDE if which % 2 else _COARSE
        for some in np.split(places, np.arange(_AT_ONCE, len(places), _AT_ONCE)):
            job = _Job(evidence(w.only(some)), one_touch[some], w.contact_u_s[some], installed.only(some))
            numbers[some], learned[some], path[some] = _fit(job, steps=steps, seen=which >= 2)
    return ContactFit(
        **dict(zip(_NUMBERS, numbers.T, strict=True)),
        installed=Installation(**dict(zip(_INSTALLED, learned.swapaxes(0, 1), strict=True))),
        path_ft=path,
    )


@dataclass(frozen=True)
class _Job:
    """Landings that are fitted at once."""

    evidence: Evidence
    one_touch: Bools
    anchor_u_s: Floats
    installed: Installation

    def log_gears(self) -> Floats:
        """Log of what each gear is believed before the contact is seen, (n, g), but for a constant."""
        known = np.stack([self.installed.log_gear_frequency, self.installed.log_gear_damping], axis=1)
        away = (_LOG_GEARS - known[:, None, :, 0]) / known[:, None, :, 1]
        return -0.5 * (away**2).sum(axis=2)


def _supported(w: Window) -> Bools:
    """Whether height or vertical speed is sampled often enough near contact."""
    return np.asarray((w.interval_s("radio_height_ft") < 2.1) | (w.interval_s("vertical_speed_fpm") < 1.1))


def _fit(job: _Job, *, steps: int, seen: bool) -> tuple[Floats, Floats, Floats]:
    """Numbers (n, 8), constants (n, 5, 2) and path of the contact fit; `seen`: acceleration shows the gear."""
    e, log_gears = job.evidence, job.log_gears()
    information, vector = before_contact(e, job.one_touch, job.installed)
    known = _without_lag(information, vector)
    every = np.tile(np.arange(len(GEARS)), (len(e.split_s), 1)) if seen else np.argmax(log_gears, axis=1)[:, None]
    coarse = grid(np.linspace(-1.0, 1.0, steps) * e.half_s[:, None], every)
    first = weigh(e, known, coarse, job.anchor_u_s, log_gears)
    step = np.clip(_STEP_SHARE * first.time_u, _SMALLEST * e.half_s, _LARGEST * e.half_s)
    times = first.time[:, None] + (np.arange(_FINE) - _FINE // 2) * step[:, None]
    fine = grid(np.maximum(times, e.split_s[:, None] + 0.03), likeliest(first.share, every, _BEST_GEARS))
    second = weigh(e, known, fine, job.anchor_u_s, log_gears)
    away = np.abs(coarse.tau_s - first.time[:, None]) > (_FINE // 2 + 0.5) * step[:, None]
    elsewhere = (first.share * away).sum(axis=1)
    time_u = np.sqrt(second.time_u**2 + elsewhere * first.time_u**2)
    own = np.hypot(np.where(e.quick_accel, SPEED_U_FPS, _UNSEEN_U_FPS), _MODEL_SHARE * second.speed)
    best = Touch(second.time[:, None], fine.gear[:, :1])
    unknowns, covariance = _unknowns(e, information, vector, best)
    numbers = (
        second.time,
        np.hypot(time_u, ACCEL_DELAY_U_S),
        second.speed,
        np.hypot(second.speed_u, own),
        *_zero(e, second.time, unknowns, covariance),
        unknowns[:, VS_BIAS],
        np.where(e.quick_accel, _peak_gain(e, best, unknowns), np.nan),
    )
    gear = _gear(first.share, every) if seen else np.full((len(e.split_s), 2, 2), np.nan)
    own_errors = _own_errors(unknowns, covariance, time_u)
    return np.stack(numbers, axis=1), np.concatenate([own_errors, gear], axis=1), _path(e, second.time, unknowns)


def _own_errors(unknowns: Floats, covariance: Floats, time_u: Floats) -> Floats:
    """Delay of radio height, lag of vertical speed and arm of the antenna with their deviations, (n, 3, 2).

    A contact taken too late by some time makes the delay too long by as much.
    """
    which = [DELAY, VS_LAG, ARM]
    variance = covariance[:, which, which]
    variance[:, 0] += time_u**2
    return np.stack([unknowns[:, which], np.sqrt(variance)], axis=2)


def _gear(share: Floats, gears: Ints) -> Floats:
    """Mean and deviation of the gear's log frequency and log damping, (n, 2, 2), by the shares of all hypotheses."""
    weight = share.reshape(len(share), -1, gears.shape[1]).sum(axis=1)[..., None]
    values = _LOG_GEARS[gears]
    mean = (weight * values).sum(axis=1)
    variance = (weight * (values - mean[:, None]) ** 2).sum(axis=1)
    return np.stack([mean, np.sqrt(variance + _GEAR_STEP_U**2)], axis=2)


def _zero(e: Evidence, time: Floats, unknowns: Floats, covariance: Floats) -> tuple[Floats, Floats]:
    """Radio height at zero wheel height and the attitude at contact, and its uncertainty, (n,) ft."""
    attitude = on_grid(e.attitude, time)
    height = unknowns[:, ZERO] + unknowns[:, ARM] * attitude
    weight = np.stack([np.ones(len(time)), attitude], axis=1)
    of_both = covariance[:, [[ZERO], [ARM]], [ZERO, ARM]]
    return height, np.sqrt(np.asarray(np.einsum("np,npq,nq->n", weight, of_both, weight)))


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
    """All unknowns (n, 11) given one contact, and their covariance (n, 11, 11)."""
    more, further, _ = after_split(e, touch)
    information, vector = information.copy(), vector.copy()
    information[:, :TOUCHING, :TOUCHING] += more[:, 0]
    vector[:, :TOUCHING] += further[:, 0]
    covariance = np.asarray(np.linalg.inv(information), dtype=np.float64)
    return (covariance @ vector[..., None])[..., 0], covariance


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

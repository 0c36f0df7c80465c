"""The last seconds before contact as one small linear model per landing, solved for all landings at once.

Goes in: a window. Comes out: vertical speed at contact, the height channel's zero and lag, with their uncertainty, and
from these the height of the main wheels on both grids.

Model, with tau the time to contact and A the twice integrated (normal acceleration - 1) g:
    radio height   = zero + v tau + c tau^2/2 + A(tau) - lag_h V(tau)
    vertical speed = v + c tau + A'(tau) + bias - lag_v A''(tau)
Unknown: zero, v, c (accelerometer bias, or where there is none the flare's mean acceleration), lag_h, bias, lag_v, each
with a prior. V is the speed of the first of two rounds. It is linear, so that the answer and its covariance are exact
for the model; the model's own error (gear compressing at contact, curvature the acceleration does not show) is added.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from pipeline import rows
from pipeline.measures.window import COARSE, FINE, G_FPS2, KT_FPS, Window, between, smooth

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_SPAN = between(FINE, -4.0, 0.0)
_TAU = FINE[_SPAN]
_STEP = 1.0 / 16.0
_ZERO, _V, _C, _LAG_H, _BIAS, _LAG_V = range(6)
# Priors, mean and standard deviation, our own choice: radio zero about its rollout value (antenna arm times the pitch
# lost in the rollout) ft; speed ft/s; acceleration bias ft/s2 (0.02 g) or, without accelerometer, a flare's; lags s;
# bias of the vertical speed channel ft/s (30 ft/min).
_ZERO_U, _V_PRIOR, _V_U, _C_U, _FLARE_C, _FLARE_C_U = 1.0, -3.0, 10.0, 0.65, 1.2, 1.5
_LAG_H_PRIOR, _LAG_H_U, _BIAS_U, _LAG_V_PRIOR, _LAG_V_U = 0.1, 0.1, 0.5, 0.3, 0.25
_UNTIED_U = 2.0
"""Uncertainty of a radio height that no contact ties to zero, ft."""
_HEIGHT_FLOOR_FT, _SPEED_FLOOR_FPS = 0.35, 0.4
_MODEL_FPS, _MODEL_SHARE = 0.22, 0.06
"""The model's own error, constant and as a share of the speed: found on invented landings, not tuned on any log."""
_CURVATURE_FPS = 0.8
"""Extra uncertainty of the speed at contact where no accelerometer shows how the flare bends the path."""


@dataclass(frozen=True)
class ContactPath:
    """Per landing (n,): speed at contact and acceleration before it (ft/s, ft/s2).

    `height_fine` (n, m), `height_coarse` (n, k): main wheels above the runway, ft, from radio height; `height_u_ft`
    (n,): its standard uncertainty apart from sampling noise. NaN where the log cannot tell.
    """

    speed_fps: Floats
    speed_u_fps: Floats
    acceleration_fps2: Floats
    height_fine: Floats
    height_coarse: Floats
    height_u_ft: Floats


def contact_path(w: Window) -> ContactPath:
    """Solve every landing of the window; landings without a timed contact, or without radio height, come out NaN."""
    felt, has_accel = _felt_acceleration(w)
    first, twice = _integrals(felt)
    speed = np.full(w.n, _V_PRIOR)
    estimate = covariance = np.empty(0)
    for _ in range(2):
        estimate, covariance = _solve(w, felt, first, twice, speed, has_accel)
        speed = estimate[:, _V]
    usable = w.timed & _can(w)
    v, c, lag = (np.where(usable, estimate[:, i], np.nan) for i in (_V, _C, _LAG_H))
    acceleration = felt[:, -1] + c
    variance = covariance[:, _V, _V] + (acceleration * w.contact_u_s) ** 2 + _MODEL_FPS**2 + (_MODEL_SHARE * v) ** 2
    variance += np.where(has_accel, 0.0, _CURVATURE_FPS**2)
    radio = ~w.lacks("radio_height_ft")
    zero = np.where(radio, np.where(usable, estimate[:, _ZERO], 0.0), np.nan)
    zero_u = np.where(radio, np.where(usable, np.sqrt(covariance[:, _ZERO, _ZERO]), _UNTIED_U), np.nan)
    fine, coarse = _wheel_height(w, zero, lag)
    height_u = np.sqrt(zero_u**2 + 0.4**2)
    speed_fps, speed_u = closing_speed(v, np.sqrt(variance))
    return ContactPath(speed_fps, speed_u, acceleration, fine, coarse, height_u)


def closing_speed(mean: Floats, u: Floats) -> tuple[Floats, Floats]:
    """Mean and standard deviation (n,) of a normal estimate known to be negative: wheels that touch were closing.

    Changes nothing where the estimate is beyond doubt; NaN where it lies more than three of its uncertainties above 0,
    which no closing speed explains.

    >>> [round(float(x[0]), 3) for x in closing_speed(np.array([0.0]), np.array([1.0]))]
    [-0.798, 0.603]
    """
    z = np.where(np.isfinite(mean), mean / u, -9.0)
    tail = np.exp(-0.5 * z**2) / np.sqrt(2.0 * np.pi) / np.maximum(ndtr(-z), 1e-12)
    restricted = mean - u * tail
    spread = u * np.sqrt(np.maximum(1.0 + z * tail - tail**2, 1e-6))
    return np.where(z > 3.0, np.nan, restricted), spread


def _can(w: Window) -> Bools:
    """Whether height or vertical speed is sampled at least every 2.1 s near contact."""
    quick = (w.interval_s("radio_height_ft") < 2.1) | (w.interval_s("vertical_speed_fpm") < 1.1)
    near = rows.count(w.fine("radio_height_ft")[:, _SPAN]) + rows.count(w.fine("vertical_speed_fpm")[:, _SPAN])
    return quick & (near > len(_TAU) / 2)


def _felt_acceleration(w: Window) -> tuple[Floats, Bools]:
    """Vertical acceleration before contact (n, s), ft/s2, and whether an accelerometer tells it.

    The last interval before contact is held from earlier, so that the contact's own rise does not leak backward.
    """
    g = w.fine("normal_accel_g")[:, _SPAN]
    tilt = np.cos(np.radians(w.fine("pitch_deg")[:, _SPAN])) * np.cos(np.radians(w.fine("roll_deg")[:, _SPAN]))
    felt = (g * np.where(np.isfinite(tilt), tilt, 1.0) - 1.0) * G_FPS2
    interval = w.interval_s("normal_accel_g")
    has = (interval < 0.55) & (np.isfinite(felt).mean(axis=1) > 0.9)
    guard = np.clip(np.where(has, interval, 0.0) + 2.0 * np.nan_to_num(w.contact_u_s), 0.1, 0.8)
    quiet = rows.mean(np.where((-guard[:, None] - 0.4 < _TAU) & (-guard[:, None] >= _TAU), felt, np.nan))
    held = np.where(-guard[:, None] < _TAU, quiet[:, None], felt)
    return np.where(has[:, None] & np.isfinite(held), held, 0.0), has


def _integrals(felt: Floats) -> tuple[Floats, Floats]:
    """Speed and distance gained from contact backward, (n, s) each; both 0 at contact."""
    first = _back(felt)
    return first, _back(first)


def _back(x: Floats) -> Floats:
    """Integral of each row from the last grid time, by trapezoids."""
    pieces = 0.5 * (x[:, 1:] + x[:, :-1]) * _STEP
    total = np.concatenate([np.zeros((len(x), 1)), np.cumsum(pieces[:, ::-1], axis=1)], axis=1)[:, ::-1]
    return -total


def _solve(
    w: Window, felt: Floats, first: Floats, twice: Floats, speed: Floats, has_accel: Bools
) -> tuple[Floats, Floats]:
    """Posterior mean (n, 6) and covariance (n, 6, 6) of the linear model."""
    n, s = felt.shape
    tau = np.broadcast_to(_TAU, (n, s))
    slip = speed[:, None] + first
    nil, one = np.zeros((n, s)), np.ones((n, s))
    height = np.stack([one, tau, 0.5 * tau**2, -slip, nil, nil], axis=2)
    rate = np.stack([nil, one, tau, nil, one, -felt], axis=2)
    climb = w.fine("vertical_speed_fpm")[:, _SPAN] / 60.0 - _rising_ground(w)
    seen_h, seen_v = w.fine("radio_height_ft")[:, _SPAN] - twice, climb - first
    weight_h = _weight(w, "radio_height_ft", _HEIGHT_FLOOR_FT, 1.0, seen_h)
    weight_v = _weight(w, "vertical_speed_fpm", _SPEED_FLOOR_FPS, 60.0, seen_v)
    prior, precision = _prior(w, has_accel)
    information = _information(height, weight_h) + _information(rate, weight_v) + precision
    right = _projection(height, weight_h, seen_h) + _projection(rate, weight_v, seen_v)
    right += np.einsum("nij,nj->ni", precision, prior)
    covariance = np.linalg.inv(information)
    return np.einsum("nij,nj->ni", covariance, right), covariance.astype(np.float64)


def _information(rows_: Floats, weight: Floats) -> Floats:
    return np.einsum("nsi,ns,nsj->nij", rows_, weight, rows_, optimize=True)


def _projection(rows_: Floats, weight: Floats, seen: Floats) -> Floats:
    return np.einsum("nsi,ns->ni", rows_, weight * np.where(np.isfinite(seen), seen, 0.0))


def _weight(w: Window, channel: str, floor: float, per: float, seen: Floats) -> Floats:
    """Weight of each grid value (n, s): the native samples' information spread over the grid; 0 where missing."""
    interval = np.where(np.isfinite(w.interval_s(channel)), w.interval_s(channel), 1.0)
    sigma = np.maximum(w.noise(channel) / per, floor)
    each = np.minimum(_STEP / interval, 1.0) / sigma**2
    return np.where(np.isfinite(seen), each[:, None], 0.0)


def _prior(w: Window, has_accel: Bools) -> tuple[Floats, Floats]:
    radio = w.fine("radio_height_ft")
    rolled = rows.median(radio[:, between(FINE, 2.0, 7.0)])
    zero = np.where(np.isfinite(rolled), rolled, 0.0)
    zero_u = np.where(np.isfinite(rolled), _ZERO_U, 3.0)
    mean = np.tile([0.0, _V_PRIOR, 0.0, _LAG_H_PRIOR, 0.0, _LAG_V_PRIOR], (w.n, 1))
    mean[:, _ZERO] = zero
    mean[:, _C] = np.where(has_accel, 0.0, _FLARE_C)
    spread = np.tile([1.0, _V_U, 1.0, _LAG_H_U, _BIAS_U, _LAG_V_U], (w.n, 1))
    spread[:, _ZERO] = zero_u
    spread[:, _C] = np.where(has_accel, _C_U, _FLARE_C_U)
    return mean, spread[:, :, None] ** -2 * np.eye(6)


def _rising_ground(w: Window) -> Floats:
    """Speed at which the runway surface rises under the aircraft, ft/s, (n, s) or (n, 1); 0 where slope is unknown."""
    slope = np.nan_to_num(w.reference.slope_pct)[:, None] / 100.0
    ground_speed = w.fine("ground_speed_kt")[:, _SPAN]
    return slope * np.nan_to_num(ground_speed) * KT_FPS


def _wheel_height(w: Window, zero: Floats, lag: Floats) -> tuple[Floats, Floats]:
    """Radio height less its zero, moved back by its lag, on both grids."""
    fine = _advanced(w.fine("radio_height_ft"), _STEP, lag) - zero[:, None]
    coarse = _advanced(w.coarse("radio_height_ft"), COARSE[1] - COARSE[0], lag) - zero[:, None]
    return fine, coarse


def _advanced(height: Floats, step: float, lag: Floats) -> Floats:
    rate = np.gradient(smooth(height, 1.0, step), step, axis=1)
    return height + np.nan_to_num(lag)[:, None] * np.where(np.isfinite(rate), rate, 0.0)

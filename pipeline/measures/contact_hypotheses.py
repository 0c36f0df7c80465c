"""Hypotheses about a contact, when and on which gear, weighed by their evidence for all landings at once.

Goes in: evidence and the information it gives before the split. Comes out: shares, and the time and
speed they average to.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from pipeline.measures.biases import SWITCH_LAG_S, SWITCH_LAG_U_S
from pipeline.measures.contact_model import TOUCHING, Touch, after_split, at_contact
from pipeline.measures.contact_posterior import closing, solve
from pipeline.measures.contact_samples import Evidence

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_ANCHOR_U = 2.0
"""The anchor is believed to this many of its own uncertainties, and never to less than 0.15 s."""
_LEAST_ANCHOR_U_S = 0.15
_SWITCH_WRONG = 0.02
"""The chance that an air/ground switch tells nothing of the contact: our own choice."""
SPEED_U_FPS = 0.1
"""What no model of a contact describes better, ft/s: our own choice."""


@dataclass(frozen=True)
class Weighed:
    """Share (n, q) of each hypothesis; mean and standard deviation of time and speed at contact, (n,)."""

    share: Floats
    time: Floats
    time_u: Floats
    speed: Floats
    speed_u: Floats


def weigh(e: Evidence, known: tuple[Floats, Floats], touch: Touch, anchor_u_s: Floats, log_gears: Floats) -> Weighed:
    """Weigh the hypotheses by their evidence.

    The anchor itself is known to `anchor_u_s` (n,); `log_gears` (n, g): log of what each gear was believed before.
    """
    prior_u = np.maximum(_ANCHOR_U * np.nan_to_num(anchor_u_s, nan=0.5), _LEAST_ANCHOR_U_S)
    n, q = touch.tau_s.shape
    information, vector, log = after_split(e, touch)
    information = (information + known[0][:, None]).reshape(n * q, TOUCHING, TOUCHING)
    vector = (vector + known[1][:, None]).reshape(n * q, TOUCHING)
    fit, mean, variance = solve(information, vector, at_contact(e, touch.tau_s).reshape(n * q, TOUCHING))
    weight, mean, variance = closing(mean, variance + SPEED_U_FPS**2)
    log = log + (fit + weight).reshape(n, q) + _switch(e, touch.tau_s) - 0.5 * (touch.tau_s / prior_u[:, None]) ** 2
    log = log + np.take_along_axis(log_gears, touch.gear, axis=1)
    share = np.exp(log - log.max(axis=1, keepdims=True))
    share /= share.sum(axis=1, keepdims=True)
    mean, variance = mean.reshape(n, q), variance.reshape(n, q)
    time, speed = (share * touch.tau_s).sum(axis=1), (share * mean).sum(axis=1)
    time_u = np.sqrt((share * (touch.tau_s - time[:, None]) ** 2).sum(axis=1))
    speed_u = np.sqrt((share * (variance + (mean - speed[:, None]) ** 2)).sum(axis=1))
    return Weighed(share, time, time_u, speed, speed_u)


def _switch(e: Evidence, tau_s: Floats) -> Floats:
    """Log likelihood (n, q) of the switch's samples: it closes a little after contact, if it tells anything."""

    def closed(by_s: Floats) -> Floats:
        return np.asarray(ndtr((by_s[:, None] - tau_s - SWITCH_LAG_S) / SWITCH_LAG_U_S))

    between = closed(np.nan_to_num(e.switch_on_s)) - closed(np.nan_to_num(e.switch_off_s))
    return np.where(np.isfinite(e.switch_on_s)[:, None], np.log(between + _SWITCH_WRONG), 0.0)


def grid(times: Floats, gears: Ints) -> Touch:
    """Every time (n, t) with every gear (n, g)."""
    n, t, g = len(times), times.shape[1], gears.shape[1]
    return Touch(np.repeat(times, g, axis=1), np.broadcast_to(gears[:, None, :], (n, t, g)).reshape(n, t * g))


def likeliest(share: Floats, gears: Ints, most: int) -> Ints:
    """The `most` of `gears` (n, g) with the greatest share (n, q) of a grid that has every one at every time."""
    total = share.reshape(len(share), -1, gears.shape[1]).sum(axis=1)
    # rounded, so that gears of no weight come in the same order whatever the last digits
    order = np.argsort(-np.round(total, 9), axis=1, kind="stable")[:, :most]
    return np.take_along_axis(gears, order, axis=1)

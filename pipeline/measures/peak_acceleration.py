"""The peak of normal acceleration after first contact, as sampled and as a 5 Hz low-pass would show the true signal.

Goes in: a window and the fit of its contacts. Comes out: the answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS
from pipeline.measures.contact_fit import ContactFit
from pipeline.measures.window import Window
from pipeline.stack import peak

Floats = NDArray[np.float64]

_PULSE_S = 0.3
"""Width of the half-sine that stands for a contact no fit describes: our own choice."""
_SHAPE_G, _SHAPE_SHARE, _GAIN_SHARE = 0.012, 0.03, 0.35
"""What the pulse's shape adds to the uncertainty: constant, as a share of the peak, as a share of what was added."""
_LEAST_GAIN, _MOST_GAIN = -0.15, 0.6
"""Bounds of what the low-pass takes from, and the sampling hides of, the sampled peak, as shares of it."""
_SLOWEST_S = 0.26


def capture(rate_hz: Floats) -> tuple[Floats, Floats]:
    """Mean and standard deviation of the share of a half-sine peak that the largest sample shows, (n,) each.

    A pulse of width T sampled at fs with random phase: the largest sample lies within half an interval of the peak, so
    that it shows cos(y) with y uniform on [0, x], x = pi / (2 fs T); its mean is sin(x) / x.

    >>> round(float(capture(np.array([8.0 * 0.25 / 0.3]))[0][0]), 3)
    0.9
    """
    x = np.pi / (2.0 * np.maximum(rate_hz, 0.1) * _PULSE_S)
    average = np.sin(x) / x
    square = 0.5 + np.sin(2.0 * x) / (4.0 * x)
    return average, np.sqrt(np.maximum(square - average**2, 0.0))


def peak_acceleration(w: Window, fit: ContactFit) -> dict[str, Answer]:
    """Peak normal acceleration within 1 s of first contact, g.

    `peak_g` adds to the largest sample what the fitted pulse says a low-pass would show more, or less. Null without a
    contact or the channel; `too_slow` below 4 samples a second, where the pulse falls between samples.
    """
    now = np.where(w.timed, w.anchor_s, 0.0)
    top, held = peak(w.stack, "normal_accel_g", w.log, (now - 0.25, now + 1.0))
    interval = w.interval_s("normal_accel_g")
    missing = (*w.no_contact, *w.without("normal_accel_g"))
    excess = np.maximum(top - 1.0, 0.0)
    share, spread = capture(1.0 / np.minimum(interval, 10.0))
    gain = np.clip(fit.peak_gain_g, _LEAST_GAIN * excess, _MOST_GAIN * excess)
    gain = np.where(np.isfinite(gain), gain, excess / share - excess)
    unsure = np.where(np.isfinite(fit.peak_gain_g), _GAIN_SHARE * np.abs(gain), excess / share**2 * spread)
    noise = np.hypot(BIAS["normal_accel_g"], w.noise("normal_accel_g"))
    u = np.sqrt(unsure**2 + noise**2 + _SHAPE_G**2 + (_SHAPE_SHARE * excess) ** 2)
    slow = (w.slower_than("normal_accel_g", _SLOWEST_S), "too_slow")
    return {
        "peak_g": answer(top + gain, u, missing=(*missing, slow)),
        "peak_g_sampled": answer(np.where(held > 0, top, np.nan), noise, missing=missing),
    }

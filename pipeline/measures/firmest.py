"""Bounces: which of a landing's contacts was the firmest, and where the aircraft settled.

Goes in: a window, the touches found, the track and the rollout. Comes out: the answers by measure name.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.rollout import Roll
from pipeline.measures.track import Track, distance_u
from pipeline.measures.window import KT_FPS, ROLL, Window
from pipeline.stack import peak

Floats = NDArray[np.float64]

_BEFORE_S, _AFTER_S = 0.25, 1.0
_LARGEST_SHARE = 1.5
"""A sampled peak is raised to what a low-pass of the true signal would show by at most this share."""
_LATER_SHARE = 0.1
"""What the rate of samples may hide of a later contact's peak, as a share of it (our own choice)."""


def firmest(w: Window, touches: Sequence[tuple[float, ...] | None], *, before: dict[str, Answer]) -> dict[str, Answer]:
    """Largest peak acceleration over all contacts, and which contact that was.

    Each later contact's largest sample is raised by the same share as the first's: `before` holds peak_g and
    peak_g_sampled. A firmer contact pushes harder on the same gear, so that the largest peak tells the greatest
    downward speed. Null as peak_g is, `too_slow` where the channels are too slow to see a bounce.
    """
    peak_g, sampled = before["peak_g"], before["peak_g_sampled"]
    share = np.clip((peak_g.number - 1.0) / np.maximum(sampled.number - 1.0, 0.05), 1.0, _LARGEST_SHARE)
    later = _later_peaks(w, touches)
    later = np.where(np.isfinite(later), 1.0 + (later - 1.0) * share[:, None], -np.inf)
    best = later.max(axis=1, initial=-np.inf)
    value = np.fmax(peak_g.number, np.where(np.isfinite(best), best, np.nan))
    u = np.where(best > peak_g.number, np.hypot(peak_g.quality, _LATER_SHARE * (value - 1.0)), peak_g.quality)
    which = np.where(best > peak_g.number, later.argmax(axis=1) + 1, 0) if later.shape[1] else np.zeros(w.n)
    apart = np.where(np.isfinite(best), np.abs(best - peak_g.number), np.inf)
    unseen = (np.array([found is None for found in touches], dtype=bool), "too_slow")
    missing = (*peak_g.missing, unseen)
    return {
        "peak_g_firmest": answer(value, u, missing=missing),
        "firmest_contact": answer(which.astype(float), ndtr(apart / np.hypot(u, peak_g.quality)), missing=missing),
        "normal_accel_rate_hz": _rate(w),
    }


def _later_peaks(w: Window, touches: Sequence[tuple[float, ...] | None]) -> Floats:
    """Largest sample about each contact after the first, (n, most bounces); NaN where there is none."""
    most = max((len(found) for found in touches if found), default=1) - 1
    times = np.full((w.n, max(most, 0)), np.nan)
    for row, found in enumerate(touches):
        if found and len(found) > 1:
            times[row, : len(found) - 1] = found[1:]
    which, number = np.nonzero(np.isfinite(times))
    when = times[which, number]
    top, held = peak(w.stack, "normal_accel_g", w.log[which], (when - _BEFORE_S, when + _AFTER_S))
    times[which, number] = np.where(held > 0, top, np.nan)
    return times


def _rate(w: Window) -> Answer:
    interval = w.interval_s("normal_accel_g")
    missing = (*w.without("normal_accel_g"),)
    return answer(1.0 / np.where(np.isfinite(interval), interval, np.nan), 0.01 / interval, missing=missing)


def settled(
    w: Window, touches: Sequence[tuple[float, ...] | None], *, track: Track, rolled: Roll, first: Answer
) -> dict[str, Answer]:
    """Distance of the last contact from the landing threshold; `first`: that of the first.

    Null as the first is, `too_slow` where the channels are too slow to see a bounce, `no_channel` where there was one
    and no ground speed tells how far it went.
    """
    last = np.array([np.nan if not found else found[-1] for found in touches]) - w.anchor_s
    once = np.array([found is not None and len(found) == 1 for found in touches], dtype=bool)
    further = np.where(once, 0.0, rows.at(rolled.covered_ft, ROLL, last))
    fps = np.nan_to_num(rows.at(rolled.speed_kt, ROLL, last), nan=120.0) * KT_FPS
    later_u = np.where(once, 0.0, np.hypot(distance_u(last), 0.1 * fps))
    unseen = np.array([found is None for found in touches], dtype=bool)
    missing = (
        *first.missing,
        (unseen, "too_slow"),
        *w.lacking(~once & w.lacks("ground_speed_kt"), "ground_speed_kt"),
    )
    x = track.contact_x_ft + further
    return {"settled_distance_ft": answer(x, np.hypot(track.x_u_ft, later_u), missing=missing)}

"""The nose-up rotation that breaks the approach descent: when it starts and ends, and by how much the nose rises.

Goes in: a window and wheel heights. Comes out: the rotation of each landing, with how sure it is.

Every onset of some weight is followed to where it leads; the answer is that of the heaviest group of onsets that agree,
and the spread over all of them is its uncertainty: where two rotations compete, the uncertainty says so.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline.measures.onset import ONSETS_S, STEP_S
from pipeline.measures.rotation_course import SPAN, Course, course
from pipeline.measures.rotation_odds import PATH, onset_odds
from pipeline.measures.window import FINE, Window

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_STEP = 1.0 / 16.0
_FOLLOWED = 12
"""Onsets followed a landing."""
_AGREE_S = 0.4
_LEAST_LOG_ODDS = 2.5
"""A path that has not broken for as sure as this never did."""
_PATH_ALONE_COUNTS = 0.5
"""Gusts bend the path for longer than its model has them: alone, its odds count for so much in its uncertainty."""
_LEAST_RISE_DEG, _LEAST_OF_WANDER = 0.75, 0.7
"""A nose that rises by less, or by less than this share of its wander, has not left its line for good."""


@dataclass(frozen=True)
class Rotation:
    """Per landing (n,), NaN where no rotation was found: times to contact in s, attitudes in deg.

    `start_s` when the attitude stands 0.3 deg above the line, `start_u_s`; `end_s` when the rotation has ended;
    `sampling_u_s` the part of `start_u_s` that is not the spread over starts; `line_deg` the line's value at the start;
    `rise_deg` from there to the end, `rise_u_deg`. `path_start_s` when the path alone says that the descent broke,
    `path_start_u_s`; NaN where it does not.
    `starts_s`, `weights` (n, c): the starts that were weighed; `agree` (n, c) those the answer rests on.
    `found` (n,): a rotation beyond doubt; `shown` (n,): the pitch channel could have shown one.
    """

    start_s: Floats
    start_u_s: Floats
    sampling_u_s: Floats
    end_s: Floats
    line_deg: Floats
    rise_deg: Floats
    rise_u_deg: Floats
    path_start_s: Floats
    path_start_u_s: Floats
    starts_s: Floats
    weights: Floats
    agree: Bools
    found: Bools
    shown: Bools

    def settle(self, values: Floats) -> tuple[Floats, Floats]:
        """Mean of `values` (n, c) over the starts the answer rests on and their spread about it over all, (n,) each."""
        return _settle(values, self.weights, self.agree)


def rotation(w: Window, height: Floats) -> Rotation:
    """Find the rotation of each landing; `height` (n, m) of the wheels on the fine grid, NaN where unknown."""
    odds = onset_odds(w, height)
    onsets, weights = _heaviest(odds.both)
    turn = course(np.where(FINE <= 0.0, w.fine("pitch_deg"), np.nan)[:, SPAN], onsets)
    weights = np.where(np.isfinite(turn.rise_deg), weights, 0.0)
    agree = _agreeing(turn.stands_s, weights)
    least = np.maximum(_LEAST_RISE_DEG, _LEAST_OF_WANDER * odds.pitch_wander_deg)
    found = (_settle(turn.rise_deg, weights, agree)[0] >= least) & odds.shown & w.timed
    path_start, path_u = _path_start(odds.path)
    broke = odds.follows & w.timed & (_total(odds.path) > _LEAST_LOG_ODDS)
    return Rotation(
        **_with_u(w, _settled(turn, weights, agree, found)),
        path_start_s=np.where(broke, path_start, np.nan),
        path_start_u_s=np.where(broke, path_u, np.nan),
        starts_s=turn.stands_s,
        weights=weights,
        agree=agree,
        found=found,
        shown=odds.shown,
    )


def _total(odds: Floats) -> Floats:
    """Log of the summed odds of each row, (n,)."""
    top = np.maximum(odds.max(axis=1), -1e9)
    return top + np.log(np.maximum(np.exp(odds - top[:, None]).sum(axis=1), 1e-300))


def _shares(odds: Floats) -> Floats:
    """Share of each onset (n, c) of all odds."""
    share = np.exp(odds - np.maximum(odds.max(axis=1), -1e9)[:, None])
    return share / np.maximum(share.sum(axis=1), 1e-300)[:, None]


def _heaviest(odds: Floats) -> tuple[Floats, Floats]:
    """The onsets (n, f) that hold most of the odds, s to contact, and their share of all."""
    best = np.argpartition(-odds, _FOLLOWED, axis=1)[:, :_FOLLOWED]
    share = _shares(odds)
    return ONSETS_S[best], np.take_along_axis(share, best, axis=1)


def _agreeing(starts: Floats, weights: Floats) -> Bools:
    """Which starts (n, c) stand within a fraction of a second of the one with the most weight about it."""
    with np.errstate(invalid="ignore"):
        near = np.abs(starts[:, :, None] - starts[:, None, :]) < _AGREE_S
    about = np.einsum("ncd,nd->nc", near, weights)
    chosen = np.argmax(np.where(weights > 0.0, about, -1.0), axis=1)
    return near[np.arange(len(starts)), chosen] & (weights > 0.0)


def _settle(values: Floats, weights: Floats, agree: Bools) -> tuple[Floats, Floats]:
    known = np.isfinite(values)
    held = np.where(known, values, 0.0)
    inner = np.where(agree & known, weights, 0.0)
    outer = np.where(known, weights, 0.0)
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = (inner * held).sum(axis=1) / inner.sum(axis=1)
        away = outer * (held - np.nan_to_num(mean)[:, None]) ** 2
        return mean, np.sqrt(away.sum(axis=1) / outer.sum(axis=1))


def _settled(turn: Course, weights: Floats, agree: Bools, found: Bools) -> dict[str, Floats]:
    answers: dict[str, Floats] = {}
    courses = {"start": turn.stands_s, "end": turn.end_s, "line": turn.line_deg, "rise": turn.rise_deg}
    for name, values in courses.items():
        mean, spread = _settle(values, weights, agree)
        answers[name], answers[f"{name}_u"] = np.where(found, mean, np.nan), np.where(found, spread, np.nan)
    answers["end_u"] = _settle(turn.rise_u_deg, weights, agree)[0]
    return answers


def _with_u(w: Window, settled: dict[str, Floats]) -> dict[str, Floats]:
    """The answer with what sampling and noise add to the spread over onsets."""
    with np.errstate(invalid="ignore", divide="ignore"):
        rate = settled["rise"] / (settled["end"] - settled["start"])
    interval = np.minimum(w.interval_s("pitch_deg"), 2.0)
    noise = np.hypot(w.noise("pitch_deg"), w.resolution("pitch_deg") / np.sqrt(12.0))
    sampled = noise / np.sqrt(np.clip(1.0 / np.maximum(interval, _STEP), 1.0, 4.0))
    sampling_u = np.sqrt((sampled / np.maximum(rate, 0.3)) ** 2 + (0.2 * interval) ** 2 + 0.09**2)
    rise_u = np.sqrt(
        settled["rise_u"] ** 2 + settled["end_u"] ** 2 + 1.5 * sampled**2 + (0.15 * interval * rate) ** 2 + 0.05**2
    )
    return {
        "start_s": settled["start"],
        "start_u_s": np.hypot(settled["start_u"], sampling_u),
        "sampling_u_s": sampling_u,
        "end_s": settled["end"],
        "line_deg": settled["line"],
        "rise_deg": settled["rise"],
        "rise_u_deg": rise_u,
    }


def _path_start(odds: Floats) -> tuple[Floats, Floats]:
    """When the path alone left its line: the likeliest instant and the spread of the odds, (n,) s to contact each."""
    reached = np.cumsum(_shares(_PATH_ALONE_COUNTS * odds), axis=1)
    early, late = (ONSETS_S[np.argmax(reached >= part, axis=1)] for part in (0.16, 0.84))
    return ONSETS_S[np.argmax(odds, axis=1)] + PATH.delay_s, np.hypot(0.5 * (late - early), STEP_S)

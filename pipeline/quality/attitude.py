"""Checks of pitch against the path it makes, the load it makes, and the way it falls when the nosewheel comes down."""

import numpy as np

from pipeline.quality.check import Check, Judging, pair, titled
from pipeline.quality.courses import Courses, Floats, usual
from pipeline.quality.grid import STEP_S, change
from pipeline.quality.relation import Relation, relate

PATH_FOLLOWS_S = 1.2
"""How long the path takes to follow the attitude: one to two seconds for aircraft of any size (common practice)."""
_PITCHING = Judging(low=0.3, high=3.0, sure=0.6, contrary=-1.0, wild=0.3)
_ANGLE_OF_ATTACK = (-8.0, 18.0)
_LOAD_WEIGHT, _DROP_WEIGHT, _DROP_MOST_DEG = 1.5, 0.2, 3.0
_AGREES, _TURNED = 0.3, -0.5
"""Limits of the score. In turbulence the nose turns into the gust and against the path, so no single evidence will do;
on landings flown by a flight-dynamics library in gusts good pitch scores above -0.45, and turned pitch mostly below."""
_MOVES_DEG = 0.1
_THREE_S, _EIGHT_S = 6, 16


def attitude_checks(courses: Courses) -> list[Check]:
    """Judge pitch; nothing without vertical speed."""
    if not (courses.grid.has("pitch_deg") and courses.grid.has("vertical_speed_fpm")):
        return []
    rests_on = ("vertical_speed_fpm",)
    moves = _with_path(courses, "pitch_deg")
    scaled = moves if moves is not None and moves.correlation > 0.0 else None
    attack = usual(_aloft(courses, "pitch_deg") - courses.path_deg)
    low, high = _ANGLE_OF_ATTACK
    wrong = f"stands {attack:.0f} deg over the path, an angle of attack no aircraft flies at"
    passed = (None if low <= attack <= high else False) if np.isfinite(attack) else None
    return [
        pair("pitch_deg", "vertical_speed_fpm", scaled, _PITCHING, rests_on=rests_on),
        _sign(pitching(courses, "pitch_deg")),
        Check(f"{titled('pitch_deg')} over the path", ("pitch_deg",), attack, low, high, passed, wrong, rests_on),
    ]


def pitching(courses: Courses, channel: str) -> float:
    """How far a channel behaves as pitch: about 1 to 3 where it does, as far below 0 where its sign is turned.

    The sum of three: its correlation over three seconds with the attitude that makes the path; 1.5 times that of the
    angle between it and the path with the load, which an angle of attack makes; 0.2 times its fall in deg, at most 3,
    from contact to the rollout. NaN where the channel hardly moves: a landing without any rotation tells nothing.
    """
    path = _with_path(courses, channel)
    if path is None or abs(path.ratio) * path.size < _MOVES_DEG:
        return float("nan")
    attack = change(_aloft(courses, channel) - courses.path_deg, _THREE_S)
    load = relate(attack, change(courses.grid.of("normal_accel_g"), _THREE_S), centred=True)
    drop = np.clip(np.nan_to_num(_drop_deg(courses, channel)), -_DROP_MOST_DEG, _DROP_MOST_DEG)
    felt = load.correlation if load is not None else 0.0
    return float(path.correlation + _LOAD_WEIGHT * felt + _DROP_WEIGHT * drop)


def _sign(score: float) -> Check:
    wrong = "moves against the path, the load and the landing: sign turned?"
    passed = True if score >= _AGREES else False if score < _TURNED else None
    rests_on = ("vertical_speed_fpm",)
    return Check("pitch the right way up", ("pitch_deg",), score, _TURNED, np.inf, passed, wrong, rests_on)


def _with_path(courses: Courses, channel: str) -> Relation | None:
    """How a channel moves with the pitch that would make the path: the path, and what it is about to do."""
    path = courses.path_deg
    expected = path + PATH_FOLLOWS_S * np.gradient(path, STEP_S)
    return relate(change(_aloft(courses, channel), _THREE_S), change(expected, _THREE_S), centred=True)


def _aloft(courses: Courses, channel: str) -> Floats:
    return np.where(courses.flying, courses.grid.of(channel), np.nan)


def _drop_deg(courses: Courses, channel: str) -> float:
    """Value at the last touchdown followed by eight seconds on the ground, less that five to nine seconds on."""
    on = ~courses.flying
    touched = np.flatnonzero(on[1:] & ~on[:-1]) + 1
    value = courses.grid.of(channel)
    for j in touched[::-1]:
        if on[j : j + _EIGHT_S].all() and 4 < j < len(on) - _EIGHT_S:
            return usual(value[j - 2 : j + 2]) - usual(value[j + 10 : j + 20])
    return float("nan")

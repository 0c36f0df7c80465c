"""Checks of roll against the turn it makes: the rate of a turn is g times the tangent of the bank over the speed."""

import numpy as np

from pipeline.quality.check import Check, Judging, pair
from pipeline.quality.courses import G_FPS2, Courses, Floats
from pipeline.quality.grid import change, gained
from pipeline.quality.relation import Relation, relate

_TURNING = Judging(low=0.3, high=8.0, sure=0.6, contrary=-0.35, wild=0.3)
_HARDLY_TURNING = Judging(low=0.3, high=8.0, sure=0.6, contrary=-0.5, wild=0.3)
"""Into a crosswind an aircraft may bank without turning, so that roll may say much more than the track."""
_EIGHT_S = 16
_LEAST_TURN_DEG, _CLEAR_TURN_DEG = 0.12, 0.2


def roll_checks(courses: Courses) -> list[Check]:
    """Judge roll against the turn of the track by positions, and of the recorded track."""
    if not courses.grid.has("roll_deg"):
        return []
    turned = _turned(courses, "roll_deg")
    told = ((name, _relation(turned, track)) for name, track in _tracks(courses).items())
    return [pair("roll_deg", name, one, _judging(one), rests_on=(name,)) for name, one in told if one is not None]


def _judging(relation: Relation) -> Judging:
    """A track that hardly turns must contradict the more clearly: gusts turn it too."""
    return _TURNING if _turn_deg(relation) >= _CLEAR_TURN_DEG else _HARDLY_TURNING


def turning(courses: Courses, channel: str) -> float | None:
    """Correlation of the turn that a channel would make as roll with that of the track; None where nothing turns."""
    turned = _turned(courses, channel)
    told = (_relation(turned, track) for track in _tracks(courses).values())
    return max((one.correlation for one in told if one is not None), default=None)


def _turned(courses: Courses, channel: str) -> Floats:
    """Turn over eight seconds that a channel would make as roll, deg (m - 16,)."""
    bank = np.radians(np.where(courses.flying, courses.grid.of(channel), np.nan))
    return gained(np.degrees(G_FPS2 * np.tan(bank) / courses.speed_fps), _EIGHT_S)


def _tracks(courses: Courses) -> dict[str, Floats]:
    return {"latitude_deg": courses.position_track_deg, "track_true_deg": courses.grid.of("track_true_deg")}


def _relation(turned: Floats, track: Floats) -> Relation | None:
    """Turn by roll over turn of the track; None where neither turns to speak of."""
    relation = relate(turned, change(track, _EIGHT_S), centred=True)
    return relation if relation is not None and _turn_deg(relation) >= _LEAST_TURN_DEG else None


def _turn_deg(relation: Relation) -> float:
    """The larger of the turns by track and by roll, deg."""
    return relation.size * max(1.0, abs(relation.ratio))

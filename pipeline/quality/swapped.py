"""Whether pitch and roll are each other."""

from dataclasses import replace

from pipeline.quality.attitude import pitching
from pipeline.quality.check import Check
from pipeline.quality.courses import Courses
from pipeline.quality.turning import turning

_BETTER, _GOOD, _TURNS = 0.7, 0.6, 0.2
_ATTITUDE = ("pitch_deg", "roll_deg")
_WRONG = (
    "turns the track as roll should, and roll moves with the path: pitch and roll swapped?",
    "moves with the path as pitch should, and pitch turns the track: pitch and roll swapped?",
)


def attitude_swapped(courses: Courses, checks: list[Check]) -> list[Check]:
    """Return the checks, and one of pitch and roll that fails where each behaves as the other should.

    Where it fails the other checks of the two have nothing to say.
    """
    if not all(courses.grid.has(name) for name in (*_ATTITUDE, "vertical_speed_fpm")):
        return checks
    pitch, roll = (pitching(courses, name) for name in _ATTITUDE)
    as_roll, own = (turning(courses, name) for name in _ATTITUDE)
    swapped = roll >= _GOOD and roll - pitch >= _BETTER and as_roll is not None and as_roll - (own or 0.0) >= _TURNS
    kept = [replace(c, passed=None) if swapped and set(_ATTITUDE) & set(c.channels) else c for c in checks]
    about = "pitch and roll the right way round"
    return kept + [
        Check(about, (name,), pitch - roll, -_BETTER, float("inf"), not swapped, wrong)
        for name, wrong in zip(_ATTITUDE, _WRONG, strict=True)
    ]

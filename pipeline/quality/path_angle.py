"""Which of height and vertical speed makes a descent that aircraft fly, where only the two disagree."""

import numpy as np

from pipeline.quality.check import Check
from pipeline.quality.courses import Courses, usual
from pipeline.quality.vertical import HEIGHTS

_FLOWN_DEG = (1.8, 7.5)
"""Angles of final descents: three degrees is usual, steep approaches reach seven (common practice)."""
_LOW_FT, _HIGH_FT = 30.0, 1000.0


def blamed_by_path(courses: Courses, checks: list[Check]) -> dict[str, str]:
    """Name the channel whose descent over the ground is too flat or too steep where the other's is not."""
    blamed: dict[str, str] = {}
    for check in checks:
        first, second = (*check.channels, "")[:2]
        if check.passed is not False or second != "vertical_speed_fpm" or first not in HEIGHTS:
            continue
        by_speed = _descent_deg(courses)
        by_height = np.degrees(np.arctan(np.tan(np.radians(by_speed)) * check.statistic))
        low, high = _FLOWN_DEG
        good_speed, good_height = low <= by_speed <= high, low <= by_height <= high
        if good_speed != good_height:
            guilty, angle = (first, by_height) if good_speed else (second, by_speed)
            blamed[guilty] = f"makes a descent of {angle:.1f} deg"
    return blamed


def _descent_deg(courses: Courses) -> float:
    """Usual angle of descent by vertical speed over the last part of flight, positive down."""
    height = courses.grid.of("radio_height_ft")
    low = (height > _LOW_FT) & (height < _HIGH_FT) if np.isfinite(height).any() else courses.flying
    sink = -courses.grid.of("vertical_speed_fpm") / 60.0
    going_down = low & courses.flying & (sink > 0.0)
    return float(np.degrees(np.arctan2(usual(sink[going_down]), usual(courses.speed_fps[going_down]))))

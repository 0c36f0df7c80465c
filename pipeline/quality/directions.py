"""Checks of heading, track and positions against each other: mirrored, swapped, opposite, or in another unit."""

import numpy as np

from pipeline.quality.check import Check, titled
from pipeline.quality.courses import Courses, Floats, usual

_HEADING_OFF, _TRACK_OFF = 45.0, 15.0
"""Drift angle beyond which heading and track are not of one flight: 30 kt across at 60 kt gives 30 deg."""
_FULL_TURN_RAD = 6.2832
_FITS, _AGREE = 20.0, 15.0
_SURE = 20
POSITIONS = ("latitude_deg", "longitude_deg")


def direction_checks(courses: Courses) -> list[Check]:
    """Judge track against positions, and heading against both."""
    place = courses.position_track_deg
    track = np.where(courses.flying, courses.grid.of("track_true_deg"), np.nan)
    heading = np.where(courses.flying, courses.grid.of("heading_true_deg"), np.nan)
    return [
        _apart("track_true_deg", track, "latitude_deg", place, _TRACK_OFF),
        _apart("heading_true_deg", heading, "latitude_deg", place, _HEADING_OFF),
        _apart("heading_true_deg", heading, "track_true_deg", track, _HEADING_OFF),
    ]


def _apart(first: str, a: Floats, second: str, b: Floats, limit: float) -> Check:
    """Usual angle between two directions."""
    about = f"{titled(first)} against {titled(second)}"
    both = np.isfinite(a) & np.isfinite(b)
    if both.sum() < _SURE:
        return Check(about, (first, second), float("nan"), 0.0, limit, None)
    off = usual(np.abs(turn(a[both] - b[both])))
    if np.abs(a[both]).max() <= _FULL_TURN_RAD and off > _FITS > usual(np.abs(turn(np.degrees(a[both]) - b[both]))):
        wrong = f"never beyond {_FULL_TURN_RAD:.2f}: radians read as degrees?"
        return Check(about, (first,), off, 0.0, limit, passed=False, wrong=wrong)
    guess = _guess(a[both], b[both]) if second == "latitude_deg" else ""
    wrong = f"{titled(first)} and {titled(second)} lie {off:.0f} deg apart{guess}"
    passed = True if off <= _AGREE else None if off <= limit else False
    return Check(about, (first, second), off, 0.0, limit, passed, wrong)


def _guess(said: Floats, place: Floats) -> str:
    """What mistake in the positions would bring them together."""
    mistakes = {
        "longitude with its sign turned": -place,
        "latitude with its sign turned": 180.0 - place,
        "both positions with their sign turned": 180.0 + place,
        "latitude and longitude swapped": 90.0 - place,
    }
    off, guess = min((usual(np.abs(turn(said - track))), name) for name, track in mistakes.items())
    return f": {guess}?" if off <= _FITS else ""


def turn(degrees: Floats) -> Floats:
    """Angle from -180 to 180 deg."""
    return np.mod(degrees + 180.0, 360.0) - 180.0

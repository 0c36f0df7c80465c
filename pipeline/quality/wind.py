"""The recorded wind held against the wind that airspeed and heading leave of ground speed and track."""

import numpy as np

from pipeline.quality.check import Check
from pipeline.quality.courses import Courses, Floats, usual
from pipeline.quality.factors import factor_words

_LEAST_KT, _LEAST_OPPOSED_KT = 14.0, 8.0
_RATIO = (0.6, 1.75)
_OPPOSED = -0.5
_TRUE_OVER_INDICATED = 1.5e-5
"""True over indicated airspeed grows by 1.5 % a thousand feet in the standard atmosphere's lowest layer."""


def wind_checks(courses: Courses) -> list[Check]:
    """Judge strength and direction of the recorded wind; nothing without the four channels that make one."""
    made = _made(courses)
    strength, origin = courses.grid.of("wind_speed_kt"), np.radians(courses.grid.of("wind_from_true_deg"))
    said = strength * np.cos(origin), strength * np.sin(origin)
    both = courses.flying & np.isfinite(made[0]) & np.isfinite(said[0])
    if both.sum() < 20:
        return []
    north, east = (usual(part[both]) for part in made)
    said_north, said_east = (usual(part[both]) for part in said)
    size, said_size = float(np.hypot(north, east)), float(np.hypot(said_north, said_east))
    return [_strength(size, said_size), _direction(size, said_size, north * said_north + east * said_east)]


def _strength(size: float, said: float) -> Check:
    low, high = _RATIO
    ratio = said / size if size else float("nan")
    judged = size >= _LEAST_KT
    wrong = factor_words("wind_speed_kt", ratio, "the wind made of drift and speeds")
    passed = low <= ratio <= high if judged else None
    return Check("wind speed against drift and speeds", ("wind_speed_kt",), ratio, low, high, passed, wrong, _RESTS_ON)


def _direction(size: float, said: float, product: float) -> Check:
    judged = min(size, said) >= _LEAST_OPPOSED_KT
    cosine = product / (size * said) if judged else float("nan")
    wrong = "points against what drift and speeds say: the direction the wind blows to?"
    about = "wind direction against drift and speeds"
    passed = cosine >= _OPPOSED if judged else None
    return Check(about, ("wind_from_true_deg",), cosine, _OPPOSED, 1.0, passed, wrong, _RESTS_ON)


_RESTS_ON = ("airspeed_kt", "ground_speed_kt", "heading_true_deg")


def _made(courses: Courses) -> tuple[Floats, Floats]:
    """Wind from the north and from the east, kt, (m,) each."""
    grid = courses.grid
    altitude = grid.of("pressure_altitude_ft" if grid.has("pressure_altitude_ft") else "geometric_altitude_ft")
    through = grid.of("airspeed_kt") * (1.0 + _TRUE_OVER_INDICATED * np.nan_to_num(altitude))
    track = grid.of("track_true_deg") if grid.has("track_true_deg") else courses.position_track_deg
    nose, way = np.radians(grid.of("heading_true_deg")), np.radians(track)
    over = grid.of("ground_speed_kt")
    return through * np.cos(nose) - over * np.cos(way), through * np.sin(nose) - over * np.sin(way)

"""Checks of ground speed, airspeed, positions and longitudinal acceleration against each other."""

import numpy as np

from pipeline.quality.check import Check, Judging, pair, titled
from pipeline.quality.courses import FOUR_S, G_FPS2, KT_FPS, Courses, usual
from pipeline.quality.factors import POSITIONS, factor_words
from pipeline.quality.grid import change, gained
from pipeline.quality.relation import Relation, relate

_SLOWING = Judging(low=0.7, high=1.45, sure=0.9, contrary=-0.8)
"""How airspeed falls with ground speed in the rollout: wind cancels."""
_PUSHED = Judging(low=0.35, high=2.8, sure=0.9, contrary=-0.8, wild=0.6)
_DISTANCE = (0.95, 1.05)
_AT_REST_G = 0.35
"""Half of the time less than this: a climb at 15 deg feels 0.26 g."""
_EXACT = 0.025
_SWAPPED = "is not the speed over the ground, and airspeed is: ground speed and airspeed swapped?"
_AIR_OVER_GROUND = (0.45, 2.2)
_BRAKING_KT = 6.0
_SLOWING_KT, _SLOWED_KT = 3.0, 5.0
"""Loss of ground speed over four seconds from which wind no longer rules the change of airspeed."""


def speed_checks(courses: Courses) -> list[Check]:
    """Judge ground speed against positions, airspeed against ground speed, and braking against both."""
    grid = courses.grid
    checks: list[Check] = []
    if grid.has("ground_speed_kt") and grid.has("latitude_deg") and grid.has("longitude_deg"):
        checks += _distance(courses)
    if grid.has("ground_speed_kt") and grid.has("airspeed_kt"):
        checks += _airspeed(courses)
    if grid.has("longitudinal_accel_g"):
        checks += _braking(courses)
    return checks


def _distance(courses: Courses) -> list[Check]:
    """Ground speed over that by positions four seconds apart; no unit scales degrees, so ground speed is blamed."""
    moved = courses.moved_ft
    ratio, airspeed = (_over_positions(courses, name) for name in ("ground_speed_kt", "airspeed_kt"))
    low, high = _DISTANCE
    passed = low <= ratio <= high if np.isfinite(ratio) and np.isfinite(moved).sum() >= 20 else None
    swapped = passed is False and abs(airspeed - 1.0) < _EXACT and _same_unit(courses)
    about = "ground speed against positions"
    wrong = _SWAPPED if swapped else factor_words("ground_speed_kt", ratio, POSITIONS)
    checks = [Check(about, ("ground_speed_kt",), ratio, low, high, passed, wrong, ("latitude_deg",))]
    if swapped:
        wrong = "is the speed over the ground: ground speed and airspeed swapped?"
        about = "airspeed against positions"
        checks.append(Check(about, ("airspeed_kt",), airspeed, 0.0, 1.0, passed=False, wrong=wrong))
    return checks


def _same_unit(courses: Courses) -> bool:
    """Whether airspeed and ground speed rise and fall by the same amounts."""
    slope = _slope(courses)
    return slope is not None and 0.85 <= slope.ratio <= 1.2


def _over_positions(courses: Courses, name: str) -> float:
    flown = gained(courses.grid.of(name) * KT_FPS, FOUR_S)
    known = (courses.moved_ft > 100.0) & (flown > 20.0)
    return usual(flown[known] / courses.moved_ft[known]) if known.sum() >= 20 else float("nan")


def _airspeed(courses: Courses) -> list[Check]:
    air, ground = courses.grid.of("airspeed_kt"), courses.grid.of("ground_speed_kt")
    slope = pair("airspeed_kt", "ground_speed_kt", _slope(courses), _SLOWING)
    low, high = _AIR_OVER_GROUND
    aloft = courses.flying & (ground > 0.0) & (air > 0.0)
    ratio = usual(air[aloft] / ground[aloft])
    passed = (None if low <= ratio <= high else False) if aloft.sum() >= 20 else None
    level = Check("airspeed over ground speed", ("airspeed_kt", "ground_speed_kt"), ratio, low, high, passed)
    return [slope, level]


def _slope(courses: Courses) -> Relation | None:
    """Change of airspeed over change of ground speed while it slows down; None where it never brakes."""
    air, lost = courses.grid.of("airspeed_kt"), change(courses.grid.of("ground_speed_kt"), FOUR_S)
    fast = air[FOUR_S:] > 0.2 * np.nanmax(air, initial=0.0)
    relation = relate(change(air, FOUR_S), np.where((lost < -_SLOWING_KT) & fast, lost, np.nan))
    return relation if relation is not None and relation.size >= _SLOWED_KT else None


def _braking(courses: Courses) -> list[Check]:
    pulled = courses.grid.of("longitudinal_accel_g")
    at_rest = usual(np.abs(pulled))
    checks = [
        Check(
            f"{titled('longitudinal_accel_g')} in itself",
            ("longitudinal_accel_g",),
            at_rest,
            0.0,
            _AT_REST_G,
            at_rest <= _AT_REST_G if np.isfinite(at_rest) else None,
            f"reads {at_rest:.2f} g half of the time: metres a second squared read as g?",
        )
    ]
    speed = "ground_speed_kt" if courses.grid.has("ground_speed_kt") else "airspeed_kt"
    if courses.grid.has(speed):
        lost = change(courses.grid.of(speed), FOUR_S)
        slowing = np.where(~courses.flying[FOUR_S:] & (lost < -_BRAKING_KT), lost, np.nan)
        relation = relate(gained(pulled * G_FPS2 / KT_FPS, FOUR_S), slowing)
        checks.append(pair("longitudinal_accel_g", speed, relation, _PUSHED))
    return checks

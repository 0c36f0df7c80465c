"""Checks of heights, vertical speed and normal acceleration against each other."""

from itertools import combinations

import numpy as np

from pipeline.quality.check import Check, Judging, pair, titled
from pipeline.quality.courses import G_FPS2, Courses, Floats, usual
from pipeline.quality.grid import change, gained
from pipeline.quality.relation import Relation, relate

HEIGHTS = ("radio_height_ft", "geometric_altitude_ft", "pressure_altitude_ft")
_CLIMB = Judging(low=0.75, high=1.33, sure=0.9, contrary=0.5)
"""Heights and vertical speed over eight seconds; terrain below a radio height is what they may differ by."""
_FELT = Judging(low=0.5, high=2.0, sure=0.8, contrary=-0.6)
"""Acceleration against change of vertical speed over four seconds; a slow recorder sees half of it or its aliases."""
_EIGHT_S, _FOUR_S = 16, 8
_TERRAIN_FROM = 1000.0
_LEAST_MOVE_FT = 15.0
_ONE_G = (0.9, 1.1)
_ON_WHEELS_FT, _STOOD_STEPS = 30.0, 6
_SWITCH = ("main_on_ground",)
_SOMETIMES_DOWN = 0.2
"""A height at zero in this share of the time on the ground is right: it is the switch that says yes in flight."""


def vertical_checks(courses: Courses) -> list[Check]:
    """Judge every pair of heights, each height against vertical speed, and acceleration against vertical speed."""
    moves = {name: _moves(courses, name) for name in (*HEIGHTS, "vertical_speed_fpm") if courses.grid.has(name)}
    checks = [
        pair(first, second, _moving(relate(moves[first], moves[second])), _CLIMB)
        for first, second in combinations(moves, 2)
    ]
    if courses.grid.has("radio_height_ft"):
        checks += _radio_height(courses)
    if courses.grid.has("normal_accel_g"):
        checks += _acceleration(courses)
    return checks


def _radio_height(courses: Courses) -> list[Check]:
    """Radio height is near zero on the ground and not below it in flight."""
    height = courses.grid.of("radio_height_ft")
    known = height[np.isfinite(height)]
    below = float((known < -_ON_WHEELS_FT).mean()) if len(known) else 0.0
    wrong = f"is below {-_ON_WHEELS_FT:.0f} ft in {below:.0%} of its samples: sign turned?"
    checks = [Check("radio height in itself", ("radio_height_ft",), below, 0.0, 0.2, below <= 0.2, wrong)]
    stood = courses.standing & np.isfinite(height)
    if stood.sum() >= _STOOD_STEPS:
        reads = usual(height[stood])
        swapped = any(abs(usual(courses.grid.of(name)[stood])) < _ON_WHEELS_FT for name in HEIGHTS[1:])
        guess = ": radio height and an altitude swapped?" if swapped else ""
        wrong = f"reads {reads:.0f} ft with the wheels on the ground{guess}"
        down = float((np.abs(height[stood]) <= _ON_WHEELS_FT).mean())
        passed = abs(reads) <= _ON_WHEELS_FT or down >= _SOMETIMES_DOWN
        low, high, about = -_ON_WHEELS_FT, _ON_WHEELS_FT, "radio height on the ground"
        checks.append(Check(about, ("radio_height_ft",), reads, low, high, passed, wrong, _SWITCH))
    return checks


def _moves(courses: Courses, name: str) -> Floats:
    """Feet climbed over eight seconds, (m - 16,)."""
    value = courses.grid.of(name)
    if name == "vertical_speed_fpm":
        return gained(value / 60.0, _EIGHT_S)
    if name == "radio_height_ft":
        low = np.where((value > 5.0) & (value < _TERRAIN_FROM), value, np.nan)
        value = low if np.isfinite(low).sum() > 3 * _EIGHT_S else value
    return change(value, _EIGHT_S)


def _moving(relation: Relation | None) -> Relation | None:
    """Nothing where neither has climbed or come down to speak of."""
    if relation is None or max(relation.size, abs(relation.ratio) * relation.size) < _LEAST_MOVE_FT:
        return None
    return relation


def _acceleration(courses: Courses) -> list[Check]:
    felt = np.where(courses.flying, courses.grid.of("normal_accel_g"), np.nan)
    middle = usual(felt)
    checks = [_one_g(middle)] if np.isfinite(felt).sum() >= 20 else []
    if courses.grid.has("vertical_speed_fpm") and np.isfinite(middle):
        climbing = change(courses.grid.of("vertical_speed_fpm"), _FOUR_S)
        pulled = gained((felt - middle) * G_FPS2 * 60.0, _FOUR_S)
        checks.append(pair("normal_accel_g", "vertical_speed_fpm", relate(pulled, climbing, centred=True), _FELT))
    return checks


def _one_g(middle: float) -> Check:
    low, high = _ONE_G
    left_out, turned = abs(middle) < high - 1.0, low < -middle < high
    guess = ": the 1 g of steady flight left out?" if left_out else ": sign turned?" if turned else ""
    wrong = f"reads {middle:.2f} g in flight, where 1 is steady{guess}"
    about = f"{titled('normal_accel_g')} in steady flight"
    return Check(about, ("normal_accel_g",), middle, low, high, low <= middle <= high, wrong)

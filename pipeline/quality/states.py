"""Checks of switches and stated values: the wheels on the ground in flight, the gear up on the ground, the weight."""

import numpy as np

from pipeline.quality.check import Check, titled
from pipeline.quality.courses import Courses, usual
from pipeline.quality.factors import factor_words

_ALOFT_FT, _FAST_KT = 150.0, 40.0
_ROLLED_STEPS = 12
_WEIGHT = (0.75, 1.33)


def state_checks(courses: Courses) -> list[Check]:
    """Judge the ground switches in flight and the gear on the ground."""
    checks = [_aloft(courses, name) for name in ("main_on_ground", "nose_on_ground") if courses.grid.has(name)]
    if courses.grid.has("gear_down"):
        checks.append(_gear(courses))
    return checks


def _aloft(courses: Courses, name: str) -> Check:
    """Share of the time well above the ground in which the switch says that its wheels bear."""
    grid = courses.grid
    height = grid.of("radio_height_ft")
    if not grid.has("radio_height_ft"):
        lowest = [grid.of(c) for c in ("geometric_altitude_ft", "pressure_altitude_ft") if grid.has(c)]
        height = lowest[0] - np.nanmin(lowest[0]) if lowest else height
    speed = np.fmax(grid.of("ground_speed_kt"), grid.of("airspeed_kt"))
    aloft = (height > _ALOFT_FT) & ~(speed < _FAST_KT) & np.isfinite(grid.of(name))
    share = float((grid.of(name)[aloft] > 0.5).mean()) if aloft.sum() >= 20 else float("nan")
    wrong = f"says yes for {share:.0%} of the time well above the ground: yes and no the wrong way round?"
    passed = None if np.isnan(share) else share <= 0.5
    return Check(f"{titled(name)} well above the ground", (name,), share, 0.0, 0.5, passed, wrong)


def _gear(courses: Courses) -> Check:
    """Share of the roll on the main wheels in which the gear is said to be up."""
    grid = courses.grid
    on = grid.of("main_on_ground") > 0.5 if grid.has("main_on_ground") else grid.of("radio_height_ft") < 2.0
    rolling = on & np.isfinite(grid.of("gear_down")) & (courses.speed_fps > 0.0)
    share = float((grid.of("gear_down")[rolling] < 0.5).mean()) if rolling.sum() >= _ROLLED_STEPS else float("nan")
    wrong = "says up while the wheels roll: yes and no the wrong way round?"
    passed = None if np.isnan(share) else share <= 0.9
    return Check("gear down on the ground", ("gear_down",), share, 0.0, 0.9, passed, wrong, ("main_on_ground",))


def weight_check(courses: Courses, stated_kg: float) -> Check:
    """Judge the recorded weight against the stated one."""
    low, high = _WEIGHT
    ratio = usual(courses.grid.of("gross_weight_kg")) / stated_kg
    wrong = factor_words("gross_weight_kg", ratio, "the stated weight")
    about = "gross weight against the stated weight"
    return Check(about, ("gross_weight_kg",), ratio, low, high, low <= ratio <= high, wrong)

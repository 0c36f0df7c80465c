"""Checks of thrust lever, engine speed, fuel flow, flap and weight: turned round, a fraction, or in another unit."""

from itertools import combinations

import numpy as np

from pipeline.quality.check import Check, titled
from pipeline.quality.courses import Courses
from pipeline.quality.relation import relate

_FOLLOWS_STEPS = 3
"""Engine speed follows the lever by about 1.5 s."""
_SURE, _CONTRARY = 0.5, -0.6
_ROLL_STEPS = 6
"""The lever is closed about contact: the first three seconds on the ground are looked at too, before reverse."""
_MOVES = {"thrust_lever_pct": 2.0, "engine_speed_pct": 1.5, "fuel_flow_kg_h": 1.0}
_FRACTION = 1.5


def engine_checks(courses: Courses) -> list[Check]:
    """Judge whether lever, engine speed and fuel flow rise together, and whether percents or flap are fractions."""
    grid = courses.grid
    there = [name for name in _MOVES if grid.has(name)]
    checks = [_together(courses, first, second) for first, second in combinations(there, 2)]
    limits = {"thrust_lever_pct": "%", "engine_speed_pct": "%", "flap_deg": "deg"}
    return checks + [_fraction(courses, name) for name in limits if grid.has(name)]


def _together(courses: Courses, first: str, second: str) -> Check:
    """How engine speed or fuel flow goes with the lever; no unit turns those round, so the lever is blamed."""
    lever = first == "thrust_lever_pct"
    lead, follow = courses.grid.of(first), courses.grid.of(second)
    if lever:
        lead, follow = lead[:-_FOLLOWS_STEPS], follow[_FOLLOWS_STEPS:]
    aloft = courses.flying[: len(lead)]
    aloft[_ROLL_STEPS:] |= aloft[:-_ROLL_STEPS].copy()
    relation = relate(np.where(aloft, lead, np.nan), follow, centred=True)
    about = f"{titled(first)} against {titled(second)}"
    channels = (first,) if lever else (first, second)
    if relation is None or relation.size < _MOVES[second] or abs(relation.ratio) * relation.size < _MOVES[first]:
        return Check(about, channels, float("nan"), _CONTRARY, 1.0, None)
    r = relation.correlation
    passed = True if r >= _SURE else False if r < _CONTRARY else None
    turned = ": idle and full the wrong way round?" if lever else ""
    wrong = f"{'' if lever else titled(first) + ' '}falls where {titled(second)} rises{turned}"
    return Check(about, channels, r, _CONTRARY, 1.0, passed, wrong)


def _fraction(courses: Courses, name: str) -> Check:
    held = courses.grid.recording.channels[name].value
    largest = float(np.abs(held).max())
    about = f"{titled(name)} in itself"
    moves = 0.05 < largest <= _FRACTION and len(np.unique(held)) > 1
    wrong = f"never beyond {largest:.2g}: a fraction or radians?"
    if name == "flap_deg":
        moves = 0.05 < largest <= _FRACTION
    return Check(about, (name,), largest, _FRACTION, np.inf, False if moves else None, wrong)

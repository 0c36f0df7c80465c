"""What became of a stabilised approach below its gate: the first criterion broken, and whether it was flown on.

Goes in: a window and a gate as it was judged. Comes out: the first break, and what is measured of it.
"""

from dataclasses import dataclass
from functools import reduce

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from pipeline import rows
from pipeline.measures.answers import Answer, answer, nowhere
from pipeline.measures.biases import BIAS
from pipeline.measures.criteria import margins
from pipeline.measures.gates import Judged
from pipeline.measures.table import BY_NAME
from pipeline.measures.window import COARSE, Window, between
from pipeline.policy import CRITERIA

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Missing = tuple[tuple[Bools, str], ...]

HELD_FROM_FT = 500.0
"""The gate below which `stable_to_threshold` holds the criteria."""
DOWN_TO_FT = 50.0
"""The criteria are held down to this height; below it the landing itself changes speed, sink and thrust."""
_FLIGHT = between(COARSE, COARSE[0], 0.0)
_TAU = COARSE[_FLIGHT]
_STEP = COARSE[1] - COARSE[0]


@dataclass(frozen=True)
class Course:
    """What became of n approaches below a gate: the first break, and whether the criteria were held down to 50 ft.

    `criterion` that was broken, the `height_ft` where that began and the `duration_s` it lasted; null `not_reached`
    where nothing was broken. `held`: true or false; null as the verdict at the gate is, `not_reached` where the
    aircraft never came down to 50 ft.
    """

    criterion: Answer
    height_ft: Answer
    duration_s: Answer
    held: Answer


@dataclass(frozen=True)
class _Below:
    """Per landing: when it came down to 50 ft, 0 where it did not, and margins (n, c, k) from the gate to there."""

    end_s: Floats
    margin: Floats


@dataclass(frozen=True)
class _Break:
    """First break of each landing (n,): index of its criterion, -1 where there is none, and when it began and ended.

    `chance_held`: chance that no judged criterion was broken.
    """

    which: NDArray[np.intp]
    start_s: Floats
    end_s: Floats
    chance_held: Floats


def course(w: Window, at_gate: Judged) -> Course:
    """Follow the criteria from the gate down to 50 ft.

    A criterion is broken where its margin is negative for as long on end as the gate's rule says.
    """
    below = _below(w, at_gate)
    broken = _first_break(below, at_gate.margin_u, int(round(at_gate.rule.lasts_s / _STEP)) + 1)
    told = _told(w, at_gate.height, broken, missing=at_gate.stable.missing)
    return Course(*told, _to_threshold(below, broken, at_gate.stable))


def stability(w: Window, at_gate: Judged) -> dict[str, Answer]:
    """First break below the 500 ft gate, stable down to 50 ft, and unstable at the gate yet landed."""
    below = course(w, at_gate)
    return {
        "gate_500_first_break": below.criterion,
        "gate_500_first_break_height_ft": below.height_ft,
        "gate_500_first_break_duration_s": below.duration_s,
        "stable_to_threshold": below.held,
        "continued_unstable": _continued(w, at_gate.height, at_gate.stable),
    }


def not_held(n: int) -> dict[str, Answer]:
    """The answers of `n` landings where the policy has no gate to hold them from: all null, `no_reference`."""
    names = ("stable_to_threshold", "continued_unstable")
    return {name: nowhere(BY_NAME[name], n, "no_reference") for name in names}


def _below(w: Window, at_gate: Judged) -> _Below:
    rule, height = at_gate.rule, at_gate.height
    gate = rows.last_down_crossing(height, COARSE, rule.height_ft, before=np.zeros(w.n))
    low = rows.last_down_crossing(height, COARSE, DOWN_TO_FT, before=np.zeros(w.n))
    end = np.where(np.isfinite(low), low, 0.0)
    inside = (gate[:, None] <= _TAU) & (end[:, None] >= _TAU)
    dots = np.where(height[:, _FLIGHT] >= rule.dots_floor_ft, 0.0, np.nan)
    values = {
        "speed_over_target_kt": w.coarse("airspeed_kt")[:, _FLIGHT] - at_gate.target[:, None],
        "sink_fpm": -w.coarse("vertical_speed_fpm")[:, _FLIGHT],
        "localiser_dots": w.coarse("localiser_dots")[:, _FLIGHT] + dots,
        "glideslope_dots": w.coarse("glideslope_dots")[:, _FLIGHT] + dots,
        "bank_deg": w.coarse("roll_deg")[:, _FLIGHT],
        "gear_down": w.coarse("gear_down")[:, _FLIGHT],
        "flap_deg": w.coarse("flap_deg")[:, _FLIGHT],
        "thrust_pct": w.coarse("thrust_lever_pct")[:, _FLIGHT],
    }
    found = margins(values, rule, target=at_gate.target, path_deg=at_gate.path_deg, reference=w.reference)
    each = np.stack([found[c] for c in CRITERIA], axis=1)
    return _Below(end, np.where(inside[:, None, :], each, np.nan))


def _first_break(below: _Below, u: Floats, lasts: int) -> _Break:
    """The earliest break over all criteria that lasts so many grid values; `u` (n, c): of each criterion's margin."""
    held = _held(below.margin, lasts)
    broken = held < 0.0
    ever = broken.any(axis=2)
    first = np.where(ever, broken.argmax(axis=2), broken.shape[2])
    which = first.argmin(axis=1)
    none = ~(first < broken.shape[2]).any(axis=1)
    start = np.where(none, np.nan, _TAU[np.minimum(first.min(axis=1), len(_TAU) - 1)])
    margin = np.take_along_axis(below.margin, which[:, None, None], axis=1)[:, 0]
    over = ~(margin < 0.0) & (start[:, None] <= _TAU)
    end = np.where(over.any(axis=1), _TAU[over.argmax(axis=1)], 0.0)
    return _Break(np.where(none, -1, which), start, end, _chance_held(rows.smallest(held), u))


def _held(margin: Floats, lasts: int) -> Floats:
    """Largest margin in the `lasts` values from each grid time, (n, c, k - lasts + 1); NaN where one is missing."""
    size = margin.shape[2] - lasts + 1
    return reduce(np.maximum, (margin[..., shift : shift + size] for shift in range(lasts)))


def _chance_held(worst: Floats, u: Floats) -> Floats:
    """Chance (n,) that no judged criterion was broken; criteria taken as independent, errors as normal."""
    judged = np.isfinite(worst)
    met = ndtr(np.where(judged, worst, 0.0) / np.maximum(np.nan_to_num(u, nan=1.0), 1e-9))
    return np.asarray(np.where(judged, met, 1.0).prod(axis=1))


def _told(w: Window, height: Floats, broken: _Break, *, missing: Missing) -> tuple[Answer, Answer, Answer]:
    """The first break as answers: criterion, height and duration."""
    criterion = np.array([None if i < 0 else CRITERIA[i] for i in broken.which], dtype=object)
    begun = broken.start_s
    sink = np.abs(np.nan_to_num(rows.at(w.coarse("vertical_speed_fpm"), COARSE, begun), nan=700.0)) / 60.0
    none = (*missing, (broken.which < 0, "not_reached"))
    grid_u = _STEP / np.sqrt(12.0)
    height_u = np.hypot(BIAS["geometric_altitude_ft"], sink * grid_u)
    return (
        answer(criterion, 1.0 - broken.chance_held, missing=none),
        answer(rows.at(height, COARSE, begun), height_u, missing=none),
        answer(broken.end_s - begun, 2.0 * grid_u + 0.1, missing=none),
    )


def _to_threshold(below: _Below, broken: _Break, verdict: Answer) -> Answer:
    met = verdict.number > 0.5
    value = met & (broken.which < 0)
    sure = np.where(met, verdict.quality, 1.0 - verdict.quality) * broken.chance_held
    short = ~(below.end_s < 0.0)
    missing = (*verdict.missing, (short, "not_reached"))
    return answer(value.astype(float), np.where(value, sure, 1.0 - sure), missing=missing)


def _continued(w: Window, height: Floats, verdict: Answer) -> Answer:
    """Unstable at the gate and landed; unknown where the log ends on the approach."""
    after = height[:, int(np.searchsorted(COARSE, 1.0 - 1e-9))]
    cut = ~w.grounded & ~np.isfinite(after)
    value = (verdict.number < 0.5) & w.grounded
    sure = np.where(w.grounded, verdict.quality, 1.0)
    return answer(value.astype(float), sure, missing=(*verdict.missing, (cut, "not_reached")))

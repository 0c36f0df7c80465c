"""What became of a stabilised approach below its gate: the first criterion broken, and whether it was flown on.

Goes in: a window, height above the threshold, the gate's rule and its answers. Comes out: the answers by measure name.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from pipeline import rows
from pipeline.measures.answers import Answer, answer, nowhere
from pipeline.measures.biases import BIAS
from pipeline.measures.criteria import CRITERIA, VALUES, margins, uncertainties
from pipeline.measures.table import BY_NAME
from pipeline.measures.window import COARSE, Window, between
from pipeline.policy import Gate

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Missing = tuple[tuple[Bools, str], ...]

HELD_FROM_FT = 500.0
"""The gate below which the criteria are held."""
DOWN_TO_FT = 50.0
"""The criteria are held down to this height; below it the landing itself changes speed, sink and thrust."""
_FLIGHT = between(COARSE, -140.0, 0.0)
"""From 500 ft down takes no longer at a descent of 215 ft/min."""
_TAU = COARSE[_FLIGHT]
_STEP = COARSE[1] - COARSE[0]
_LASTS = int(round(2.0 / _STEP)) + 1
"""Grid values in the 2 s that make a break."""


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


def stability(
    w: Window, height: Floats, *, rule: Gate, target: Floats, at_gate: dict[str, Answer]
) -> dict[str, Answer]:
    """First break below the gate, stable down to 50 ft, and unstable at the gate yet landed.

    A criterion is broken where its margin is negative for 2 s on end, between the gate and 50 ft. `at_gate`: the gate's
    answers. The break is null `not_reached` where none happened; `stable_to_threshold` is null where the verdict at the
    gate is, and `not_reached` where the aircraft never came down to 50 ft.
    """
    name = f"gate_{rule.height_ft:.0f}"
    below = _below(w, height, rule, target)
    sure = uncertainties({value: at_gate[f"{name}_{value}"].quality for value in VALUES.values()})
    broken = _first_break(below, np.stack([sure[criterion] for criterion in CRITERIA], axis=1))
    verdict = at_gate[f"{name}_stable"]
    return {
        **_told(w, height, broken, missing=verdict.missing),
        "stable_to_threshold": _to_threshold(below, broken, verdict),
        "continued_unstable": _continued(w, height, verdict),
    }


def not_held(n: int) -> dict[str, Answer]:
    """The answers of `n` landings where the policy has no gate to hold them from: all null, `no_reference`."""
    names = ("stable_to_threshold", "continued_unstable")
    return {name: nowhere(BY_NAME[name], n, "no_reference") for name in names}


def _below(w: Window, height: Floats, rule: Gate, target: Floats) -> _Below:
    gate = rows.last_down_crossing(height, COARSE, rule.height_ft, before=np.zeros(w.n))
    low = rows.last_down_crossing(height, COARSE, DOWN_TO_FT, before=np.zeros(w.n))
    end = np.where(np.isfinite(low), low, 0.0)
    inside = (gate[:, None] <= _TAU) & (end[:, None] >= _TAU)
    above = height[:, _FLIGHT]
    dots = np.where(above >= rule.dots_floor_ft, 0.0, np.nan)
    values = {
        "speed_over_target_kt": w.coarse("airspeed_kt")[:, _FLIGHT] - target[:, None],
        "sink_fpm": -w.coarse("vertical_speed_fpm")[:, _FLIGHT],
        "localiser_dots": w.coarse("localiser_dots")[:, _FLIGHT] + dots,
        "glideslope_dots": w.coarse("glideslope_dots")[:, _FLIGHT] + dots,
        "bank_deg": w.coarse("roll_deg")[:, _FLIGHT],
        "gear_down": w.coarse("gear_down")[:, _FLIGHT],
        "flap_deg": w.coarse("flap_deg")[:, _FLIGHT],
        "thrust_pct": w.coarse("thrust_lever_pct")[:, _FLIGHT],
    }
    found = margins(values, rule, target=target, reference=w.reference)
    each = np.stack([found[c] for c in CRITERIA], axis=1)
    return _Below(end, np.where(inside[:, None, :], each, np.nan))


def _first_break(below: _Below, u: Floats) -> _Break:
    """The earliest break over all criteria; `u` (n, c): uncertainty of each criterion's margin."""
    held = _held(below.margin)
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


def _held(margin: Floats) -> Floats:
    """Largest margin in the 2 s from each grid time, (n, c, k - 8); NaN where one is missing."""
    two = np.maximum(margin[..., :-1], margin[..., 1:])
    four = np.maximum(two[..., :-2], two[..., 2:])
    eight = np.maximum(four[..., :-4], four[..., 4:])
    return np.maximum(eight[..., : -(_LASTS - 8)], margin[..., _LASTS - 1 :])


def _chance_held(worst: Floats, u: Floats) -> Floats:
    """Chance (n,) that no judged criterion was broken; criteria taken as independent, errors as normal."""
    judged = np.isfinite(worst)
    met = ndtr(np.where(judged, worst, 0.0) / np.maximum(np.nan_to_num(u, nan=1.0), 1e-9))
    return np.asarray(np.where(judged, met, 1.0).prod(axis=1))


def _told(w: Window, height: Floats, broken: _Break, *, missing: Missing) -> dict[str, Answer]:
    """The first break as answers: criterion, height and duration."""
    criterion = np.array([None if i < 0 else CRITERIA[i] for i in broken.which], dtype=object)
    begun = broken.start_s
    sink = np.abs(np.nan_to_num(rows.at(w.coarse("vertical_speed_fpm"), COARSE, begun), nan=700.0)) / 60.0
    none = (*missing, (broken.which < 0, "not_reached"))
    grid_u = _STEP / np.sqrt(12.0)
    height_u = np.hypot(BIAS["geometric_altitude_ft"], sink * grid_u)
    return {
        "gate_500_first_break": answer(criterion, 1.0 - broken.chance_held, missing=none),
        "gate_500_first_break_height_ft": answer(rows.at(height, COARSE, begun), height_u, missing=none),
        "gate_500_first_break_duration_s": answer(broken.end_s - begun, 2.0 * grid_u + 0.1, missing=none),
    }


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

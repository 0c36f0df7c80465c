"""Approach gates: what the aircraft was doing at each gate and which criteria it met.

Goes in: a window, the height above the threshold and a gate. Comes out: what the gate shows and the verdict on it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from pipeline import rows
from pipeline.measures.answers import Answer, answer, nowhere
from pipeline.measures.biases import BIAS
from pipeline.measures.criteria import margins, uncertainties
from pipeline.measures.table import MEASURES
from pipeline.measures.window import COARSE, Window
from pipeline.policy import CRITERIA, Gate

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Missing = tuple[tuple[Bools, str], ...]

_STEP = COARSE[1] - COARSE[0]
_LOOK = int(round(2.0 / _STEP))
"""Grid steps in the 2 s before the gate."""
GATES_FT = (1000.0, 500.0)
"""Heights above the threshold at which gates are measures of their own; the policy says by which rule, if by any."""
GLIDESLOPE_DOT_DEG = 0.35
"""One dot of a two-dot scale whose full scale is 0.7 deg (Aeronautical Information Manual 1-1-9, second-hand)."""
_HALF_WIDTH_FT = 350.0
"""Half of the localiser course at the threshold (700 ft in all: ICAO Annex 10 I 3.1.3.7, from memory)."""


@dataclass(frozen=True)
class Judged:
    """One gate of n landings.

    `target` speed, kt; `path_deg` the approach was flown at; `values` by name; `margin` and `margin_u` (n, c) of each
    criterion, positive where it is met, NaN where it is not judged; `stable` the verdict, `failed` and `not_judged` the
    criteria by name.
    """

    rule: Gate
    height: Floats
    target: Floats
    path_deg: Floats
    values: dict[str, Answer]
    margin: Floats
    margin_u: Floats
    stable: Answer
    failed: Answer
    not_judged: Answer

    def answers(self) -> dict[str, Answer]:
        """Everything the gate shows, by the names of the measures at its height."""
        found = self.values | {"stable": self.stable, "failed": self.failed, "not_judged": self.not_judged}
        return {f"gate_{self.rule.height_ft:.0f}_{key}": value for key, value in found.items()}


def judge(
    w: Window, height: Floats, height_source: NDArray[np.object_], *, rule: Gate, target: Floats, path_deg: Floats
) -> Judged:
    """Judge one gate on the median of the 2 s before the aircraft last came down through it.

    `height` (n, k): above the threshold on the coarse grid, ft, NaN where unknown; `target` (n,): target speed, kt, NaN
    where unknown; `path_deg` (n,): path angle of the approach, NaN where unknown. Null `not_reached` where the log
    never comes down through the gate, `no_reference` where what its height is above is not known; each value null
    `no_channel` or `no_reference` where it cannot be shown. The verdict is null only where speed and sink are both
    missing.
    """
    offset = _offset(w, rule)
    height = height + offset[:, None]
    when = rows.last_down_crossing(height, COARSE, rule.height_ft)
    unseen: Missing = (
        (np.array([source is None for source in height_source], dtype=bool), "no_channel"),
        (np.isnan(offset), "no_reference"),
        (np.isnan(when), "not_reached"),
    )
    values = {
        "speed_over_target_kt": _value(w, when, "airspeed_kt", minus=target, unseen=unseen),
        "sink_fpm": _value(w, when, "vertical_speed_fpm", sign=-1.0, unseen=unseen),
        "localiser_dots": _value(w, when, "localiser_dots", unseen=unseen),
        "glideslope_dots": _value(w, when, "glideslope_dots", unseen=unseen),
        "bank_deg": _bank(w, when, unseen),
        "thrust_pct": _value(w, when, "thrust_lever_pct", unseen=unseen),
        "flap_deg": _value(w, when, "flap_deg", unseen=unseen),
        "gear_down": _gear(w, when, unseen),
    }
    values |= {
        "localiser_deg": _angle(values["localiser_dots"], localiser_dot_deg(w.reference.localiser_ft)),
        "glideslope_deg": _angle(values["glideslope_dots"], np.full(w.n, GLIDESLOPE_DOT_DEG)),
    }
    margin, u = _criteria(w, values, rule, target, path_deg)
    asked = np.array([name in rule.criteria for name in CRITERIA])
    return Judged(rule, height, target, path_deg, values, margin, u, *_verdict(margin, u, asked, unseen))


def _offset(w: Window, rule: Gate) -> Floats:
    """How far the threshold lies above what the gate's height is above, (n,) ft; NaN where that is not known."""
    if rule.reference == "threshold":
        return np.zeros(w.n)
    return w.reference.elevation_ft - w.reference.airport_elevation_ft


def no_gate(n: int, height_ft: float) -> dict[str, Answer]:
    """The answers of `n` landings at a gate that the policy does not hold: all null, `no_reference`."""
    prefix = f"gate_{height_ft:.0f}_"
    return {m.name: nowhere(m, n, "no_reference") for m in MEASURES if m.name.startswith(prefix)}


def localiser_dot_deg(antenna_ft: Floats) -> Floats:
    """Angle (n,) deg of one localiser dot, half of full scale, for an antenna so far beyond the threshold, ft.

    >>> round(float(localiser_dot_deg(np.array([3000.0 / 0.3048]))[0]), 2)
    1.02
    """
    return 0.5 * np.degrees(np.arctan(_HALF_WIDTH_FT / antenna_ft))


def _angle(dots: Answer, dot_deg: Floats) -> Answer:
    """A deviation in dots as an angle; null as the deviation is, `no_reference` where a dot's size is not known."""
    missing = (*dots.missing, (~np.isfinite(dot_deg), "no_reference"))
    return answer(dots.number * dot_deg, dots.quality * dot_deg, missing=missing)


def _before(x: Floats, when: Floats) -> Floats:
    """The samples of each row (n, k) in the 2 s up to `when`, (n, 9); NaN where `when` is NaN."""
    index = np.where(np.isfinite(when), np.floor((when - COARSE[0]) / _STEP + 1e-6), 0).astype(int)
    columns = np.clip(index[:, None] + np.arange(-_LOOK, 1), 0, x.shape[1] - 1)
    chosen = np.take_along_axis(x, columns, axis=1)
    return np.where(np.isfinite(when)[:, None], chosen, np.nan)


def _value(
    w: Window,
    when: Floats,
    channel: str,
    *,
    unseen: Missing,
    sign: float = 1.0,
    minus: Floats | None = None,
) -> Answer:
    seen = _before(w.coarse(channel), when)
    value = sign * rows.median(seen)
    independent = np.clip(2.0 / np.maximum(w.interval_s(channel), 0.1), 1.0, 9.0)
    spread = np.nan_to_num(rows.deviation(seen)) / np.sqrt(independent)
    u = np.sqrt(spread**2 + BIAS[channel] ** 2 + w.resolution(channel) ** 2 / 12.0)
    missing = (*w.without(channel), *unseen)
    if minus is None:
        return answer(value, u, missing=missing)
    return answer(value - minus, u, missing=(*missing, (~np.isfinite(minus), "no_reference")))


def _bank(w: Window, when: Floats, unseen: Missing) -> Answer:
    value = rows.largest(np.abs(_before(w.coarse("roll_deg"), when)))
    u = np.sqrt(BIAS["roll_deg"] ** 2 + w.resolution("roll_deg") ** 2 / 12.0)
    return answer(value, u, missing=(*w.without("roll_deg"), *unseen))


def _gear(w: Window, when: Floats, unseen: Missing) -> Answer:
    value = rows.median(_before(w.coarse("gear_down"), when))
    confidence = 0.5 + 0.5 * np.abs(2.0 * np.nan_to_num(value) - 1.0)
    return answer((value > 0.5).astype(float) + 0.0 * value, confidence, missing=(*w.without("gear_down"), *unseen))


def _criteria(
    w: Window, values: dict[str, Answer], rule: Gate, target: Floats, path_deg: Floats
) -> tuple[Floats, Floats]:
    """Margin of each criterion (n, c), positive where it is met, NaN where it is not judged; and its uncertainty."""
    shown = {name: found.number for name, found in values.items()}
    if rule.height_ft < rule.dots_floor_ft:
        shown |= {name: np.full(w.n, np.nan) for name in ("localiser_dots", "glideslope_dots")}
    margin = margins(shown, rule, target=target, path_deg=path_deg, reference=w.reference)
    sure = uncertainties({name: found.quality for name, found in values.items()})
    return np.stack([margin[c] for c in CRITERIA], axis=1), np.stack([sure[c] for c in CRITERIA], axis=1)


def _verdict(margin: Floats, u: Floats, asked: Bools, unseen: Missing) -> list[Answer]:
    """The verdict, the criteria that failed and those that were asked for and not judged."""
    judged, failed = np.isfinite(margin), margin < 0.0
    either = [CRITERIA.index("speed"), CRITERIA.index("sink")]
    needed = judged[:, either] if asked[either].any() else judged
    missing: Missing = (*unseen, (needed.sum(axis=1) == 0, "no_channel"))
    confidence = _confidence(margin, u)
    return [
        answer((~failed.any(axis=1)).astype(float), confidence, missing=missing),
        answer(_listed(failed), confidence, missing=missing),
        answer(_listed(~judged & asked), 1.0, missing=missing),
    ]


def _confidence(margin: Floats, u: Floats) -> Floats:
    """Chance that the verdict is right, criteria taken as independent and their errors as normal, (n,)."""
    judged = np.isfinite(margin)
    met = np.where(judged, ndtr(np.where(judged, margin, 0.0) / np.maximum(np.nan_to_num(u, nan=1.0), 1e-9)), 1.0)
    all_met = met.prod(axis=1)
    return np.where((np.where(judged, margin, 1.0) < 0.0).any(axis=1), 1.0 - all_met, all_met)


def _listed(where: Bools) -> NDArray[np.object_]:
    """Names of the criteria where (n, c) is true, apart by blanks, (n,)."""
    out = np.empty(len(where), dtype=object)
    out[:] = [" ".join(name for name, yes in zip(CRITERIA, row, strict=True) if yes) for row in where]
    return out


def target_speed(
    w: Window, headwind: Floats, *, headwind_part: float, gust_part: float, additive_max_kt: float
) -> Floats:
    """Target approach speed (n,), kt: the stated one, else Vref plus the wind additive, else Vref; NaN without either.

    The additive is a share of the steady headwind plus a share of the gust increment, at most `additive_max_kt`
    (common practice; the operator's rule replaces it).
    """
    stated = w.reference.target_kt
    gust = np.nan_to_num(w.reference.gust_spread_kt)
    steady = np.maximum(np.nan_to_num(headwind), 0.0)
    additive = np.minimum(headwind_part * steady + gust_part * np.maximum(gust, 0.0), additive_max_kt)
    return np.where(np.isfinite(stated), stated, w.reference.vref_kt + additive)

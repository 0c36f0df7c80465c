"""How far each criterion of an approach gate is met: margins from values, for a moment or for every moment.

Goes in: values by name, the gate's rule and what is known of each landing. Comes out: margins, positive where met.
"""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from pipeline.measures.window import Reference
from pipeline.policy import CRITERIA, Criterion, Gate

Floats = NDArray[np.float64]

VALUES: dict[Criterion, str] = {
    "speed": "speed_over_target_kt",
    "sink": "sink_fpm",
    "localiser": "localiser_dots",
    "glideslope": "glideslope_dots",
    "bank": "bank_deg",
    "gear": "gear_down",
    "flap": "flap_deg",
    "thrust": "thrust_pct",
}
"""The value each criterion judges."""

_FLAP_MARGIN_DEG = 1.5
"""A flap this much short of the landing setting counts as set (rigging and recorder resolution: our own choice)."""


def margins(
    values: Mapping[str, Floats], rule: Gate, *, target: Floats, path_deg: Floats, reference: Reference
) -> dict[Criterion, Floats]:
    """Margin of each criterion, positive where it is met, NaN where it cannot be judged.

    `values` are (n,) or (n, k), named as in `VALUES`; `target` (n,): target speed, kt; `path_deg` (n,): the path angle
    the approach was flown at, positive for a descent. Deviations are judged wherever
    they are given: the caller leaves them out below the height at which they mean nothing. A criterion the rule does
    not ask for is not judged.
    """

    def known(x: Floats) -> Floats:
        return x.reshape(len(x), *[1] * (values["sink_fpm"].ndim - 1))

    speed = values["speed_over_target_kt"]
    over = np.minimum(speed + rule.speed_below_target_kt, rule.speed_above_target_kt - speed)
    every: dict[Criterion, Floats] = {
        "speed": np.fmin(over, speed + known(target - reference.vref_kt)),
        "sink": _sink(values["sink_fpm"], rule, known(reference.glidepath_deg), known(path_deg)),
        "localiser": rule.localiser_max_dots - np.abs(values["localiser_dots"]),
        "glideslope": rule.glideslope_max_dots - np.abs(values["glideslope_dots"]),
        "bank": rule.bank_max_deg - np.abs(values["bank_deg"]),
        "gear": values["gear_down"] - 0.5,
        "flap": values["flap_deg"] - known(reference.flap_deg) + _FLAP_MARGIN_DEG,
        "thrust": values["thrust_pct"] - known(reference.idle_at_gate_pct),
    }
    return {name: x if name in rule.criteria else np.full_like(x, np.nan) for name, x in every.items()}


def _sink(sink_fpm: Floats, rule: Gate, glidepath_deg: Floats, path_deg: Floats) -> Floats:
    """Margin of sink, which has its own limit where the runway's glide path is steep.

    Where the glide path is not known and the approach was flown steeply, it may have been a steep approach or a dive:
    sink between the two limits is not judged, and beyond the larger one is beyond any.
    """
    unsure = np.isnan(glidepath_deg) & (path_deg > rule.steep_above_deg)
    usual = np.where(glidepath_deg > rule.steep_above_deg, rule.steep_sink_max_fpm, rule.sink_max_fpm) - sink_fpm
    most = max(rule.sink_max_fpm, rule.steep_sink_max_fpm) - sink_fpm
    return np.where(unsure & (usual < 0.0), np.where(most < 0.0, most, np.nan), usual)


def uncertainties(quality: Mapping[str, Floats]) -> dict[Criterion, Floats]:
    """Standard uncertainty (n,) of each criterion's margin from the quality of its value, named as in `VALUES`.

    The gear's is a confidence: what it leaves to be wished for counts half, its margin being half a switch.
    """
    sure = {name: quality[VALUES[name]] for name in CRITERIA}
    gear = 0.5 * (1.0 - np.nan_to_num(sure["gear"], nan=1.0)) + 1e-3
    return {**sure, "gear": gear}

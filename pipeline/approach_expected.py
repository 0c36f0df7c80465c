"""How the approach differed from what its type is expected to show at that flap and weight.

Goes in: measured landings and the policy. Comes out: one row an approach, each difference with its uncertainty or the
reason why there is none.
"""

from collections.abc import Sequence

import numpy as np
import polars as pl

from pipeline.policy import AircraftType, Expected, Policy

DIFFERENCES = {
    "approach_pitch_over_expected_deg": ("approach_pitch_deg", "pitch_deg"),
    "approach_thrust_over_expected_pct": ("approach_thrust_pct", "thrust_pct"),
    "approach_engine_speed_over_expected_pct": ("approach_engine_speed_pct", "engine_speed_pct"),
}
"""Each difference, the measure it is of (500 to 100 ft), and what of the policy that measure is held against."""

SCHEMA: dict[str, type[pl.DataType]] = {
    "landing_id": pl.String,
    **{
        f"{name}{ending}": kind
        for name in DIFFERENCES
        for ending, kind in (("", pl.Float64), ("_u", pl.Float64), ("_reason", pl.String))
    },
}
_SAME_FLAP_DEG = 0.5
"""Landing flaps this near are the same setting (our own choice)."""


def approach_expected(landings: pl.DataFrame, policy: Policy) -> pl.DataFrame:
    """Measured less expected, positive above it, of every approach.

    The uncertainty is that of what was measured: weight, and a speed off the target, add to it and are not known.

    Returns
    -------
    Columns of SCHEMA. Null with the measure's own reason where it was not measured; `no_reference` where flap or weight
    is not known, or the policy expects nothing at them.
    """
    known = {kind: policy.types.get(kind or "", AircraftType()) for kind in landings["aircraft_type"].unique()}
    columns = [landings["landing_id"]]
    for name, (measure, part) in DIFFERENCES.items():
        expected = pl.Series("expected", _each(landings, known, part), dtype=pl.Float64)
        differs = (landings[measure] - expected).alias(name)
        reason = landings[f"{measure}_reason"].fill_null("no_reference").set(differs.is_not_null(), None)
        u = landings[f"{measure}_u"].set(differs.is_null(), None)
        columns += [differs, u.alias(f"{name}_u"), reason.alias(f"{name}_reason")]
    return pl.DataFrame(columns, schema_overrides=SCHEMA)


def at_flap_and_weight(rows: Sequence[Expected], part: str, *, flap_deg: float, weight_kg: float) -> float | None:
    """What is expected at one flap and weight, between the nearest weights given; None beyond them.

    >>> rows = (Expected(30.0, 4000.0, pitch_deg=1.0), Expected(30.0, 5000.0, pitch_deg=2.0))
    >>> at_flap_and_weight(rows, "pitch_deg", flap_deg=30.0, weight_kg=4250.0)
    1.25
    >>> at_flap_and_weight(rows, "pitch_deg", flap_deg=30.0, weight_kg=5001.0) is None
    True
    """
    given = sorted(
        (row.weight_kg, getattr(row, part))
        for row in rows
        if abs(row.landing_flap_deg - flap_deg) <= _SAME_FLAP_DEG and getattr(row, part) is not None
    )
    if not given or not given[0][0] <= weight_kg <= given[-1][0]:
        return None
    return float(np.interp(weight_kg, [weight for weight, _ in given], [value for _, value in given]))


def _each(landings: pl.DataFrame, known: dict[str | None, AircraftType], part: str) -> list[float | None]:
    flap = landings["landing_flap"].cast(pl.Float64, strict=False)
    expected: list[float | None] = []
    for kind, stated, weight in zip(landings["aircraft_type"], flap, landings["weight_kg"], strict=True):
        used = known[kind].landing_flap_deg if stated is None else stated
        if used is None or weight is None:
            expected.append(None)
        else:
            expected.append(at_flap_and_weight(known[kind].expected, part, flap_deg=used, weight_kg=weight))
    return expected

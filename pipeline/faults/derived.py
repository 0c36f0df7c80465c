"""Landings and contacts in; out: the same landings with the few numbers that faults judge and no measure has.

Each has its uncertainty `_u` and reason `_reason` as measures have.
"""

import polars as pl

from pipeline.policy import AircraftType, Policy

_SIZES = {
    "abs_lateral_drift_kt": "lateral_drift_kt",
    "abs_threshold_crosswind_kt": "threshold_crosswind_kt",
    "abs_crab_at_contact_deg": "crab_at_contact_deg",
    "abs_touchdown_lateral_ft": "touchdown_lateral_ft",
}
"""Sizes without a side, each of a measure."""
USUAL_HZ, QUICK_HZ = 7.5, 15.0
"""Rates from which samples count as of 8 Hz and of 16 Hz."""
_CLEARANCES = {"pod_clearance_deg": "pod_roll_deg", "tip_clearance_deg": "tip_roll_deg"}
"""What is left of the bank at which a part of the type touches, by the field that says so."""


def with_derived(landings: pl.DataFrame, contacts: pl.DataFrame, flown: pl.DataFrame, policy: Policy) -> pl.DataFrame:
    """Add sizes without a side, tailwind, clearances by bank, sampled g, later contacts, the flown.

    `flown`: what faults judge of the course, one row a landing.
    """
    sizes = [
        expr
        for name, of in _SIZES.items()
        for expr in (pl.col(of).abs().alias(name), _same(of, name, "_u"), _same(of, name, "_reason"))
    ]
    wind = "threshold_headwind_kt"
    tailwind = [
        (-pl.col(wind)).alias("threshold_tailwind_kt"),
        _same(wind, "threshold_tailwind_kt", "_u"),
        _same(wind, "threshold_tailwind_kt", "_reason"),
    ]
    wider = landings.with_columns(*sizes, *tailwind, *_sampled(), *_clearances(landings, policy))
    wider = wider.join(flown, on="landing_id", how="left", maintain_order="left")
    return wider.join(_firmer(contacts), on="landing_id", how="left", maintain_order="left").with_columns(
        pl.when(pl.col("later_contact_firmer_fpm").is_null())
        .then(pl.coalesce("vertical_speed_at_contact_fpm_reason", pl.lit("not_reached")))
        .alias("later_contact_firmer_fpm_reason")
    )


def _same(of: str, name: str, ending: str) -> pl.Expr:
    return pl.col(of + ending).alias(name + ending)


def _sampled() -> list[pl.Expr]:
    """Largest sampled acceleration where it is sampled often enough for a limit."""
    quick = pl.col("normal_accel_rate_hz") >= USUAL_HZ
    name, of = "sampled_g", "peak_g_sampled"
    return [
        pl.when(quick).then(of).alias(name),
        pl.when(quick).then(f"{of}_u").alias(f"{name}_u"),
        pl.coalesce(f"{of}_reason", pl.when(~quick.fill_null(value=False)).then(pl.lit("too_slow"))).alias(
            f"{name}_reason"
        ),
    ]


def _clearances(landings: pl.DataFrame, policy: Policy) -> list[pl.Expr | pl.Series]:
    made: list[pl.Expr | pl.Series] = []
    roll = landings["roll_at_contact_deg"]
    for name, field in _CLEARANCES.items():
        touches = [getattr(policy.types.get(kind or "", AircraftType()), field) for kind in landings["aircraft_type"]]
        limit = pl.Series(touches, dtype=pl.Float64)
        reason = landings["roll_at_contact_deg_reason"].fill_null("no_reference")
        left = limit - roll.abs()
        made += [
            left.alias(name),
            landings["roll_at_contact_deg_u"].alias(f"{name}_u"),
            reason.set(left.is_not_null(), None).alias(f"{name}_reason"),
        ]
    return made


def _firmer(contacts: pl.DataFrame) -> pl.DataFrame:
    """How much firmer the firmest later contact was than the first, by landing, ft/min; only where one was later."""
    first = contacts.filter(pl.col("contact_index") == 0).select(
        "landing_id", pl.col("vertical_speed_fpm").alias("first"), pl.col("vertical_speed_fpm_u").alias("first_u")
    )
    later = (
        contacts.filter(pl.col("contact_index") > 0)
        .drop_nulls(["vertical_speed_fpm", "vertical_speed_fpm_u"])
        .sort("vertical_speed_fpm")
        .unique("landing_id", keep="first", maintain_order=True)
    )
    both = first.join(later, on="landing_id", how="inner", maintain_order="left")
    return both.select(
        "landing_id",
        (pl.col("first") - pl.col("vertical_speed_fpm")).alias("later_contact_firmer_fpm"),
        (pl.col("first_u") ** 2 + pl.col("vertical_speed_fpm_u") ** 2).sqrt().alias("later_contact_firmer_fpm_u"),
    )

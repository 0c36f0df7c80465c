"""Which landings may speak for their pilot: a landing frame in, the baseline-eligible landings in flying order out."""

import polars as pl

MOVED_BY_INTENT = (
    "touchdown_distance_ft",
    "distance_from_50ft_ft",
    "distance_from_aim_point_ft",
    "runway_used_pct",
    "float_time_s",
    "float_distance_ft",
)
"""Measures an intended long landing moves; such landings say nothing of the pilot's usual there."""


def eligible(landings: pl.DataFrame) -> pl.DataFrame:
    """Keep contacts of a known pilot in an aircraft, flown by hand, logged by routine, no exercise, no takeover.

    A null device, exercise, reason of logging or takeover counts as the usual one (aircraft, normal, routine, none).
    Where the frame has `disputed`, a landing that is takes no part.

    Returns
    -------
    The same columns and `session` (UInt32: pilot, aircraft, UTC day; the log where no instant is known), sorted by
    contact instant (nulls first), then landing_id.
    """
    usual = {"device": "aircraft", "exercise": "normal", "why_logged": "routine", "takeover": "none"}
    day = pl.coalesce(pl.col("contact_at").dt.date().cast(pl.String), "log_sha256")
    doubted = pl.col("disputed") if "disputed" in landings.columns else pl.lit(value=False)
    keys = [pl.col("pilot"), pl.col("aircraft").fill_null(""), day]
    return (
        landings.filter(
            pl.col("contact_t_s").is_not_null(),
            pl.col("pilot").is_not_null(),
            ~doubted,
            pl.col("landing_mode").fill_null("unknown") != "automatic",
            *(pl.col(column).fill_null(value) == value for column, value in usual.items()),
        )
        .sort("contact_at", "landing_id")
        .with_columns(pl.struct(key.alias(f"k{i}") for i, key in enumerate(keys)).rank("dense").alias("session"))
    )


def measured(landings: pl.DataFrame, measure: str) -> pl.DataFrame:
    """Eligible landings that have this measure, without intended long landings where they would move it."""
    kept = landings.filter(pl.col(measure).is_not_null())
    if measure in MOVED_BY_INTENT:
        kept = kept.filter(pl.col("intent").fill_null("normal") != "land_long")
    return kept

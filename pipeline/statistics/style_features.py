"""What styles are found in: a landing frame in, features before contact on one footing out."""

import numpy as np
import polars as pl

from pipeline.recording import Floats
from pipeline.statistics.conditions import residuals

FEATURES = ("flare_height_ft", "pitch_change_deg", "pitch_rate_dps", "thrust_close_height_ft", "thrust_close_lag_s")
"""Measures that end before contact, so that outcomes can be compared afterwards."""

FEWEST = 200
"""Landings with every used feature below which nothing is said of styles: they could not be told apart."""

COMMON = 0.6
RELIABLE = 0.5
"""A feature takes part if this share of landings has it and this share of its variance is not the recorder's."""

QUARTILE_RANGE_OF_NORMAL = 1.349


def adjusted_features(kept: pl.DataFrame) -> pl.DataFrame:
    """Take conditions out of every feature.

    Parameters
    ----------
    kept : baseline-eligible landings.

    Returns
    -------
    landing_id, aircraft_type, pilot, session, `footing` (the aircraft type or recorder whose effect nothing supports,
    "" for the others: only landings of one footing can be compared), each feature and its `_u`, null where a landing
    has none.
    """
    frame = kept.select("landing_id", "aircraft_type", "pilot", "session", *(f"{feature}_u" for feature in FEATURES))
    for feature in FEATURES:
        left = residuals(kept, measure=feature, toward="high").frame
        values = left.select("landing_id", pl.col("residual").alias(feature), pl.col("stream").alias(f"{feature}_on"))
        frame = frame.join(values, on="landing_id", how="left", maintain_order="left")
    footing = pl.coalesce(pl.col("^.*_on$"), pl.lit(""))
    return frame.with_columns(footing.alias("footing")).drop("^.*_on$")


def serving(group: pl.DataFrame) -> list[str]:
    """Features that enough landings of a group have, with scatter that is mostly not the recorder's."""
    return [feature for feature in FEATURES if _serves(group[feature].drop_nulls(), group, f"{feature}_u")]


def _serves(values: pl.Series, group: pl.DataFrame, quality: str) -> bool:
    if values.len() < max(FEWEST, COMMON * group.height):
        return False
    low, _, high = quartiles(values.to_numpy()[:, None])[:, 0]
    noise = group[quality].drop_nulls().to_numpy()
    scatter = (high - low) / QUARTILE_RANGE_OF_NORMAL
    return scatter > 0.0 and float(np.median(noise**2) if noise.size else 0.0) <= (1.0 - RELIABLE) * scatter**2


def quartiles(x: Floats) -> Floats:
    """Quartiles (3, d) of each column's values; NaN for a column without any."""
    columns = [column[np.isfinite(column)] for column in x.T]
    return np.column_stack([np.quantile(c, [0.25, 0.5, 0.75]) if c.size else np.full(3, np.nan) for c in columns])

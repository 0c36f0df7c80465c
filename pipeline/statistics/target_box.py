"""Whether a landing was inside the target box: a landing frame in, the chance that it was and shares a pilot out.

Inside means: touched down in the touchdown zone, crossed the threshold near the target speed, and met the runway within
a band of vertical speed that has a lower edge as well, because the softest touch is no aim. This share is the primary
outcome, named before anybody is judged by it; all other figures describe.
"""

from dataclasses import dataclass

import numpy as np
import polars as pl
from scipy.special import ndtr

from pipeline.recording import Floats
from pipeline.statistics.deconvolved import Share, mixed, resampled, settled

NAME = "in_target_box"
LEAST_LANDINGS, LEAST_SESSIONS = 20, 6


@dataclass(frozen=True)
class TargetBox:
    """Edges of the box. Training limits of our own choice, to be set by who trains.

    Sink at contact in ft/min downward; speed at the threshold in kt over the target speed, or over Vref where no target
    is known. The zone is that of the measure `in_touchdown_zone`.
    """

    sink_least_fpm: float = 60.0
    sink_most_fpm: float = 300.0
    speed_below_kt: float = 5.0
    speed_above_kt: float = 15.0


DEFAULT = TargetBox()


def in_target_box(landings: pl.DataFrame, box: TargetBox = DEFAULT) -> pl.Series:
    """Chance (n,) that each landing was inside, by its measures and their uncertainty; null where one is missing."""
    zone = pl.col("in_touchdown_zone_confidence").fill_null(1.0)
    zone = pl.when("in_touchdown_zone").then(zone).otherwise(1.0 - zone)
    target = pl.col("threshold_airspeed_kt") - pl.col("target_speed_kt")
    told = landings.select(
        zone=pl.when(pl.col("in_touchdown_zone").is_not_null()).then(zone),
        speed=pl.coalesce(target, "threshold_speed_over_vref_kt"),
        speed_u=pl.coalesce(
            pl.when(target.is_not_null()).then("threshold_airspeed_kt_u"), "threshold_speed_over_vref_kt_u"
        ),
        sink=-pl.col("vertical_speed_at_contact_fpm").cast(pl.Float64),
        sink_u=pl.col("vertical_speed_at_contact_fpm_u"),
    )
    speed = _between(told["speed"], told["speed_u"], -box.speed_below_kt, box.speed_above_kt)
    sink = _between(told["sink"], told["sink_u"], box.sink_least_fpm, box.sink_most_fpm)
    return (told["zone"].cast(pl.Float64) * speed * sink).alias(NAME)


def _between(value: pl.Series, u: pl.Series, low: float, high: float) -> pl.Series:
    """Chance that the true value lies from `low` to `high`; null where there is no value."""
    x = value.cast(pl.Float64).fill_null(np.nan).to_numpy()
    spread = np.maximum(u.cast(pl.Float64).fill_null(0.0).to_numpy(), 1e-9)
    return pl.Series(ndtr((high - x) / spread) - ndtr((low - x) / spread)).fill_nan(None)


def box_share(chance: Floats, session: pl.Series) -> Share | None:
    """Share inside with its interval of 90 %, which resamples sessions; None under 20 landings or 6 sessions.

    `chance` (n,) is what each landing says by itself; the share is the likeliest one, so that a poor recorder does not
    pull it toward a half.
    """
    if chance.size < LEAST_LANDINGS or session.n_unique() < LEAST_SESSIONS:
        return None
    return settled(mixed(chance, resampled(session, seed=0)), chance.size)

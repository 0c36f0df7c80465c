"""How often a fault is there, whatever the recorder: margins with their uncertainty in, shares with intervals out.

A poor recorder blurs the measures, so that counting what is beyond doubt makes its pilot look clean, and adding up
probabilities makes everybody look alike. The distribution of the true margins is estimated instead: the one under which
the measured ones are most likely, each behind its own uncertainty. Part of that uncertainty is one installation's, the
same on all its landings: it blurs nothing, and moves them all; the interval allows for it.
"""

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.faults.probability import SURE, UNSEEN
from pipeline.faults.rule import Beyond, Condition
from pipeline.faults.rules import FAULTS
from pipeline.measures.table import BY_NAME
from pipeline.statistics.deconvolved import LEVELS, Share, beyond, common, mixed, resampled, settled

Floats = NDArray[np.float64]

SCHEMA: dict[str, type[pl.DataType]] = {
    "fault": pl.String,
    "n": pl.Int64,
    "sessions": pl.Int64,
    "seen": pl.Int64,
    "share": pl.Float64,
    "share_low": pl.Float64,
    "share_high": pl.Float64,
    "untold": pl.Int64,
}
"""`n` landings could be judged, `seen` of them beyond doubt, `untold` could not; the interval is of 90 %."""
LEAST_LANDINGS, LEAST_SESSIONS = 20, 8
"""Fewer tell no share: our own choice."""
LEAST_TOLD = 0.25
"""Where fewer of the landings each tell by themselves on which side of a limit they are, the recorder is too poor for a
share: our own choice. Errors alone put one in ten beyond doubt."""
COMMON = 0.5
"""Part of a measure's variance that landings of one installation share: biases and delays do not change from landing to
landing. Our own choice, from simulated landings, where it is a tenth to nine tenths by measure."""

_CERTAIN, _NONE = 0.999, 1e-3


def prevalence(faults: pl.DataFrame, *, seed: int = 0) -> pl.DataFrame:
    """Share of landings with each fault.

    Parameters
    ----------
    faults : columns of the fault frame, `session` (landings of one share what is not the pilot's) and `installation`
        (aircraft and recorder; landings of one share its errors).
    seed : of the sessions drawn again for the interval.

    Returns
    -------
    Columns of SCHEMA, one row a fault with enough landings and sessions, in the order of the rules.
    """
    parts = []
    for name in FAULTS:
        rows = faults.filter(pl.col("fault") == name)
        told = rows.filter(pl.col("probability").is_not_null())
        sessions = told["session"].n_unique()
        if told.height < LEAST_LANDINGS or sessions < LEAST_SESSIONS or not _clear(told):
            continue
        found = _share(told, name, seed)
        seen = int((told["verdict"] == "seen").sum())
        parts.append((name, told.height, sessions, seen, found.share, found.low, found.high, rows.height - told.height))
    return pl.DataFrame(parts, schema=SCHEMA, orient="row")


def _clear(told: pl.DataFrame) -> bool:
    """Whether enough landings tell by themselves whether they have the fault; where no limit is judged, always."""
    clear = (told["probability"] >= SURE) | (told["probability"] <= UNSEEN)
    return told["value_u"].null_count() == told.height or int(clear.sum()) >= LEAST_TOLD * told.height


def _share(told: pl.DataFrame, name: str, seed: int) -> Share:
    """The share of one fault; by its margins where it is a matter of a limit, else by what speaks for and against.

    With other conditions beside the limit it is the share of landings on which those hold, times the share of margins
    beyond the limit among these.
    """
    weights = resampled(told["session"], seed=seed)
    probability = told["probability"].to_numpy()
    if probability.max() <= _NONE:
        return settled(np.zeros(len(weights)), told.height)
    if any(is_count(condition) for condition in FAULTS[name].every_condition()):
        return counted(probability, weights)
    first = FAULTS[name].conditions[0]
    known = told["value_u"].is_not_null()
    surely_not = (told["probability"] <= UNSEEN).fill_null(value=False)
    if not isinstance(first, Beyond) or not known.any() or not (known | surely_not).all():
        return settled(mixed(probability, weights), told.height)
    some, where = told.filter(known), known.to_numpy()
    given = np.where(where, told["given"].fill_null(1.0).to_numpy(), 0.0)
    side = 1.0 if first.side == "above" else -1.0
    margin = side * (some["value"] - some["limit_value"]).to_numpy()
    u = some["value_u"].to_numpy()
    shift = np.sqrt(COMMON) * common(u, some["installation"], draws=len(weights), seed=seed)
    among = beyond(margin, np.sqrt(1.0 - COMMON) * u, weights[:, where] * given[where], limit=shift)
    others = mixed(given, weights) if (given < _CERTAIN).any() else np.ones(len(weights))
    return settled(others * among, told.height)


def is_count(condition: Condition) -> bool:
    """Whether a condition is about how often something was seen."""
    return condition.measure in BY_NAME and BY_NAME[condition.measure].kind == "count"


def counted(probability: Floats, weights: Floats) -> Share:
    """Share of what is seen or not: each one seen counts as it is sure; the interval has room for those not seen."""
    seen = np.where(probability > 0.5, probability, 0.0)
    total = weights.sum(axis=1)
    told = settled(weights @ seen / total, len(probability))
    most = float(np.quantile((weights @ probability / total)[1:], LEVELS[1]))
    return Share(told.share, told.low, max(told.high, most))

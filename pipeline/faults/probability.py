"""How probable it is that a condition holds, for landings whose measures carry their uncertainty.

Goes in: a landing frame, a condition and its limits. Comes out: probabilities, NaN with a reason where nothing tells.
"""

from dataclasses import dataclass

import numpy as np
import polars as pl
from numpy.typing import NDArray
from scipy.special import ndtr

from pipeline.faults.rule import Beyond, Condition, Is, Never
from pipeline.measures.table import BY_NAME

Floats = NDArray[np.float64]
Texts = NDArray[np.object_]

SURE, UNSEEN = 0.95, 0.05
"""Faults at least this probable are named in a debrief, those at most this probable were not seen; else none tells."""
_NEVER_RIGHT = 0.97
"""The chance that what was never seen did not happen, where its channels could show it: our own choice."""


@dataclass(frozen=True)
class Held:
    """Probability (n,), NaN where it cannot be told; the reason (n,) counts there alone; what was judged by what."""

    probability: Floats
    reason: Texts
    value: Floats
    value_u: Floats
    limit: Floats


def held(landings: pl.DataFrame, condition: Condition, limit: Floats) -> Held:
    """How probably a condition holds on each landing; errors are taken as normal.

    `limit` (n,): of a condition that has one, NaN where the type or policy does not say.
    """
    n = landings.height
    nothing = np.full(n, np.nan)
    reason = np.array(landings[f"{condition.measure}_reason"].to_list(), dtype=object)
    if isinstance(condition, Never):
        never = reason == "not_reached"
        seen = np.array([why is None for why in reason])
        probability = np.where(never, _NEVER_RIGHT, np.where(seen, 0.0, np.nan))
        return Held(probability, reason, nothing, nothing, nothing)
    if isinstance(condition, Is):
        return Held(_said(landings, condition), reason, nothing, nothing, nothing)
    return _beyond(landings, condition, limit, reason)


def _said(landings: pl.DataFrame, condition: Is) -> Floats:
    """Chance that a flag or text is as the condition says, by the confidence in what was measured."""
    sure = _floats(landings[BY_NAME[condition.measure].quality])
    value = landings[condition.measure]
    if isinstance(condition.value, bool):
        is_so = (value == condition.value).fill_null(value=False).to_numpy()
        probability = np.where(is_so, sure, 1.0 - sure)
    else:
        is_so = value.str.split(" ").list.contains(condition.value).fill_null(value=False).to_numpy()
        probability = np.where(is_so, sure, 0.0)
    return np.where(value.is_null().to_numpy(), np.nan, probability)


def _beyond(landings: pl.DataFrame, condition: Beyond, limit: Floats, reason: Texts) -> Held:
    value = _floats(landings[condition.measure])
    counted = condition.measure in BY_NAME and BY_NAME[condition.measure].kind == "count"
    over = value - limit if condition.side == "above" else limit - value
    if counted:
        sure = _floats(landings[BY_NAME[condition.measure].quality])
        u, probability = np.full(len(value), np.nan), np.where(over > 0.0, sure, 1.0 - sure)
    else:
        u = _floats(landings[f"{condition.measure}_u"])
        probability = ndtr(over / np.maximum(u, 1e-9))
    probability = np.where(np.isfinite(value) & np.isfinite(limit), probability, np.nan)
    unknown = np.isfinite(value) & ~np.isfinite(limit)
    return Held(probability, np.where(unknown, "no_reference", reason), value, u, limit)


def together(parts: list[Held], *, either: bool) -> Held:
    """Several conditions as one: any of them (the most probable), or all of them (the product).

    Where some cannot be told, any of the others may still hold; and all cannot where one of the others surely does not.
    Value, uncertainty and limit are the first condition's, or of the one most probable.
    """
    if len(parts) == 1:
        return parts[0]
    each = np.stack([part.probability for part in parts])
    known = np.isfinite(each)
    first = np.argmax(np.where(known, each, -1.0), axis=0) if either else np.zeros(each.shape[1], dtype=np.int64)
    if either:
        probability = np.where(known.any(axis=0), np.where(known, each, -1.0).max(axis=0), np.nan)
    else:
        most = np.where(known, each, 1.0).prod(axis=0)
        probability = np.where(known.all(axis=0) | (most <= UNSEEN), most, np.nan)
    why = parts[0].reason.copy()
    for part in parts[1:]:
        absent = why == None  # noqa: E711 - element by element
        why[absent] = part.reason[absent]

    def chosen(name: str) -> Floats:
        stacked = np.stack([getattr(part, name) for part in parts])
        return np.take_along_axis(stacked, first[None], axis=0)[0]

    return Held(probability, why, chosen("value"), chosen("value_u"), chosen("limit"))


def _floats(series: pl.Series) -> Floats:
    return series.cast(pl.Float64).fill_null(np.nan).to_numpy().copy()

"""How probable it is that a condition holds, for landings whose measures carry their uncertainty.

Goes in: a landing frame, a condition and its limits. Comes out: probabilities, NaN with a reason where nothing tells.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

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
_LEAST_U = 1e-9


@dataclass(frozen=True)
class Held:
    """Probability (n,), NaN where it cannot be told; the reason (n,) counts there alone; what was judged by what.

    `given` (n,): the chance that everything but the first condition holds; 1 where there is no other.
    """

    probability: Floats
    reason: Texts
    value: Floats
    value_u: Floats
    limit: Floats
    given: Floats


def held(landings: pl.DataFrame, condition: Condition, limit: Floats) -> Held:
    """How probably a condition holds on each landing; errors are taken as normal.

    `limit` (n,): of a condition that has one, NaN where the type or policy does not say.
    """
    n = landings.height
    nothing, sure = np.full(n, np.nan), np.ones(n)
    reason = np.array(landings[f"{condition.measure}_reason"].to_list(), dtype=object)
    if isinstance(condition, Never):
        never = reason == "not_reached"
        seen = np.array([why is None for why in reason])
        probability = np.where(never, _NEVER_RIGHT, np.where(seen, 0.0, np.nan))
        return Held(probability, reason, nothing, nothing, nothing, sure)
    if isinstance(condition, Is):
        return Held(_said(landings, condition), reason, nothing, nothing, nothing, sure)
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
        probability = ndtr(over / np.maximum(u, _LEAST_U))
    probability = np.where(np.isfinite(value) & np.isfinite(limit), probability, np.nan)
    unknown = np.isfinite(value) & ~np.isfinite(limit)
    return Held(probability, np.where(unknown, "no_reference", reason), value, u, limit, np.ones(len(value)))


def any_of(parts: Sequence[Held]) -> Held:
    """Whether any of several conditions holds: as probable as the most probable one, whose value and limit it shows.

    That is the least the chance can be; it is exact where the conditions hold together or only one can be told.
    """
    if len(parts) == 1:
        return parts[0]
    each = _each(parts)
    first = np.argmax(np.where(np.isfinite(each), each, -1.0), axis=0)

    def chosen(name: str) -> Floats:
        return np.take_along_axis(np.stack([getattr(part, name) for part in parts]), first[None], axis=0)[0]

    shown = {name: chosen(name) for name in ("value", "value_u", "limit", "probability", "given")}
    return Held(reason=_why(parts), **shown)


def all_of(parts: Sequence[Held]) -> Held:
    """Whether all of several conditions hold: the product of their chances, errors taken as independent.

    Where some cannot be told, all cannot hold where one of the others surely does not; else nothing tells. Shows value
    and limit of the first.
    """
    if len(parts) == 1:
        return parts[0]
    each = _each(parts)
    known = np.isfinite(each)
    most = np.where(known, each, 1.0).prod(axis=0)
    probability = np.where(known.all(axis=0) | (most <= UNSEEN), most, np.nan)
    given = np.where(known[1:], each[1:], 1.0).prod(axis=0)
    return replace(parts[0], probability=probability, given=given, reason=_why(parts))


def _each(parts: Sequence[Held]) -> Floats:
    return np.stack([part.probability for part in parts])


def _why(parts: Sequence[Held]) -> Texts:
    """Reason (n,) of the first part that cannot be told."""
    why = np.full(len(parts[0].reason), None, dtype=object)
    for part in reversed(parts):
        why = np.where(np.isnan(part.probability), part.reason, why)
    return why


def _floats(series: pl.Series) -> Floats:
    return series.cast(pl.Float64).fill_null(np.nan).to_numpy().copy()

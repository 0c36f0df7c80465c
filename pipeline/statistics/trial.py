"""A trial of one: a declared intention and a series in, nothing until its number is reached, then one verdict out.

The pilot or instructor declares one measure and which way it should go. How many landings would show a useful change is
said first; before that number the trial is silent, because looking each week finds changes where there are none. It
reports once. What the landings just before the declaration would have come back to by themselves is told beside it.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from scipy.special import stdtrit

from pipeline.statistics.trial_plan import SIZE, Needed, Series, landings_needed

State = Literal["no baseline", "under way", "reported", "abandoned"]

LEAST_BEFORE = 30
"""Landings to compare with, without which there is no trial: our own choice."""

MOST_BEFORE = 200
LAST_BEFORE = 20
"""The last so many may have led to the declaration and take no part, as they would come back by themselves; at most so
many before those are compared with."""


@dataclass(frozen=True)
class Change:
    """After less before: `effect` with its interval of 90 %, and the numbers of landings compared."""

    effect: float
    low: float
    high: float
    before: int
    after: int


@dataclass(frozen=True)
class Verdict:
    """State of a trial. All but `state` and `needed` are None or empty until it is reported.

    `change` is against the landings before, without the last 20, which may have led to the declaration; `untouched` is
    how far those 20 lay from the ones before them and would have come back by themselves. `shown` says the change went
    the declared way beyond chance.
    `others` are the same change of other outcomes.
    """

    state: State
    needed: Needed | None
    change: Change | None = None
    untouched: float | None = None
    shown: bool | None = None
    others: tuple[tuple[str, Change], ...] = ()


def judge(
    series: Series,
    *,
    declared: int,
    toward: Literal["higher", "lower"],
    useful: float | None = None,
    abandoned: bool = False,
    others: dict[str, Series] | None = None,
) -> Verdict:
    """Judge a trial on what has been flown.

    Parameters
    ----------
    series : the measure's residuals; landings from index `declared` on are under the trial.
    toward : the declared way.
    others : other outcomes of the same landings, told beside it.

    Returns
    -------
    The same verdict for ever once the number is reached: later landings change nothing.
    """
    before = _before(series, declared)
    if before.values.size < LEAST_BEFORE:
        return Verdict("no baseline", None)
    needed = landings_needed(before, useful=useful)
    if abandoned:
        return Verdict("abandoned", needed)
    end = _enough(series, declared, needed)
    if end is None:
        return Verdict("under way", needed)
    change = _change(before, series.part(declared, end))
    sign = 1.0 if toward == "higher" else -1.0
    recent = float(np.mean(series.values[declared - LAST_BEFORE : declared]))
    told = [(name, _change(_before(o, declared), o.part(declared, end))) for name, o in (others or {}).items()]
    return Verdict(
        "reported",
        needed,
        change=change,
        untouched=float(np.mean(before.values)) - recent,
        shown=min(sign * change.low, sign * change.high) > 0.0,
        others=tuple(told),
    )


def _before(series: Series, declared: int) -> Series:
    """Landings to compare with."""
    end = max(declared - LAST_BEFORE, 0)
    return series.part(max(end - MOST_BEFORE, 0), end)


def _enough(series: Series, declared: int, needed: Needed) -> int | None:
    """Index after the landing with which the number of landings is reached; None before."""
    if needed.landings is None or declared + needed.landings > series.values.size:
        return None
    return declared + needed.landings


def _change(before: Series, after: Series) -> Change:
    """Difference of means with the errors of both by sessions (Welch 1947, Biometrika 34:28-35, over session sums)."""
    parts = [_mean_and_error(before), _mean_and_error(after)]
    effect = parts[1][0] - parts[0][0]
    variance = [error**2 for _, error, _ in parts]
    total = sum(variance)
    free = total**2 / sum(v**2 / max(m - 1, 1) for v, (_, _, m) in zip(variance, parts, strict=True)) if total else 1.0
    reach = float(stdtrit(free, 1.0 - SIZE) * np.sqrt(total))
    return Change(effect, effect - reach, effect + reach, before.values.size, after.values.size)


def _mean_and_error(part: Series) -> tuple[float, float, int]:
    """Mean, its standard error by sums of sessions, and the number of sessions."""
    code = np.unique(part.session, return_inverse=True)[1]
    sessions = int(code.max()) + 1
    mean = float(np.mean(part.values))
    sums = np.bincount(code, part.values - mean)
    factor = sessions / max(sessions - 1, 1)
    return mean, float(np.sqrt(factor * sums @ sums)) / part.values.size, sessions

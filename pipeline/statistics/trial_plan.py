"""What a trial takes: the landings before it in, the number after it that would show a useful change out."""

from dataclasses import dataclass

import numpy as np
from scipy.special import nctdtr, stdtrit

from pipeline.recording import Floats
from pipeline.statistics.standing import Ints, session_correlation

USEFUL = 0.5
"""A useful change in spreads of the pilot's own, unless the declaration names one: our own choice."""

SIZE, POWER = 0.05, 0.84
"""Planned for a little more than the four of five promised, as the spread is itself estimated."""

MOST_NEEDED = 400
"""A change that takes more landings to see is not tried: no pilot would live to hear of it."""


@dataclass(frozen=True)
class Needed:
    """What a trial takes to see a change of `useful` (in the measure's unit) in four trials of five.

    `landings` and `sessions` after the declaration; None where it would take more than 400 landings.
    """

    landings: int | None
    sessions: int | None
    useful: float


@dataclass(frozen=True)
class Series:
    """Residuals of one pilot in flying order, conditions taken out: values and session numbers, (n,) each."""

    values: Floats
    session: Ints

    def part(self, begin: int, end: int) -> "Series":
        """Landings from `begin` up to `end`."""
        return Series(self.values[begin:end], self.session[begin:end])


def landings_needed(before: Series, *, useful: float | None = None) -> Needed:
    """How many landings after the declaration would show a useful change in four trials of five.

    Parameters
    ----------
    before : the landings to compare with, without the last 20 before the declaration; 30 or more.
    useful : smallest change worth having, in the measure's unit, > 0; half of the pilot's own spread if None.
    """
    spread, rho, size = _spread(before)
    sought = USEFUL * spread if useful is None else useful
    worth_before = _worth(before.values.size, size, rho)
    sessions_before = max(before.values.size / size, 2.0)
    for landings in range(5, MOST_NEEDED + 1):
        worth = _worth(landings, size, rho)
        error = spread * np.sqrt(1.0 / worth + 1.0 / worth_before)
        free = max(sessions_before + landings / size - 2.0, 1.0)
        if 1.0 - float(nctdtr(free, sought / error, stdtrit(free, 1.0 - SIZE))) >= POWER:
            return Needed(landings, int(np.ceil(landings / size)), sought)
    return Needed(None, None, sought)


def _spread(before: Series) -> tuple[float, float, float]:
    """Spread, correlation within sessions and landings a session."""
    values, code = before.values, np.unique(before.session, return_inverse=True)[1].astype(np.int64)
    spread = float(np.std(values, ddof=1))
    z = (values - values.mean()) / max(spread, 1e-12)
    return spread, session_correlation(z, code), values.size / (int(code.max()) + 1)


def _worth(landings: float, size: float, rho: float) -> float:
    """Independent landings that so many are worth in sessions of `size`."""
    return landings / (1.0 + (min(size, landings) - 1.0) * rho)

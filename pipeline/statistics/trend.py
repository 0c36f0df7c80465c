"""Has one pilot changed over his landings: scores in flying order with their sessions in, the change and its error out.

Looked at every week, an interval that holds 90 % excludes no change for most pilots some week. So a change is judged at
fixed reviews only, every 50 landings, and the chance of a wrong word is spent over all reviews there will ever be:
review r may err with chance total / (r (r - 1)), which sums to the total from the second review on (a union bound; it
holds whatever the reviews have in common).
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import stdtrit

from pipeline.recording import Floats
from pipeline.statistics.standing import Ints, session_correlation

REVIEW_LANDINGS = 50
FIRST_REVIEW = 2
LEAST_SESSIONS = 8
POWER = 0.84
"""Standard normal quantile of 80 %: the chance with which a real change of the size asked for would be seen."""


@dataclass(frozen=True)
class Trend:
    """Straight-line change from the first to the last landing, its standard error, and how many errors to believe it.

    `change` is in the unit of the scores; it is told where it exceeds `needed` errors.
    """

    change: float
    error: float
    needed: float

    @property
    def told(self) -> bool:
        """Whether the change may be said aloud at this review."""
        return abs(self.change) > self.needed * self.error

    def landings_needed(self, n: int, *, size: float) -> int:
        """Landings in which a change of this size would be seen four times in five, from the error in n landings."""
        return int(np.ceil(n * ((self.needed + POWER) * self.error / size) ** 2))


def last_review(landings: int) -> int | None:
    """Number of the newest review in so many landings; None before the first."""
    review = landings // REVIEW_LANDINGS
    return review if review >= FIRST_REVIEW else None


def chance_at(review: int, *, total: float) -> float:
    """Chance of a wrong word that may be spent at this review, of the total over all reviews.

    >>> round(sum(chance_at(review, total=0.1) for review in range(2, 10000)), 4)
    0.1
    """
    return total / (review * (review - 1))


def trend(scores: Floats, session: Ints, *, chance: float) -> Trend | None:
    """Straight line through session means, weighted by what the sessions are worth; None under 8 sessions.

    Parameters
    ----------
    scores : (n,) scores in flying order.
    session : (n,) session numbers.
    chance : of an error in either direction together.
    """
    code = np.unique(session, return_inverse=True)[1].astype(np.int64)
    size = np.bincount(code).astype(float)
    if size.size < LEAST_SESSIONS:
        return None
    place = np.bincount(code, np.linspace(-0.5, 0.5, scores.size)) / size
    mean = np.bincount(code, scores) / size
    weight = size / (1.0 + (size - 1.0) * session_correlation(scores - scores.mean(), code))
    x = place - float(weight @ place / weight.sum())
    y = mean - float(weight @ mean / weight.sum())
    squares = float(weight @ x**2)
    change = float(weight @ (x * y)) / squares
    left = float(weight @ (y - change * x) ** 2) / (size.size - 2)
    needed = float(stdtrit(size.size - 2, 1.0 - 0.5 * chance))
    return Trend(change, float(np.sqrt(left / squares)), needed)


def spread_scores(residual: Floats, noise: Floats) -> Floats:
    """Square roots of the distances from the pilot's own line, in the spread each landing should have: (n,).

    The root makes them nearly normal (Hawkins 1981, Journal of Quality Technology 13:228-231; from memory). Recorder
    noise, a standard uncertainty (n,), stands in the spread, so that a better recorder is no steadier pilot.
    """
    x = np.linspace(-0.5, 0.5, residual.size)
    slope, level = np.polyfit(x, residual, 1)
    left = residual - level - slope * x
    own = max(float(np.mean(left**2 - noise**2)), 0.25 * float(np.mean(left**2)), 1e-300)
    return np.asarray(np.sqrt(np.abs(left) / np.sqrt(own + noise**2)))

"""Yes-or-no landings with their sessions in; a share with its 90 % interval out.

Landings of one session (pilot, aircraft, day) are alike, so the count is divided by the design effect before a Jeffreys
interval is taken: the effective-sample-size way of Korn and Graubard, Survey Methodology 24 (1998), from memory, with
their Clopper-Pearson interval replaced by Jeffreys'.
"""

from dataclasses import dataclass

import numpy as np
import polars as pl
from scipy.stats import beta

from reports.words import number, percent


@dataclass(frozen=True)
class Share:
    """A share of `n` landings with its 90 % interval, all 0 to 1."""

    n: int
    share: float
    low: float
    high: float

    @property
    def words(self) -> str:
        """The share as a page prints it: "82 % (90 % interval 74 to 88 %, n = 103)"."""
        low, high = (number(100 * end) for end in (self.low, self.high))
        return f"{percent(self.share)} (90 % interval {low} to {high} %, n = {number(self.n)})"


def share(rows: pl.DataFrame, flag: str) -> Share | None:
    """Return the share of true among a column's non-null rows, or None where there is none.

    Parameters
    ----------
    rows : frame with the boolean `flag` and what makes a session: `pilot`, `aircraft`, `flown`.
    """
    known = rows.drop_nulls(flag)
    if not known.height:
        return None
    sessions = known.group_by("pilot", "aircraft", pl.col("flown").dt.date()).agg(
        yes=pl.col(flag).sum().cast(pl.Float64), n=pl.len().cast(pl.Float64)
    )
    yes, n = sessions["yes"].to_numpy(), sessions["n"].to_numpy()
    worth = known.height / design_effect(yes, n)
    part = float(yes.sum() / n.sum())
    low, high = jeffreys(part * worth, worth)
    return Share(known.height, part, low, high)


def design_effect(yes: np.ndarray, n: np.ndarray) -> float:
    """Return how many times wider, in variance, sessions make a share; at least 1.

    Parameters
    ----------
    yes, n : (k,) true landings and landings of each session.

    Where all or none are true the spread tells nothing and full likeness inside a session is taken.
    """
    total, part = n.sum(), yes.sum() / n.sum()
    if part in (0.0, 1.0) or len(n) < 2:
        return float((n**2).sum() / total)
    between = len(n) / (len(n) - 1) * ((yes - part * n) ** 2).sum() / total**2
    return float(max(1.0, between / (part * (1 - part) / total)))


def jeffreys(yes: float, n: float, *, level: float = 0.9) -> tuple[float, float]:
    """Return Jeffreys' equal-tailed interval of a share; the low end is 0 with none true and the high end 1 with all."""
    tail = (1 - level) / 2
    low = 0.0 if yes <= 0 else float(beta.ppf(tail, yes + 0.5, n - yes + 0.5))
    high = 1.0 if yes >= n else float(beta.ppf(1 - tail, yes + 0.5, n - yes + 0.5))
    return low, high

"""How likely a bad landing is: values by pilot and a limit in, probabilities with upper bounds out.

The pilots' standardised values share one tail, because no pilot has enough bad landings for a tail of his own; level
and spread are the pilot's, shrunk to the cohort's. A count of what was beyond the limit, shrunk likewise, is the second
method, and the larger upper bound of the two is shown.
"""

from dataclasses import dataclass

import numpy as np
import polars as pl
from scipy.optimize import minimize
from scipy.special import betaln
from scipy.stats import beta

from pipeline.recording import Floats
from pipeline.statistics.exceedance import Tail, beyond_tail, drawn_tails, fit_tail
from pipeline.statistics.own_levels import Levels, own_levels

SCHEMA: dict[str, type[pl.DataType]] = {
    "pilot": pl.String,
    "n": pl.Int64,
    "beyond": pl.Int64,
    "probability": pl.Float64,
    "probability_low": pl.Float64,
    "probability_high": pl.Float64,
    "counted": pl.Float64,
    "counted_low": pl.Float64,
    "counted_high": pl.Float64,
    "upper": pl.Float64,
}
"""One row a pilot, and one with a null pilot for all: `probability` by the pooled tail, `counted` by the shrunk count,
each with its interval of 90 %; `upper` is the larger upper bound. The pooled columns are null where it is refused."""

LEAST_PILOTS, LEAST_LANDINGS = 8, 20
"""Fewer pilots, or landings of a pilot, do not share a tail: our own choice."""

TAIL_FROM, CHECKED_FROM = 0.93, 0.96
"""Quantiles of the pooled values where the tail begins, and where it begins for the check of its shape."""

DRAWS, SEED = 1000, 20261125
_LEVELS = (0.05, 0.95)


@dataclass(frozen=True)
class TailRisk:
    """`rows`: columns of SCHEMA. `tail` and `checked` are the pooled tails, None where there is too little.

    `statement` says why no tail was fitted, or the shapes at both thresholds.
    """

    rows: pl.DataFrame
    tail: Tail | None
    checked: Tail | None
    statement: str


def tail_risk(values: pl.DataFrame, *, limit: float) -> TailRisk:
    """Probability that a landing's value is above a limit, for each pilot and for all.

    Parameters
    ----------
    values : columns pilot, session, value (no nulls), one row a landing, larger values worse.
    limit : in the unit of `value`.

    Returns
    -------
    Pilots with under 20 landings have a counted row only; with under 8 others, or under 30 values in the pooled tail,
    every row is counted only. A probability is of the value as measured.
    """
    counted = _counted(values, limit)
    enough = values.filter(pl.len().over("pilot") >= LEAST_LANDINGS).sort("pilot", maintain_order=True)
    if enough["pilot"].n_unique() < LEAST_PILOTS:
        return TailRisk(counted, None, None, _refused(enough["pilot"].n_unique()))
    names = enough["pilot"].unique(maintain_order=True)
    pilot, session = (enough[c].rank("dense").to_numpy().astype(np.int64) - 1 for c in ("pilot", "session"))
    levels = own_levels(enough["value"].to_numpy().astype(float), pilot, session)
    tail, checked = (
        fit_tail(levels.residual, threshold=float(np.quantile(levels.residual, q))) for q in (TAIL_FROM, CHECKED_FROM)
    )
    if tail is None:
        return TailRisk(counted, None, None, "Cannot tell yet: under 30 landings of all lie in the pooled tail.")
    drawn = _drawn(levels, tail, limit)
    pooled = _pooled(names, drawn, np.bincount(pilot).astype(float))
    rows = counted.drop("probability", "probability_low", "probability_high", "upper")
    rows = rows.join(pooled, on="pilot", how="left", nulls_equal=True, maintain_order="left")
    rows = rows.with_columns(pl.max_horizontal("probability_high", "counted_high").alias("upper"))
    return TailRisk(rows.select(*SCHEMA), tail, checked, _shapes(tail, checked))


def _refused(pilots: int) -> str:
    return (
        f"Cannot tell yet by a pooled tail: {pilots} pilots have {LEAST_LANDINGS} landings or more, {LEAST_PILOTS} are "
        "needed; the bounds are of the counts alone."
    )


def _shapes(tail: Tail, checked: Tail | None) -> str:
    said = f"The pooled tail of {tail.excesses} landings has the shape {tail.shape:+.2f}"
    return f"{said}, above a higher threshold {checked.shape:+.2f}." if checked else f"{said}."


def _drawn(levels: Levels, tail: Tail, limit: float) -> Floats:
    """Probabilities (draws, pilots): level, spread and tail drawn from what is known of them."""
    rng = np.random.default_rng(SEED)
    level, spread = levels.drawn(draws=DRAWS, rng=rng)
    worth = float(levels.worth.sum()) / levels.residual.size
    scale, shape = drawn_tails(tail, draws=DRAWS, worth=worth, rng=rng)
    z = (limit - level) / spread
    body = np.sort(levels.residual)
    inside = 1.0 - np.searchsorted(body, z, "right") / body.size
    return np.where(z > tail.threshold, beyond_tail(z, tail, scale=scale[:, None], shape=shape[:, None]), inside)


def _pooled(names: pl.Series, drawn: Floats, n: Floats) -> pl.DataFrame:
    """Mean and interval of the drawn probabilities, pilots and, last, all of them by their landings."""
    everyone = drawn @ n / n.sum()
    each = np.column_stack([drawn, everyone])
    low, high = np.quantile(each, _LEVELS, axis=0)
    return pl.DataFrame(
        {
            "pilot": pl.Series([*names, None], dtype=pl.String),
            "probability": each.mean(axis=0),
            "probability_low": low,
            "probability_high": high,
        }
    )


def _counted(values: pl.DataFrame, limit: float) -> pl.DataFrame:
    """Rows of SCHEMA by counts alone: beta-binomial over 8 pilots and more, else Jeffreys for each."""
    own = values.group_by("pilot").agg(pl.len().alias("n"), (pl.col("value") > limit).sum().alias("beyond"))
    own = own.cast({"n": pl.Int64, "beyond": pl.Int64}).sort("pilot")
    n, k = (own[c].to_numpy().astype(float) for c in ("n", "beyond"))
    a, b = _prior(k, n) if n.size >= LEAST_PILOTS else (0.5, 0.5)
    rows = own.with_columns(**_shares(a + k, b + n - k))
    total = pl.DataFrame({"pilot": [None], "n": [int(n.sum())], "beyond": [int(k.sum())]}, schema=own.schema)
    total = total.with_columns(**_shares(np.array([0.5 + k.sum()]), np.array([0.5 + (n - k).sum()])))
    filled = pl.concat([rows, total]).with_columns(
        *(pl.lit(None, pl.Float64).alias(c) for c in ("probability", "probability_low", "probability_high")),
        upper="counted_high",
    )
    return filled.select(*SCHEMA)


def _shares(a: Floats, b: Floats) -> dict[str, pl.Series]:
    low, high = (np.asarray(beta.ppf(level, a, b)) for level in _LEVELS)
    return {"counted": pl.Series(a / (a + b)), "counted_low": pl.Series(low), "counted_high": pl.Series(high)}


def _prior(k: Floats, n: Floats) -> tuple[float, float]:
    """Beta prior of the pilots' shares by marginal likelihood, worth between 2 and 5,000 landings."""

    def surprise(at: Floats) -> float:
        share, worth = 1.0 / (1.0 + np.exp(-at[0])), np.exp(at[1])
        a, b = share * worth, (1.0 - share) * worth
        return -float(np.sum(betaln(a + k, b + n - k) - betaln(a, b)))

    start = np.array([np.log((k.sum() + 0.5) / (n.sum() - k.sum() + 0.5)), np.log(50.0)])
    found = minimize(surprise, start, method="L-BFGS-B", bounds=[(-14.0, 4.0), (np.log(2.0), np.log(5000.0))]).x
    share, worth = 1.0 / (1.0 + np.exp(-found[0])), float(np.exp(found[1]))
    return float(share * worth), float((1.0 - share) * worth)

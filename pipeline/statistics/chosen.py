"""At most two things to work on: landings and faults in, each pilot's faults that go with most out.

The worst of many looks worse than it is, and gets better untouched. So faults are chosen on every other session of a
pilot and told from the sessions between, and beside them stands the share to expect if nothing changes.
"""

import numpy as np
import polars as pl
from scipy.stats import beta

from pipeline.statistics.cost_design import before_contact
from pipeline.statistics.costs import fault_costs
from pipeline.statistics.eligible import eligible
from pipeline.statistics.indicators import indicators
from pipeline.statistics.shrinking import shrunk

SCHEMA: dict[str, type[pl.DataType]] = {
    "pilot": pl.String,
    "place": pl.Int64,
    "fault": pl.String,
    "outcome": pl.String,
    "landings": pl.Int64,
    "share": pl.Float64,
    "share_low": pl.Float64,
    "share_high": pl.Float64,
    "expected_share": pl.Float64,
    "difference": pl.Float64,
    "difference_low": pl.Float64,
    "difference_high": pl.Float64,
    "burden": pl.Float64,
    "burden_low": pl.Float64,
    "burden_high": pl.Float64,
}
"""One row a pilot and fault, `place` 1 or 2. `share`, `difference` (of all pilots, toward worse) and `burden`, their
product a landing, are from sessions that took no part in choosing, with intervals of 90 %. `expected_share` is what the
next landings would show with no change."""

MOST = 2
LEAST_LANDINGS = 20
"""Landings of a pilot in each half below which nothing is chosen: our own choice."""

LEAST_SHARE = 0.05
"""Shrunk share of the pilot's landings in the choosing half below which a fault is no habit: our own choice."""

_KEY = ["pilot", "fault"]
_REACH = 1.645


def to_work_on(landings: pl.DataFrame, faults: pl.DataFrame) -> pl.DataFrame:
    """Choose and tell each pilot's faults.

    Parameters
    ----------
    landings : a landing frame; the baseline-eligible ones take part.
    faults : fault rows with landing_id, fault and probability.

    Returns
    -------
    Columns of SCHEMA by pilot and place. Only faults that go with a worse outcome beyond doubt are chosen; pilots with
    too few landings, or without the habit of such a fault, have no row.
    """
    kept = eligible(landings).with_columns(other=pl.col("session").rank("dense").over("pilot") % 2 == 0)
    chances = indicators(faults, kept, names=before_contact())
    halves = [kept.filter(pl.col("other") == other) for other in (False, True)]
    first, second = (fault_costs(half.drop("session", "other"), faults) for half in halves)
    if first.is_empty() or second.is_empty():
        return pl.DataFrame(schema=SCHEMA)
    shares_first, shares_second, shares_all = (_shares(part, chances) for part in (*halves, kept))
    picked = _picked(_worthwhile(first, halves[0]), shares_first)
    told = picked.join(shares_second, on=_KEY, how="inner", maintain_order="left")
    told = told.join(second, on=["fault", "outcome"], how="inner", suffix="_all", maintain_order="left")
    told = told.join(shares_all.select(*_KEY, expected_share="shrunk"), on=_KEY, how="left", maintain_order="left")
    told = told.filter(pl.col("landings") >= LEAST_LANDINGS).with_columns(_place())
    return _with_burden(told).select(*SCHEMA)


def _shares(part: pl.DataFrame, chances: pl.DataFrame) -> pl.DataFrame:
    """Pilot, fault, landings, share with Jeffreys interval, and the share shrunk to the cohort's."""
    long = part.select("landing_id", "pilot").join(chances, on="landing_id", how="left", maintain_order="left")
    long = long.unpivot(index=["landing_id", "pilot"], variable_name="fault", value_name="chance").drop_nulls("chance")
    own = long.group_by(_KEY, maintain_order=True).agg(
        pl.len().cast(pl.Int64).alias("landings"), pl.col("chance").sum().alias("with")
    )
    a, b = own["with"].to_numpy() + 0.5, (own["landings"] - own["with"]).to_numpy() + 0.5
    own = own.with_columns(
        share=pl.col("with") / pl.col("landings"),
        share_low=pl.Series(np.asarray(beta.ppf(0.05, a, b))),
        share_high=pl.Series(np.asarray(beta.ppf(0.95, a, b))),
    )
    return pl.concat([_towards_all(group) for _, group in own.group_by("fault", maintain_order=True)])


def _towards_all(group: pl.DataFrame) -> pl.DataFrame:
    """Shrink the pilots' shares of one fault, on the angular scale where their variance is 1 / (4 n)."""
    n = group["landings"].to_numpy().astype(float)
    angle = np.arcsin(np.sqrt((group["with"].to_numpy() + 0.375) / (n + 0.75)))
    middle = shrunk(angle, 0.25 / (n + 0.5))[0] if n.size > 1 else angle
    return group.with_columns(shrunk=pl.Series(np.sin(np.clip(middle, 0.0, np.pi / 2)) ** 2))


def _worthwhile(costs: pl.DataFrame, part: pl.DataFrame) -> pl.DataFrame:
    """Fault, outcome and shrunk difference in spreads of the outcome, where it is worse beyond doubt."""
    rows = []
    for (outcome,), group in costs.group_by("outcome", maintain_order=True):
        estimate, error = (group[c].to_numpy() for c in ("difference", "difference_error"))
        middle, spread = shrunk(estimate, np.maximum(error, 1e-9) ** 2, centre=0.0)
        scale = float(np.std(part[str(outcome)].drop_nulls().to_numpy()))
        sure = pl.Series(middle - _REACH * spread > 0.0)
        weight = pl.Series("weight", middle / scale)
        rows.append(group.select("fault", "outcome").with_columns(weight).filter(sure))
    return pl.concat(rows)


def _picked(worthwhile: pl.DataFrame, shares: pl.DataFrame) -> pl.DataFrame:
    """Pilot, place, fault and outcome: the two faults of the largest share times difference in spreads."""
    habit = (pl.col("landings") >= LEAST_LANDINGS) & (pl.col("shrunk") >= LEAST_SHARE)
    enough = shares.filter(habit).select(*_KEY, "shrunk")
    joined = enough.join(worthwhile, on="fault", how="inner").with_columns(rank=pl.col("shrunk") * pl.col("weight"))
    ordered = joined.sort("pilot", "rank", "fault", "outcome", descending=[False, True, False, False])
    once = ordered.unique(_KEY, keep="first", maintain_order=True)
    placed = once.with_columns(_place())
    return placed.filter(pl.col("place") <= MOST).select("pilot", "place", "fault", "outcome")


def _place() -> pl.Expr:
    return pl.int_range(1, pl.len() + 1, dtype=pl.Int64).over("pilot").alias("place")


def _with_burden(told: pl.DataFrame) -> pl.DataFrame:
    """Share times difference, its interval by the errors of both."""
    share_error = (pl.col("share_high") - pl.col("share_low")) / (2.0 * _REACH)
    reach = (
        _REACH
        * ((pl.col("share") * pl.col("difference_error")).pow(2) + (pl.col("difference") * share_error).pow(2)).sqrt()
    )
    middle = pl.col("share") * pl.col("difference")
    return told.with_columns(burden=middle, burden_low=middle - reach, burden_high=middle + reach)

"""Chances that a fault is there: fault rows in, one column a fault with the chance given how common it is out.

A difference by faults seen beyond doubt would be of the best recorders' landings only, and one by doubtful faults would
be watered down. The expected value of the fault given its measure gives the difference without that (Carroll et al.
2006, Measurement Error in Nonlinear Models, 2nd ed., chapter 4: regression calibration; from memory).
"""

import numpy as np
import polars as pl

from pipeline.recording import Floats
from pipeline.statistics.prevalence import mixed


def indicators(faults: pl.DataFrame, landings: pl.DataFrame, *, names: list[str]) -> pl.DataFrame:
    """Chance of each fault for each landing, given how common the fault is among them.

    Parameters
    ----------
    faults : columns landing_id, fault, probability (by the landing alone, fault and none equally common before; null
        where it cannot be told).
    landings : landing_id, one row a landing.
    names : faults wanted.

    Returns
    -------
    landing_id and a column a fault, rows as in `landings`; null where it cannot be told.
    """
    wanted = faults.filter(pl.col("fault").is_in(names)).select("landing_id", "fault", "probability")
    wide = wanted.pivot("fault", index="landing_id", values="probability", aggregate_function="first")
    wide = landings.select("landing_id").join(wide, on="landing_id", how="left", maintain_order="left")
    return wide.select("landing_id", *(_given_share(wide, name) for name in names))


def _given_share(wide: pl.DataFrame, name: str) -> pl.Series:
    if name not in wide.columns or wide[name].count() == 0:
        return pl.Series(name, [None] * wide.height, dtype=pl.Float64)
    alone = wide[name].cast(pl.Float64)
    known = alone.drop_nulls().to_numpy()
    share = float(mixed(known, np.ones((1, known.size)))[0])
    chance = given(alone.fill_null(np.nan).to_numpy(), share=share)
    return pl.Series(name, chance, dtype=pl.Float64).fill_nan(None)


def given(alone: Floats, *, share: float) -> Floats:
    """Bayes' rule: chance (n,) by the landing alone (n,) turned into that among landings of which `share` have it."""
    odds = np.clip(alone, 1e-9, 1.0 - 1e-9) / np.clip(1.0 - alone, 1e-9, 1.0) * share
    return np.asarray(odds / (odds + 1.0 - share))


def reliability(chance: Floats) -> float:
    """Share of the variance of a fault (n,) that its chances tell: 1 where every one is 0 or 1, 0 where nothing is told.

    Chances that are right on average spread less than the fault itself does: var(chance) / (mean (1 - mean)).
    """
    mean = float(np.mean(chance))
    return float(np.var(chance)) / max(mean * (1.0 - mean), 1e-12)

"""Chances that a fault is there: fault rows in, one column a fault with the chance given the pilot's others out.

A difference by faults seen beyond doubt would be of the best recorders' landings only, and one by doubtful faults would
be watered down. The expected value of the fault given its measure gives the difference without that (regression
calibration: Carroll et al. 2006, Measurement Error in Nonlinear Models, 2nd ed., chapter 4; from memory).
"""

import numpy as np
import polars as pl
from scipy.special import ndtr, ndtri

from pipeline.recording import Floats
from pipeline.statistics.shrinking import shrunk
from pipeline.statistics.standing import Ints

SUREST = 1e-15
"""Chances nearer to 0 or 1 are taken as this near."""

LEAST_KEPT = 0.05
"""Least share of the scatter of margins taken as true: below it a recorder tells nothing."""


def indicators(faults: pl.DataFrame, landings: pl.DataFrame, *, names: list[str]) -> pl.DataFrame:
    """Chance of each fault for each landing, given where its pilot's margins usually lie.

    Parameters
    ----------
    faults : columns landing_id, fault, probability (by the landing's own measure alone; null where it cannot tell).
    landings : landing_id and pilot, one row a landing.
    names : faults wanted.

    Returns
    -------
    landing_id and a column a fault, rows as in `landings`; null where it cannot be told.
    """
    wanted = faults.filter(pl.col("fault").is_in(names)).select("landing_id", "fault", "probability")
    wide = wanted.pivot("fault", index="landing_id", values="probability", aggregate_function="first")
    wide = landings.select("landing_id", "pilot").join(wide, on="landing_id", how="left", maintain_order="left")
    return wide.select("landing_id", *(_among_the_pilots_own(wide, name) for name in names))


def _among_the_pilots_own(wide: pl.DataFrame, name: str) -> pl.Series:
    if name not in wide.columns or wide[name].count() == 0:
        return pl.Series(name, [None] * wide.height, dtype=pl.Float64)
    known = wide[name].is_not_null()
    pilot = wide["pilot"].filter(known).rank("dense").to_numpy().astype(np.int64) - 1
    chance = np.full(wide.height, np.nan)
    chance[known.to_numpy()] = calibrated(wide[name].filter(known).to_numpy().astype(float), pilot)
    return pl.Series(name, chance, dtype=pl.Float64).fill_nan(None)


def calibrated(alone: Floats, pilot: Ints) -> Floats:
    """Chance (n,) of a true margin beyond its limit, given the measured one and the pilot's others.

    A chance by the landing alone is the margin in its own uncertainties, through the normal distribution; margins of a
    pilot are taken as normal about his usual one; where they fall into two heaps, the chances are too cautious.

    Parameters
    ----------
    alone : (n,) chances by each landing's own measure.
    pilot : (n,) pilot numbers 0, 1, ...
    """
    margin = ndtri(np.clip(alone, SUREST, 1.0 - SUREST))
    n = np.bincount(pilot).astype(float)
    mean = np.bincount(pilot, margin) / n
    scatter = float(np.sum((margin - mean[pilot]) ** 2)) / max(margin.size - n.size, 1)
    kept = max(1.0 - 1.0 / max(scatter, 1e-9), LEAST_KEPT)
    usual = shrunk(mean, scatter / n)[0] if n.size > 1 else mean
    return np.asarray(ndtr((usual[pilot] + kept * (margin - usual[pilot])) / np.sqrt(kept)))


def reliability(chance: Floats) -> float:
    """Share of the variance of a fault (n,) that its chances tell: 1 if each is 0 or 1, 0 where nothing is told.

    Chances that are right on average spread less than the fault itself does: var(chance) / (mean (1 - mean)).
    """
    mean = float(np.mean(chance))
    return float(np.var(chance)) / max(mean * (1.0 - mean), 1e-12)

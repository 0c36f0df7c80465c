"""How the mix of styles moves: landings with their styles in, each month's shares with intervals out.

Shares are told of landings judged by one and the same mixture: a refit is never a change of the mix.
"""

import numpy as np
import polars as pl
from scipy.stats import beta, chi2

from pipeline.recording import Floats

SCHEMA: dict[str, type[pl.DataType]] = {
    "pilot": pl.String,
    "month": pl.Date,
    "style": pl.Int64,
    "n": pl.Int64,
    "share": pl.Float64,
    "share_low": pl.Float64,
    "share_high": pl.Float64,
}
"""One row a pilot (null: all), month and style; `n` landings of the month in any style, interval of 90 %."""

LEAST_LANDINGS = 8
"""Fewer landings of a month, or worth after sessions, tell no mix: our own choice."""


def style_mix(landing_style: pl.DataFrame, landings: pl.DataFrame, *, correlation: float = 0.15) -> pl.DataFrame:
    """Share of each style by month, for each pilot and for all.

    Parameters
    ----------
    landing_style : landing_id, style (null: between styles or none) and probability.
    landings : landing_id, pilot, session and contact_at, the eligible ones.
    correlation : of two landings of one session; a month of few sessions is worth less.

    Returns
    -------
    Columns of SCHEMA by pilot, month and style. A style that a month lacks has a row too.
    """
    placed = landing_style.drop_nulls("style").join(
        landings.select("landing_id", "pilot", "session", "contact_at"), on="landing_id", how="inner"
    )
    dated = placed.drop_nulls("contact_at").with_columns(month=pl.col("contact_at").dt.date().dt.truncate("1mo"))
    everyone = dated.with_columns(pilot=pl.lit(None, pl.String))
    styles = sorted(dated["style"].unique())
    parts = [pl.DataFrame(schema=SCHEMA)]
    for (pilot, month), group in pl.concat([dated, everyone]).group_by("pilot", "month"):
        if group.height >= LEAST_LANDINGS:
            parts.append(
                _month(group, styles, correlation).with_columns(pilot=pl.lit(pilot, pl.String), month=pl.lit(month))
            )
    return pl.concat([part.select(*SCHEMA) for part in parts]).sort("pilot", "month", "style", nulls_last=True)


def _month(group: pl.DataFrame, styles: list[int], correlation: float) -> pl.DataFrame:
    counts = np.array([float((group["style"] == s).sum()) for s in styles])
    low, high = shares_between(counts, worth=_worth(group["session"], correlation))
    return pl.DataFrame(
        {
            "style": pl.Series(styles, dtype=pl.Int64),
            "n": pl.Series([group.height] * len(styles), dtype=pl.Int64),
            "share": counts / counts.sum(),
            "share_low": low,
            "share_high": high,
        }
    )


def _worth(session: pl.Series, correlation: float) -> float:
    """Independent landings these are worth."""
    size = session.value_counts()["count"].to_numpy().astype(float)
    return float(np.sum(size / (1.0 + (size - 1.0) * correlation)))


def shares_between(counts: Floats, *, worth: float) -> tuple[Floats, Floats]:
    """Interval of 90 % of each share, (k,) each, from counts (k,) worth so many independent ones.

    Dirichlet with 1/2 for each style before anything is seen.
    """
    own = counts * worth / counts.sum()
    a, b = own + 0.5, own.sum() - own + 0.5 * (counts.size - 1)
    if counts.size == 1:
        return np.ones(1), np.ones(1)
    return np.asarray(beta.ppf(0.05, a, b)), np.asarray(beta.ppf(0.95, a, b))


def chance_of_no_change(early: Floats, late: Floats, *, worth_early: float, worth_late: float) -> float:
    """Chance of two mixes at least so different with no change: chi-square of counts (k,) reduced to their worth.

    Styles seen in neither take no part; 1 where fewer than two are left.
    """
    table = np.array([early * worth_early / early.sum(), late * worth_late / late.sum()])
    table = table[:, table.sum(axis=0) > 0.0]
    if table.shape[1] < 2:
        return 1.0
    even = table.sum(axis=1, keepdims=True) * table.sum(axis=0) / table.sum()
    return float(chi2.sf(np.sum((table - even) ** 2 / even), table.shape[1] - 1))

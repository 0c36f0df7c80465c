"""Each pilot's usual value and scatter: a landing frame in, one row a pilot and measure with the cohort beside out.

Centre is the median, spread the quartile range / 1.349 (the standard deviation of a normal), both with 90 % intervals
that resample sessions, because landings of one day agree with each other. Low spread is not skill by itself.
"""

import numpy as np
import polars as pl
from scipy.special import stdtrit

from pipeline.recording import Floats
from pipeline.statistics.eligible import eligible, measured
from pipeline.statistics.standing import Ints

OUTCOMES = (
    "vertical_speed_at_contact_fpm",
    "peak_g",
    "touchdown_distance_ft",
    "distance_from_50ft_ft",
    "threshold_height_ft",
    "threshold_speed_over_vref_kt",
    "flare_height_ft",
    "pitch_change_deg",
    "thrust_close_lag_s",
    "float_time_s",
    "pitch_at_contact_deg",
    "touchdown_lateral_ft",
)
"""Measures described for each pilot."""

SCHEMA = {
    "pilot": pl.String(),
    "measure": pl.String(),
    "n": pl.Int64(),
    "centre": pl.Float64(),
    "centre_low": pl.Float64(),
    "centre_high": pl.Float64(),
    "spread": pl.Float64(),
    "spread_low": pl.Float64(),
    "spread_high": pl.Float64(),
    "cohort_pilots": pl.Int64(),
    "cohort_n": pl.Int64(),
    "cohort_centre": pl.Float64(),
    "cohort_spread": pl.Float64(),
}

RESAMPLES = 400
SEED = 20261125
QUARTILE_RANGE_OF_NORMAL = 1.349
INTERVAL_LANDINGS = 20
INTERVAL_SESSIONS = 6
"""Fewer landings or sessions give a centre without an interval: cannot tell yet."""

COHORT_PILOTS = 5
"""A cohort of fewer pilots is not shown: its middle would tell one pilot about another."""

RELIABLE = 0.5
"""Least share of the scatter that must not be the recorder's for a spread to be told."""


def pilot_outcomes(landings: pl.DataFrame) -> pl.DataFrame:
    """Describe each pilot on the aircraft type he landed most; types are not mixed.

    `spread` has the recorder's noise taken out in quadrature; it is null, with its interval, where noise makes up more
    than half of the scatter or there are under 4 landings. Intervals are null under 20 landings or 6 sessions. The
    cohort is all pilots, this one too, with the same commonest type: the median of their centres and of their
    spreads, null under 5 pilots.

    Returns
    -------
    One row a pilot and measure with at least one value, sorted.
    """
    kept = commonest_type(eligible(landings))
    groups = [
        (pilot, kind, measure, group)
        for measure in OUTCOMES
        for (pilot, kind), group in measured(kept, measure).group_by("pilot", "aircraft_type", maintain_order=True)
    ]
    rng = np.random.default_rng(SEED)
    rows = [
        {"pilot": pilot, "kind": kind, "measure": measure, **_describe(group, measure, rng)}
        for pilot, kind, measure, group in groups
    ]
    own = pl.DataFrame(rows, schema={**SCHEMA, "kind": pl.String()}).drop(pl.selectors.starts_with("cohort"))
    alike = ("measure", "kind")
    shown = {name: pl.col(name).count().over(*alike) >= COHORT_PILOTS for name in ("centre", "spread")}
    return (
        own.with_columns(
            pl.len().over(*alike).cast(pl.Int64).alias("cohort_pilots"),
            pl.col("n").sum().over(*alike).alias("cohort_n"),
            *(
                pl.when(ok).then(pl.col(name).median().over(*alike)).alias(f"cohort_{name}")
                for name, ok in shown.items()
            ),
        )
        .select(*SCHEMA)
        .sort("pilot", "measure")
    )


def commonest_type(landings: pl.DataFrame) -> pl.DataFrame:
    """Keep each pilot's landings on the type he landed most (ties: first in the alphabet); a null type is one type."""
    named = landings.with_columns(pl.col("aircraft_type").fill_null(""))
    most = (
        named.group_by("pilot", "aircraft_type")
        .len()
        .sort(["pilot", "len", "aircraft_type"], descending=[False, True, False])
        .unique("pilot", keep="first", maintain_order=True)
    )
    return named.join(most.select("pilot", "aircraft_type"), on=["pilot", "aircraft_type"], how="semi")


def _describe(group: pl.DataFrame, measure: str, rng: np.random.Generator) -> dict[str, int | float | None]:
    values = group[measure].to_numpy().astype(float)
    u = group[f"{measure}_u"].drop_nulls().to_numpy()
    noise = float(np.mean(u**2)) if u.size else 0.0
    centre, scatter = (float(q[0]) for q in _centre_and_spread(values, np.ones((1, values.size))))
    told: dict[str, int | float | None] = {"n": values.size, "centre": centre}
    reliable = values.size >= 4 and scatter**2 > 0.0 and 1.0 - noise / scatter**2 >= RELIABLE
    if reliable:
        told["spread"] = _without(scatter, noise)
    session = np.unique(group["session"].to_numpy(), return_inverse=True)[1]
    if values.size < INTERVAL_LANDINGS or session.max() + 1 < INTERVAL_SESSIONS:
        return told
    centres, spreads = _resampled(values, session.astype(np.int64), rng)
    low, high = np.quantile(centres, [0.05, 0.95])
    wider = _wider(int(session.max()) + 1)
    told["centre_low"], told["centre_high"] = centre + wider * (low - centre), centre + wider * (high - centre)
    if reliable:
        low, high = np.quantile(spreads, [0.05, 0.95])
        told["spread_low"], told["spread_high"] = _without(low, noise), _without(high, noise)
    return told


def _wider(sessions: int) -> float:
    """How much wider than its random weights show a centre of few sessions is: their variance, and Student's t."""
    student = float(stdtrit(sessions - 1, 0.95) / stdtrit(np.inf, 0.95))
    return student * float(np.sqrt((sessions + 1) / (sessions - 1)))


def _without(scatter: float, noise: float) -> float:
    """Scatter less the variance `noise` of the recorder in quadrature, not below 0."""
    return float(np.sqrt(max(max(scatter, 0.0) ** 2 - noise, 0.0)))


def _resampled(values: Floats, session: Ints, rng: np.random.Generator) -> tuple[Floats, Floats]:
    """Centres and spreads, each (RESAMPLES,), under random weights of sessions (Rubin 1981, Annals of Statistics 9)."""
    weight = rng.exponential(size=(RESAMPLES, int(session.max()) + 1))
    return _centre_and_spread(values, weight[:, session])


def _centre_and_spread(values: Floats, weights: Floats) -> tuple[Floats, Floats]:
    """Weighted median and quartile range / 1.349 of `values` (n,) for each row of `weights` (m, n): (m,), (m,).

    Quantiles interpolate between the mid-points of the weights, so that equal weights give the usual sample median.
    """
    order = np.argsort(values)
    x, w = values[order], weights[:, order]
    share = (np.cumsum(w, axis=1) - 0.5 * w) / w.sum(axis=1, keepdims=True)
    low, middle, high = np.array([np.interp([0.25, 0.5, 0.75], row, x) for row in share]).T
    return middle, (high - low) / QUARTILE_RANGE_OF_NORMAL

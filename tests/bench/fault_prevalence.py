"""Whether the share of landings with a fault is the same by every recorder, and its interval holds the truth.

    python tests/bench/fault_prevalence.py [--pilots 200] [--landings 240] [--seed 3] [--level measures|logs|both]

Goals: shares at 1, 4 and 16 Hz of the same truth agree within their intervals, and an interval of 90 % holds the truth
of about 90 in 100 pilots. At the level of measures many pilots' margins are drawn about a truth, with errors as large
as each recorder's are for vertical speed at contact; at the level of logs one set of landings is flown, recorded by
recorders of 16, 4 and 1 Hz, and measured. The plain share of landings beyond doubt stands beside.
"""

import argparse
import sys
from itertools import combinations

import numpy as np
import polars as pl
from made_landings import made, policy
from numpy.typing import NDArray
from scipy.stats import gamma, norm

from flows.invented.units import FPM, FT, KT
from pipeline.faults.judging import SCHEMA
from pipeline.faults.rule import Beyond
from pipeline.faults.rules import FAULTS
from pipeline.statistics.prevalence import COMMON, prevalence

Floats = NDArray[np.float64]

SPREAD_FPM = 90.0
"""How far a pilot's landings scatter: what u is compared with."""
RATES = {"16 Hz": 17.0, "4 Hz": 20.0, "1 Hz": 64.0}
"""Usual standard uncertainty of vertical speed at contact by rate, ft/min, as fault_verdicts.py prints it."""
RECORDERS = {"metric-16": "16 Hz", "clock-4": "4 Hz", "slow-1": "1 Hz"}
SHARES = (0.03, 0.10, 0.30)
SIZES = (40, 100, 300)
PER_SESSION, ALIKE, AIRCRAFT = 3, 0.3, 4
"""Landings a session, and the share of variance that a session's landings have in common; aircraft they are flown in."""
TRUTHS = {
    "hard": "vertical_speed_at_contact_fpm",
    "late_flare": "flare_height_ft",
    "high_flare": "flare_height_ft",
    "high_at_threshold": "threshold_height_ft",
    "low_at_threshold": "threshold_height_ft",
    "fast_at_threshold": "threshold_speed_over_vref_kt",
    "slow_at_threshold": "threshold_speed_over_vref_kt",
    "short": "touchdown_distance_ft",
    "thrust_closed_early": "thrust_close_height_ft",
}


def drawn(pilots: int, seed: int) -> pl.DataFrame:
    """Shares of many pilots by shape of the truth, true share, landings and rate: one row a pilot and rate."""
    rows = []
    for shape in ("normal", "skewed"):
        for share in SHARES:
            for n in SIZES:
                for pilot in range(pilots):
                    draw = np.random.default_rng([seed, pilot, n])
                    margin = SPREAD_FPM * _margins(shape, share, n, draw)
                    for rate, usual in RATES.items():
                        u = usual * np.exp(0.3 * draw.standard_normal(n))
                        known = {"shape": shape, "truth": share, "n": n, "pilot": pilot, "rate": rate}
                        told = prevalence(_rows(margin, u, draw), seed=pilot).rows(named=True)
                        rows += [{**row, **known} for row in told]
    return pl.DataFrame(rows)


def _margins(shape: str, share: float, n: int, draw: np.random.Generator) -> Floats:
    """True margins over the limit in units of their spread, alike within sessions; `share` of them positive."""
    sessions = -(-n // PER_SESSION)
    common = np.repeat(draw.standard_normal(sessions), PER_SESSION)[:n]
    z = np.sqrt(ALIKE) * common + np.sqrt(1.0 - ALIKE) * draw.standard_normal(n)
    if shape == "normal":
        return norm.ppf(share) + z
    law = gamma(2.0)
    return (law.ppf(norm.cdf(z)) - law.ppf(1.0 - share)) / np.sqrt(2.0)


def _rows(margin: Floats, u: Floats, draw: np.random.Generator) -> pl.DataFrame:
    """Fault rows of landings whose true margins over the limit are given."""
    session = np.arange(len(margin)) // PER_SESSION
    aircraft = session % AIRCRAFT
    shared = draw.standard_normal(AIRCRAFT)[aircraft]
    seen = margin + u * (np.sqrt(1.0 - COMMON) * draw.standard_normal(len(margin)) + np.sqrt(COMMON) * shared)
    probability = norm.cdf(seen / u)
    columns = {
        "landing_id": [str(i) for i in range(len(margin))],
        "fault": ["hard"] * len(margin),
        "verdict": ["seen" if p >= 0.95 else "cannot_tell" for p in probability],
        "probability": probability,
        "value": -360.0 - seen,
        "value_u": u,
        "limit_value": np.full(len(margin), -360.0),
        "given": np.ones(len(margin)),
        "reason": [None] * len(margin),
    }
    return pl.DataFrame(columns, schema=SCHEMA).with_columns(
        session=pl.Series(session), installation=pl.Series(aircraft).cast(pl.String)
    )


def drawn_table(rows: pl.DataFrame) -> pl.DataFrame:
    """By shape, share, landings and rate: bias, spread, how often the interval holds the truth, the plain count."""
    holds = (pl.col("share_low") <= pl.col("truth")) & (pl.col("truth") <= pl.col("share_high"))
    return (
        rows.group_by("shape", "truth", "n", "rate", maintain_order=True)
        .agg(
            pilots=pl.len(),
            share_pct=(100.0 * pl.col("share").mean()).round(1),
            beyond_doubt_pct=(100.0 * (pl.col("seen") / pl.col("n")).mean()).round(1),
            spread_pct=(100.0 * pl.col("share").std()).round(1),
            width_pct=(100.0 * (pl.col("share_high") - pl.col("share_low")).mean()).round(1),
            holds_pct=(100.0 * holds.mean()).round(0),
        )
        .sort("shape", "truth", "n", maintain_order=True)
    )


def agreeing(rows: pl.DataFrame, by: list[str]) -> pl.DataFrame:
    """How often two rates' intervals overlap and each holds the other's share, of the same truth."""
    wide = {rate: part for (rate,), part in rows.partition_by("rate", as_dict=True, maintain_order=True).items()}
    found = []
    for first, second in combinations(wide, 2):
        both = wide[first].join(wide[second], on=by, suffix="_2")
        overlap = (both["share_low"] <= both["share_high_2"]) & (both["share_low_2"] <= both["share_high"])
        inside = both["share"].is_between(both["share_low_2"], both["share_high_2"])
        found.append((first, second, both.height, 100.0 * overlap.mean(), 100.0 * inside.mean()))
    names = ["first", "second", "n", "intervals_overlap_pct", "first_inside_second_pct"]
    return pl.DataFrame(found, schema=names, orient="row").with_columns(pl.col(pl.Float64).round(1))


def flown(n: int, seed: int) -> pl.DataFrame:
    """Shares of faults on one set of landings by recorder, with the share that truly had it."""
    draw = np.random.default_rng(seed)

    def spread(usual: float, by: float) -> Floats:
        session = np.repeat(draw.standard_normal(-(-n // PER_SESSION)), PER_SESSION)[:n]
        return usual + by * (np.sqrt(ALIKE) * session + np.sqrt(1.0 - ALIKE) * draw.standard_normal(n))

    found = made(
        "jet",
        policy("jet"),
        seed=seed,
        recorders=tuple(RECORDERS),
        aircraft=np.arange(n) // PER_SESSION % AIRCRAFT,
        crosswind_kt=spread(0.0, 5.0),
        changes={
            "flare_m": np.exp(spread(np.log(28.0), 0.4)) * FT,
            "sink_ms": spread(170.0, 40.0) * FPM,
            "aim_m": spread(46.0, 16.0) * FT,
            "target_ms": spread(126.0, 6.0) * KT,
            "close_lag_s": spread(-1.5, 1.5),
        },
    )
    rows = []
    for recorder, rate in RECORDERS.items():
        of = found.faults.filter(pl.col("recorder") == recorder)
        session = pl.col("made") // PER_SESSION
        told = prevalence(of.with_columns(session=session, installation=(session % AIRCRAFT).cast(pl.String)))
        rows += [{"rate": rate, **row} for row in told.filter(pl.col("fault").is_in(list(TRUTHS))).rows(named=True)]
    true = {fault: _share(found.truth[name], fault) for fault, name in TRUTHS.items()}
    return pl.DataFrame(rows).with_columns(pl.col("fault").replace_strict(true, default=None).alias("truth"))


def _share(truth: pl.Series, fault: str) -> float:
    """Share of landings that truly have a fault, of those that have its measure."""
    rule, known = FAULTS[fault], truth.drop_nulls()
    first = rule.shown
    assert isinstance(first, Beyond)
    shipped = {"hard_fpm": -360.0, "zone_start_ft": 500.0}
    limit = rule.limits.get(first.limit, shipped.get(first.limit, np.nan))
    over = known > limit if first.side == "above" else known < limit
    return float(over.mean() or 0.0)


def flown_table(rows: pl.DataFrame) -> pl.DataFrame:
    """One row a fault and rate, in percent."""
    pct = [(100.0 * pl.col(name)).round(1).alias(name) for name in ("truth", "share", "share_low", "share_high")]
    holds = pl.col("truth").is_between(pl.col("share_low"), pl.col("share_high")).alias("holds")
    return (
        rows.with_columns(holds)
        .with_columns(pct)
        .select("fault", "rate", "n", "untold", "truth", "share", "share_low", "share_high", "seen", "holds")
        .sort("fault", maintain_order=True)
    )


def main() -> None:
    """Print the tables."""
    given = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    given.add_argument("--pilots", type=int, default=200)
    given.add_argument("--landings", type=int, default=240)
    given.add_argument("--seed", type=int, default=3)
    given.add_argument("--level", choices=("measures", "logs", "both"), default="both")
    asked = given.parse_args()
    with pl.Config(tbl_rows=-1, tbl_cols=-1, tbl_width_chars=180, tbl_hide_dataframe_shape=True):
        if asked.level != "logs":
            rows = drawn(asked.pilots, asked.seed)
            sys.stdout.write(f"measures, {asked.pilots} pilots a row\n{drawn_table(rows)}\n")
            sys.stdout.write(f"{agreeing(rows, ['shape', 'truth', 'n', 'pilot'])}\n")
        if asked.level != "measures":
            rows = flown(asked.landings, asked.seed)
            sys.stdout.write(f"logs, {asked.landings} landings\n{flown_table(rows)}\n{agreeing(rows, ['fault'])}\n")


if __name__ == "__main__":
    main()

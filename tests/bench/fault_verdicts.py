"""How surely each fault is found where it is, and how seldom where the landing is just short of it.

    python tests/bench/fault_verdicts.py [--landings 120] [--seed 5] [--level measures|logs|both]

Distances are counted in the standard uncertainty of the measure a fault rests on. Made to show it: beyond the limit by
3.3 or more. Just short of it: short by up to 3.3. Goals: found 97 in 100, named wrongly 1 in 100, the rest untold.
At the level of measures every rule is judged on measures drawn about a truth; at the level of logs landings are flown
by the demo's simulation, recorded and measured, and their truth is the simulation's own.
"""

import argparse
import sys
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import polars as pl
from made_landings import Made, made, policy
from numpy.typing import NDArray

from flows.invented.units import FPM, FT, KT
from pipeline.faults.judging import chances
from pipeline.faults.limits import limits_for
from pipeline.faults.probability import SURE, UNSEEN
from pipeline.faults.rule import Beyond, Condition, Is, Rule
from pipeline.faults.rules import FAULTS
from pipeline.measures.table import BY_NAME
from pipeline.policy import AircraftType, FaultRule, Policy

Floats = NDArray[np.float64]

FAR = 3.3
KNOWN = AircraftType(crab_max_deg=6.0, crosswind_max_kt=25.0, tailwind_max_kt=10.0)
RECORDERS = ("metric-16", "plain-8", "clock-4", "slow-1")
REACHED = {
    "float": {"float_s": 4.0},
    "climb_in_flare": {"regained_ft": 1.5},
    "over_rotation": {"rotated_deg": 3.5},
    "bank_below_100ft": {"bank_deg": 4.0},
    "bank_below_20ft": {"bank_deg": 2.5},
    "drift_at_contact": {"drift_kt": 2.5},
    "downwind_wing_low": {"downwind_roll_deg": -0.5},
    "off_centreline": {"off_centre_ft": 5.0},
    "abrupt_derotation": {"nose_down_dps": -2.5},
    "long": {"zone_end_ft": 1700.0},
    "soft_and_long": {"zone_end_ft": 1900.0},
}
"""Limits put where the simulation flies on both sides of them; the others stand as shipped."""


def measured_rules(n: int, seed: int) -> pl.DataFrame:
    """Every rule on `n` landings that show it and `n` just short of it: shares found, named wrongly, untold."""
    rng = np.random.default_rng(seed)
    return pl.DataFrame([{"fault": name, **_rule(name, rule, n, rng)} for name, rule in FAULTS.items()])


def _rule(name: str, rule: Rule, n: int, rng: np.random.Generator) -> dict[str, float]:
    kind = AircraftType(**{**vars(KNOWN), "profile": rule.profiles[0]})
    limits = {None: limits_for(name, rule, kind, Policy())}
    shown = chances(_landings(rule, limits[None], n, rng, shows=True), rule, limits).probability
    short = chances(_landings(rule, limits[None], n, rng, shows=False), rule, limits).probability
    return {
        "found_pct": _pct(shown >= SURE),
        "shown_untold_pct": _pct((shown < SURE) & (shown > UNSEEN)),
        "wrongly_pct": _pct(short >= SURE),
        "short_untold_pct": _pct((short < SURE) & (short > UNSEEN)),
    }


def _pct(which: NDArray[np.bool_]) -> float:
    return round(100.0 * float(np.mean(which)), 1) if which.size else float("nan")


def _landings(
    rule: Rule, limits: dict[str, float | None], n: int, rng: np.random.Generator, *, shows: bool
) -> pl.DataFrame:
    """Landings on which every condition holds, or all but the first of them, each as it is measured."""
    columns: dict[str, object] = {
        "aircraft_type": pl.Series([None] * n, dtype=pl.String),
        "normal_accel_rate_hz": np.full(n, 8.0),
        "touchdown_distance_ft": np.full(n, 1500.0),
        "runway_remaining_ft": np.full(n, 20000.0),
    }
    for place, part in enumerate(rule.conditions):
        for condition in part if isinstance(part, tuple) else (part,):
            columns |= _measured(condition, limits, n, rng, holds=shows or place > 0)
    return pl.DataFrame(columns)


def _measured(
    condition: Condition, limits: dict[str, float | None], n: int, rng: np.random.Generator, *, holds: bool
) -> dict[str, object]:
    name, none = condition.measure, pl.Series([None] * n, dtype=pl.String)
    if isinstance(condition, Beyond):
        return {f"{name}_reason": none} | _number(condition, limits, n, rng, holds=holds)
    if isinstance(condition, Is):
        if isinstance(condition.value, bool):
            value: list[bool] | list[str] = [condition.value == holds] * n
        else:
            value = [condition.value if holds else ""] * n
        return {f"{name}_reason": none, name: value, BY_NAME[name].quality: rng.uniform(0.98, 1.0, n)}
    return {f"{name}_reason": pl.Series(["not_reached" if holds else None] * n, dtype=pl.String)}


def _number(
    condition: Beyond, limits: dict[str, float | None], n: int, rng: np.random.Generator, *, holds: bool
) -> dict[str, object]:
    limit = limits["sampled_g_8hz" if condition.limit == "sampled_g" else condition.limit] or 0.0
    limit = -limit if condition.limit == "hard_fpm" else limit
    side = 1.0 if condition.side == "above" else -1.0
    if condition.measure in BY_NAME and BY_NAME[condition.measure].kind == "count":
        value = np.full(n, 1 if holds else 0)
        return {condition.measure: value, BY_NAME[condition.measure].quality: rng.uniform(0.98, 1.0, n)}
    u = rng.uniform(0.02, 0.1, n) * max(abs(limit), 1.0)
    away = rng.uniform(FAR, 2.0 * FAR, n) if holds else -rng.uniform(0.0, FAR, n)
    return {
        condition.measure: limit + side * u * away + u * rng.standard_normal(n),
        f"{condition.measure}_u": u,
    }


@dataclass(frozen=True)
class Family:
    """Landings that differ in one way: what is changed in the simulation's plan, and the faults it can show.

    `faults`: by fault, the truth that its first condition is about.
    """

    name: str
    profile: str
    changes: dict[str, Floats]
    crosswind_kt: Floats
    faults: dict[str, str]


def families(n: int, seed: int) -> Iterator[Family]:
    """Landings flown across each limit; ranges are our own choice."""
    rng = np.random.default_rng(seed)
    calm = np.zeros(n)
    for profile in ("jet", "light"):
        big = 1.0 if profile == "jet" else 0.6
        flare_ft = big * np.exp(rng.uniform(np.log(4.0), np.log(85.0), n))
        yield Family(
            "height of the flare",
            profile,
            {"flare_m": flare_ft * FT, "sink_ms": rng.uniform(80.0, 220.0, n) * FPM},
            calm,
            {
                "high_flare": "flare_height_ft",
                "late_flare": "flare_height_ft",
                "hard": "vertical_speed_at_contact_fpm",
                "no_flare": "sink_kept_pct",
                "over_rotation": "pitch_change_deg",
            },
        )
        yield Family(
            "holding off",
            profile,
            {
                "flare_m": big * rng.uniform(20.0, 45.0, n) * FT,
                "sink_ms": rng.uniform(10.0, 140.0, n) * FPM,
                "lag_s": rng.uniform(0.1, 1.6, n),
                "aim_m": rng.uniform(40.0, 120.0, n) * FT,
            },
            calm,
            {
                "float": "float_time_s",
                "climb_in_flare": "height_regained_ft",
                "soft_and_long": "touchdown_distance_ft",
            },
        )
        yield Family(
            "height and speed at the threshold",
            profile,
            {
                "aim_m": rng.uniform(8.0, 110.0, n) * FT,
                "target_ms": (118.0 if profile == "jet" else 72.0) * KT + rng.uniform(-8.0, 32.0, n) * KT,
            },
            calm,
            {
                "high_at_threshold": "threshold_height_ft",
                "low_at_threshold": "threshold_height_ft",
                "fast_at_threshold": "threshold_speed_over_vref_kt",
                "slow_at_threshold": "threshold_speed_over_vref_kt",
                "slow_on_approach": "lowest_speed_over_vref_kt",
                "long": "touchdown_distance_ft",
                "short": "touchdown_distance_ft",
            },
        )
        yield Family(
            "thrust and attitude",
            profile,
            {
                "flare_m": big * rng.uniform(25.0, 40.0, n) * FT,
                "close_lag_s": rng.uniform(-6.0, 5.0, n),
                "close_s": rng.uniform(0.8, 2.5, n),
                "after_close": np.radians(rng.uniform(-4.0, 4.0, n)),
            },
            calm,
            {
                "thrust_closed_early": "thrust_close_height_ft",
                "thrust_carried": "thrust_at_contact_pct",
                "nose_dropped": "pitch_after_close_deg",
                "nose_raised": "pitch_after_close_deg",
            },
        )
        yield Family(
            "crosswind",
            profile,
            {"decrab": rng.uniform(0.0, 1.0, n), "rough": np.radians(rng.uniform(0.1, 1.6, n))},
            rng.choice([-1.0, 1.0], n) * rng.uniform(0.0, 28.0, n) * (1.0 if profile == "jet" else 0.7),
            {
                "crab_beyond_limit": "crab_at_contact_deg",
                "drift_at_contact": "lateral_drift_kt",
                "downwind_wing_low": "roll_into_wind_at_contact_deg",
                "off_centreline": "abs_touchdown_lateral_ft",
                "bank_below_100ft": "bank_100_to_20ft_deg",
                "bank_below_20ft": "bank_below_20ft_deg",
            },
        )
        yield Family(
            "lowering the nose",
            profile,
            {"derotate_s": rng.uniform(0.3, 8.0, n), "derotate_rate": np.radians(rng.uniform(1.0, 8.0, n))},
            calm,
            {"late_derotation": "nose_lag_s", "abrupt_derotation": "nose_rate_dps"},
        )


def flown(n: int, seed: int) -> pl.DataFrame:
    """Every family flown, recorded and judged: one row a landing, recorder and fault, with its true distance."""
    parts = []
    for family in families(n, seed):
        rules = {name: FaultRule(limits=limits) for name, limits in REACHED.items()}
        found = made(
            family.profile,
            policy(family.profile, rules),
            seed=seed,
            recorders=RECORDERS,
            crosswind_kt=family.crosswind_kt,
            changes=family.changes,
        )
        parts += [distances(found, fault, truth) for fault, truth in family.faults.items()]
    return pl.concat(parts)


def distances(found: Made, fault: str, truth: str) -> pl.DataFrame:
    """Fault rows with how far the truth of their first condition lies beyond its limit, in uncertainties."""
    first = FAULTS[fault].shown
    side = 1.0 if not isinstance(first, Beyond) or first.side == "above" else -1.0
    rows = found.faults.filter(pl.col("fault") == fault).join(
        found.truth.select("made", pl.col(truth).alias("truth")), on="made"
    )
    away = side * (pl.col("truth") - pl.col("limit_value")) / pl.col("value_u")
    return rows.select("fault", "recorder", "verdict", "value", "truth", "limit_value", "value_u", "given", away=away)


def flown_table(rows: pl.DataFrame) -> pl.DataFrame:
    """Shares by fault and recorder. Where other conditions may not hold, only landings on which they do are shown it."""
    shown = (pl.col("away") >= FAR) & (pl.col("given") >= SURE)
    short = pl.col("away").is_between(-FAR, 0.0)
    named, untold = pl.col("verdict") == "seen", pl.col("verdict") == "cannot_tell"
    return (
        rows.group_by("fault", "recorder", maintain_order=True)
        .agg(
            n_shown=shown.sum(),
            found_pct=(100.0 * (named & shown).sum() / shown.sum()).round(1),
            n_short=short.sum(),
            wrongly_pct=(100.0 * (named & short).sum() / short.sum()).round(1),
            short_untold_pct=(100.0 * (untold & short).sum() / short.sum()).round(1),
            n_far=(pl.col("away") < -FAR).sum(),
            far_named=(named & (pl.col("away") < -FAR)).sum(),
            u=pl.col("value_u").median().round(2),
            no_data=pl.col("value").is_null().sum(),
        )
        .sort("fault", "recorder", maintain_order=True)
    )


def overall(rows: pl.DataFrame) -> pl.DataFrame:
    """All faults together, by recorder."""
    return flown_table(rows.with_columns(fault=pl.lit("all")))


def main() -> None:
    """Print the tables."""
    given = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    given.add_argument("--landings", type=int, default=120)
    given.add_argument("--seed", type=int, default=5)
    given.add_argument("--level", choices=("measures", "logs", "both"), default="both")
    asked = given.parse_args()
    with pl.Config(tbl_rows=-1, tbl_cols=-1, tbl_width_chars=180, tbl_hide_dataframe_shape=True):
        if asked.level != "logs":
            sys.stdout.write(f"measures, 4000 landings a rule\n{measured_rules(4000, asked.seed)}\n")
        if asked.level != "measures":
            rows = flown(asked.landings, asked.seed)
            sys.stdout.write(f"logs, {asked.landings} landings a family\n{flown_table(rows)}\n{overall(rows)}\n")


if __name__ == "__main__":
    main()

"""A pilot's week, history and drift watch in; the two or three plain sentences a page opens with out.

A week differs only where the drift watch flags it, a training limit was passed, or a landing lies more than three of the
pilot's own spreads from his centre; all else is "nothing that differs". Nothing is praised for being soft.
"""

import math
from statistics import NormalDist
from typing import Any

import polars as pl

from pipeline.measures.table import BY_NAME
from pipeline.policy import Limits
from reports.selection import Own
from reports.words import MINUS, counted, listed, number, quantity, week_words

WATCHED = ("vertical_speed_at_contact_fpm", "touchdown_distance_ft", "distance_from_50ft_ft")
"""The outcomes whose usual range is told, in the order they are asked for; the last stands in where there is no position."""
FEWEST = 10
"""Landings before anything is called usual."""
UNUSUAL = 3.0
"""Own spreads from the own centre beyond which one landing is named."""
BEYOND_DOUBT = 0.95
"""Probability of being past a limit from which it is said outright; from 1 minus it, "cannot tell"."""
NINETY = 1.645


def opening(own: Own, outcomes: dict[str, dict[str, Any]], flags: list[str], *, week: str, limits: Limits) -> list[str]:
    """Return the opening sentences: what was flown, what differs, and what is usual with n and interval.

    Parameters
    ----------
    outcomes : the pilot's pilot_outcome rows by measure.
    flags : what is said of each open flag.
    """
    flown = _flown(own, week)
    if not own.week.height:
        return [flown, *flags]
    named = [*flags, *past_limits(own.week, limits), *unusual(own.usual_week(), outcomes)]
    known = usual_of(outcomes)
    if not known:
        named.append(f"Too few landings yet to say what is usual for you: at least {FEWEST} routine ones are needed.")
    elif not named:
        named.append("Nothing this week that differs from your usual.")
    return [flown, *named, *(_usual(own.usual_week(), outcomes[name], own.aircraft_type) for name in known)]


def usual_of(outcomes: dict[str, dict[str, Any]]) -> list[str]:
    """Return up to two watched measures whose own centre and spread are known from enough landings."""
    known = [name for name in WATCHED if name in outcomes and usual_band(outcomes[name]) is not None]
    return known[:2]


def usual_band(outcome: dict[str, Any] | None) -> tuple[float, float] | None:
    """Return the middle 90 % the own centre and spread make one expect, or None where they are not known."""
    if outcome is None or outcome["n"] < FEWEST or outcome["centre"] is None or outcome["spread"] is None:
        return None
    reach = NINETY * outcome["spread"]
    return outcome["centre"] - reach, outcome["centre"] + reach


def past_limits(week: pl.DataFrame, limits: Limits) -> list[str]:
    """Return a sentence for each landing past a training limit, or that may have been; no limit is one of airworthiness."""
    sentences = []
    for row in week.filter(pl.col("contact_t_s").is_not_null()).to_dicts():
        hard = _probability(row, "vertical_speed_at_contact_fpm", below=-limits.hard_fpm)
        said = _said(
            row, "vertical_speed_at_contact_fpm", hard, f"the training limit of {MINUS}{limits.hard_fpm:.0f} ft/min"
        )
        sentences += [said] if said else []
        if row["in_touchdown_zone"] is False and (row["in_touchdown_zone_confidence"] or 0.0) >= BEYOND_DOUBT:
            sentences.append(_outside_zone(row, limits))
    return sentences


def _outside_zone(row: dict[str, Any], limits: Limits) -> str:
    distance = row["touchdown_distance_ft"]
    place = quantity(distance, row["touchdown_distance_ft_u"], "ft", default_decimals=0)
    side = "short of" if distance < limits.zone_start_ft else "beyond"
    meant = " (a long landing was intended)" if row["intent"] == "land_long" and side == "beyond" else ""
    return f"Landing {row['number']} touched down {side} the touchdown zone, at {place}{meant}."


def _probability(row: dict[str, Any], name: str, *, below: float) -> float | None:
    value, uncertainty = row[name], row[BY_NAME[name].quality]
    if value is None:
        return None
    if not uncertainty:
        return float(value < below)
    return NormalDist(value, uncertainty).cdf(below)


def _said(row: dict[str, Any], name: str, probability: float | None, limit: str) -> str | None:
    if probability is None or probability <= 1 - BEYOND_DOUBT:
        return None
    measure = BY_NAME[name]
    shown = quantity(row[name], row[measure.quality], measure.unit, default_decimals=0)
    called = measure.title.lower()
    if probability >= BEYOND_DOUBT:
        return f"Landing {row['number']}: {called} {shown}, past {limit}."
    return f"Landing {row['number']}: {called} {shown}; this log cannot tell whether it passed {limit}."


def unusual(week: pl.DataFrame, outcomes: dict[str, dict[str, Any]]) -> list[str]:
    """Return a sentence for each measure with landings far from the pilot's own centre, in either direction."""
    sentences = []
    for name in usual_of(outcomes):
        outcome, measure = outcomes[name], BY_NAME[name]
        far = [row for row in week.drop_nulls(name).to_dicts() if _far(row, name, outcome)]
        if far:
            places = listed(
                [f"{quantity(row[name], row[measure.quality], measure.unit)} (landing {row['number']})" for row in far]
            )
            centre = number(outcome["centre"])
            sentences.append(f"{measure.title} was far from your usual {centre} {measure.unit}: {places}.")
    return sentences


def _far(row: dict[str, Any], name: str, outcome: dict[str, Any]) -> bool:
    reach = math.hypot(outcome["spread"], row[BY_NAME[name].quality] or 0.0)
    return bool(abs(row[name] - outcome["centre"]) > UNUSUAL * reach)


def _flown(own: Own, week: str) -> str:
    name = week_words(week)
    if not own.week.height:
        return f"No landings of yours reached us for {name}."
    contacts = own.week.filter(pl.col("contact_t_s").is_not_null()).height
    around = own.week.filter(pl.col("outcome") == "go_around").height
    parts = [counted(contacts, "landing")] + ([counted(around, "go-around")] if around else [])
    return f"In {name} you made {listed(parts)}."


def _usual(week: pl.DataFrame, outcome: dict[str, Any], aircraft_type: str | None) -> str:
    name = outcome["measure"]
    measure, band = BY_NAME[name], usual_band(outcome)
    values = week[name].drop_nulls()
    low, high = band or (math.nan, math.nan)
    inside = values.is_between(low, high).sum()
    this_week = f"; {inside} of this week's {values.len()} lay there" if values.len() else ""
    interval = ""
    if outcome["centre_low"] is not None:
        ends = f"{number(outcome['centre_low'])} to {number(outcome['centre_high'])}"
        interval = f" (90 % interval {ends}, n = {number(outcome['n'])})"
    kind = f" on {aircraft_type}" if aircraft_type else ""
    return (
        f"{measure.title} is usually about {number(outcome['centre'])} {measure.unit} for you{kind}{interval}; "
        f"nine in ten landings lie between {number(low)} and {number(high)} {measure.unit}{this_week}."
    )

"""A pilot's week, what is usual and the drift watch in; the two or three plain sentences a page opens with out.

A week differs only where the drift watch flags it, a training limit was passed, or a landing lies more than three of the
pilot's own spreads from his centre; all else is "nothing that differs". Nothing is praised for being soft.
"""

import math
from collections.abc import Mapping
from statistics import NormalDist
from typing import Any

import polars as pl

from pipeline.measures.table import BY_NAME
from pipeline.policy import Limits
from reports.gates import at
from reports.selection import GIVEN_UP, LANDED, Own
from reports.usual import FEWEST, Usual
from reports.words import MINUS, counted, listed, number, quantity, week_words

UNUSUAL = 3.0
"""Own spreads from the own centre beyond which one landing is named."""
BEYOND_DOUBT = 0.95
"""Probability of being past a limit from which it is said outright; from 1 minus it, "cannot tell"."""

Zones = Mapping[str, tuple[float, float]]
"""Near and far edge of the touchdown zone of each known runway, ft from the landing threshold."""


def opening(
    own: Own, known: Mapping[str, Usual], said: list[str], *, week: str, limits: Limits, zones: Zones
) -> list[str]:
    """Return the opening sentences: what was flown, and what differs or that nothing does.

    Parameters
    ----------
    known : what is usual, by measure.
    said : what is said of each open flag, and of gates the week's approaches did not meet.
    """
    flown = _flown(own, week)
    if not own.week.height:
        return [flown, *said]
    named = [
        *said,
        *past_limits(own.week, limits=limits, zones=zones),
        *unusual(own.usual_week(), known),
    ]
    if not known:
        named.append(f"Too few landings yet to say what is usual for you: at least {FEWEST} routine ones are needed.")
    elif not named and own.usual_week().height:
        named.append("Nothing this week that differs from your usual.")
    elif not named:
        named.append("No landing of this week can be held against your usual.")
    return [flown, *named]


def gates_missed(gates: pl.DataFrame) -> list[str]:
    """Return a sentence for each gate that some of the week's approaches did not meet, the highest first."""
    told = gates.drop_nulls("stable").sort("height_ft", "gate", descending=[True, False])
    sentences = []
    for part in told.partition_by("gate", maintain_order=True):
        missed = int((~part["stable"]).sum())
        if missed:
            of = counted(part.height, "approach", "approaches")
            sentences.append(f"{missed} of {of} did not meet the gate at {at(part.row(0, named=True))}.")
    return sentences


def usual_words(own: Own, known: Mapping[str, Usual]) -> list[str]:
    """Return what is usual, with n and interval, and how many of the week's landings lay there."""
    return [_usual(own.usual_week(), one, own.aircraft_type) for one in known.values()]


def past_limits(week: pl.DataFrame, *, limits: Limits, zones: Zones) -> list[str]:
    """Return a sentence for each landing past a training limit, or that may have been; none is about airworthiness."""
    sentences = []
    for row in week.filter(pl.col("contact_t_s").is_not_null()).to_dicts():
        hard = _hard(row, limits.hard_fpm)
        outside = row["in_touchdown_zone"] is False and (row["in_touchdown_zone_confidence"] or 0.0) >= BEYOND_DOUBT
        sentences += [hard] if hard else []
        sentences += [_outside_zone(row, zones.get(row["runway"]), limits)] if outside else []
    return sentences


def _hard(row: dict[str, Any], limit_fpm: float) -> str | None:
    """Return what is said of a landing that passed the limit of vertical speed, or may have; None where it did not."""
    value, uncertainty = row["vertical_speed_at_contact_fpm"], row["vertical_speed_at_contact_fpm_u"]
    if value is None:
        return None
    past = NormalDist(value, uncertainty).cdf(-limit_fpm) if uncertainty else float(value < -limit_fpm)
    if past <= 1 - BEYOND_DOUBT:
        return None
    shown = quantity(value, uncertainty, "ft/min", default_decimals=0)
    limit = f"the training limit of {MINUS}{number(limit_fpm)} ft/min"
    verdict = f", past {limit}" if past >= BEYOND_DOUBT else f"; this log cannot tell whether it passed {limit}"
    return f"Landing {row['number']}: vertical speed at contact {shown}{verdict}."


def _outside_zone(row: dict[str, Any], zone: tuple[float, float] | None, limits: Limits) -> str:
    distance = row["touchdown_distance_ft"]
    place = quantity(distance, row["touchdown_distance_ft_u"], "ft", default_decimals=0)
    short = distance < limits.zone_start_ft
    side = "short of" if short else "beyond"
    edge = f", which {'begins' if short else 'ends'} at {number(zone[0 if short else 1])} ft there" if zone else ""
    meant = "; a long landing was intended" if row["intent"] == "land_long" and not short else ""
    return f"Landing {row['number']} touched down {side} the touchdown zone{edge}: at {place}{meant}."


def unusual(week: pl.DataFrame, known: Mapping[str, Usual]) -> list[str]:
    """Return a sentence for each measure with landings far from the pilot's own centre, in either direction."""
    sentences = []
    for name, one in known.items():
        measure = BY_NAME[name]
        far = [row for row in week.drop_nulls(name).to_dicts() if _far(row, one)]
        places = [f"{quantity(row[name], row[measure.quality], measure.unit)} (landing {row['number']})" for row in far]
        if far:
            usual_value = f"{number(one.centre)} {measure.unit}"
            sentences.append(f"{measure.title} was far from your usual {usual_value}: {listed(places)}.")
    return sentences


def _far(row: dict[str, Any], one: Usual) -> bool:
    if one.spread is None:
        return False
    reach = math.hypot(one.spread, row[BY_NAME[one.name].quality] or 0.0)
    return bool(abs(row[one.name] - one.centre) > UNUSUAL * reach)


def _flown(own: Own, week: str) -> str:
    name = week_words(week)
    if not own.week.height:
        return f"No landings of yours reached us for {name}."
    landed, around = own.week.filter(LANDED), own.week.filter(pl.col("outcome") == "go_around")
    surely = around.filter(GIVEN_UP).height
    unsure, untimed = around.height - surely, landed["contact_t_s"].null_count()
    elsewhere = landed.filter(pl.col("device").fill_null("aircraft") != "aircraft").height
    parts = [counted(landed.height, "landing") + (f" ({elsewhere} of them in a simulator)" if elsewhere else "")] + (
        [counted(surely, "go-around")] if surely else []
    )
    if unsure:
        parts.append(
            f"{counted(unsure, 'low approach', 'low approaches')} whose log cannot tell whether the wheels touched"
        )
    untold = (
        f" {'The log' if untimed == 1 else 'The logs'} of {counted(untimed, 'landing')} cannot tell when the wheels touched."
        if untimed
        else ""
    )
    return f"In {name} you made {listed(parts)}.{untold}"


def _usual(week: pl.DataFrame, one: Usual, aircraft_type: str | None) -> str:
    measure, values = BY_NAME[one.name], week[one.name].drop_nulls()
    inside = int(values.is_between(one.low, one.high).sum())
    one_does = f"this week's routine one {'does' if inside else 'does not'}"
    several_do = f"{inside or 'none'} of this week's {values.len()} routine ones {'does' if inside == 1 else 'do'}"
    this_week = f"; {several_do if values.len() > 1 else one_does}"
    this_week = this_week if values.len() else ""
    interval = ""
    if one.centre_low is not None and one.centre_high is not None:
        interval = f"90 % interval {number(one.centre_low)} to {number(one.centre_high)}, "
    kind = f" on {aircraft_type}" if aircraft_type else ""
    since = "" if one.until is None else f" before {one.until.day} {one.until:%B %Y}"
    is_now, lie = ("is", "lie") if one.until is None else ("was", "lay")
    return (
        f"{measure.title} {is_now} usually about {number(one.centre)} {measure.unit} for you{kind}{since} "
        f"({interval}n = {number(one.n)}); nine in ten of your landings{since} {lie} between {number(one.low)} and "
        f"{number(one.high)} {measure.unit}{this_week}."
    )

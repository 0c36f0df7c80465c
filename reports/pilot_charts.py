"""An edition's frames and one pilot's week in; that pilot's charts, and how to read them, out."""

from typing import Any

import polars as pl

from pipeline.measures.table import BY_NAME
from reports import flags, logbook
from reports.charts import drift, flare, look, runway, trend
from reports.edition_data import EditionData
from reports.selection import IN_AIRCRAFT, Own
from reports.usual import Usual
from reports.words import counted, local, number


def zones(data: EditionData) -> dict[str, tuple[float, float]]:
    """Return near and far edge of the touchdown zone of each runway whose length is known, ft from its threshold."""
    rows = data.runways.filter(pl.col("length_ft").is_not_null()).to_dicts()
    return {row["runway"]: runway.zone(row, data.policy.limits) for row in rows}


def runways(
    data: EditionData, mine: Own, week: pl.DataFrame, known: Usual | None
) -> tuple[list[look.Chart], list[str]]:
    """Return a plan for each runway of the week, and a sentence for each landing that cannot be placed."""
    landed = week.filter(pl.col("contact_t_s").is_not_null() & IN_AIRCRAFT)
    placed = landed.drop_nulls("touchdown_distance_ft")
    band = (known.low, known.high) if known else None
    charts, left = [], [row for row in landed.to_dicts() if row["touchdown_distance_ft"] is None]
    sentences = [
        f"Landing {row['number']} is not drawn: {logbook.why_not(row, 'touchdown_distance_ft')}." for row in left
    ]
    for (name,), rows in placed.partition_by("runway", as_dict=True, maintain_order=True).items():
        row = data.runway(name if isinstance(name, str) else None)
        if row is None or row["length_ft"] is None:
            sentences.append(f"{counted(rows.height, 'landing')} on {name}: its length is not in the runway table.")
        else:
            same = rows["aircraft_type"].eq_missing(pl.Series([mine.aircraft_type])).any()
            charts.append(runway.touchdowns(rows, row, limits=data.policy.limits, usual=band if same else None))
    return charts, sentences


def flares(data: EditionData, routine: pl.DataFrame, week: pl.DataFrame) -> tuple[list[look.Chart], str]:
    """Return flare profiles for each aircraft type of the week, and how to read them."""
    charts: list[look.Chart] = []
    week = week.filter(IN_AIRCRAFT)
    traced = data.traces["landing_id"].unique()
    types = week.filter(pl.col("landing_id").is_in(traced.implode()))["aircraft_type"].unique(maintain_order=True)
    used = []
    for kind in types:
        rows = week.filter(pl.col("aircraft_type").eq_missing(kind))
        before = routine.filter(
            pl.col("aircraft_type").eq_missing(kind), ~pl.col("landing_id").is_in(week["landing_id"].implode())
        )
        earlier = before.filter(pl.col("landing_id").is_in(traced.implode())).tail(flare.BAND_LANDINGS)["landing_id"]
        used.append(f"{earlier.len()} on {kind}" if kind else f"{earlier.len()}")
        charts += flare.profiles(rows, data.traces, earlier)
    words = (
        "Lines are this week's landings, aligned on first contact. The band is the middle 80 % of your own earlier "
        f"landings in the same type, the dashed line their median (earlier landings with a trace: {', '.join(used)})."
    )
    return charts, words


def trends(
    data: EditionData, mine: Own, week: pl.DataFrame, outcomes: dict[str, dict[str, Any]]
) -> tuple[list[look.Chart], str]:
    """Return the trend of vertical speed at contact and of where the landings touch down, and how to read them."""
    day = local("flown", data.zone, "%Y-%m-%dT%H:%M")
    history = mine.history.filter(pl.col("flown").is_not_null()).with_columns(day=day)
    if not history.height:
        return [], "No routine landing in the aircraft is held for you yet."
    fresh = history.join(week.select("landing_id", "number", "key", "label"), on="landing_id", maintain_order="left")
    limits = data.policy.limits
    placed = history["touchdown_distance_ft"].count() > 0
    where = "touchdown_distance_ft" if placed else "distance_from_50ft_ft"
    lines: dict[str, dict[str, float]] = {
        "vertical_speed_at_contact_fpm": {"training limit": -limits.hard_fpm},
        where: {"zone starts": limits.zone_start_ft, "zone ends, at the latest": limits.zone_end_ft} if placed else {},
    }
    charts = []
    for name, across in lines.items():
        if history[name].count():
            charts += trend.trends(history, name, fresh=fresh, lines=across)
    words = (
        f"{counted(history.height, 'routine landing')}{f' on {mine.aircraft_type}' if mine.aircraft_type else ''}, the latest {trend.LATEST} at most. The line is the running "
        f"median of {trend.WINDOW}, the band their middle 80 %; this week's are the coloured marks, with their 90 % "
        f"uncertainty. Grey on the calendar marks more than {trend.GAP_DAYS} days without a landing. "
        "A trend is read from the drift watch, not by eye."
    )
    return charts, words + _beside(outcomes.get("vertical_speed_at_contact_fpm"))


def _beside(outcome: dict[str, Any] | None) -> str:
    """Return where the other pilots' landings lie, where there are enough of them to stand behind."""
    if outcome is None or (outcome["cohort_pilots"] or 0) < 5 or outcome["cohort_centre"] is None:
        return ""
    measure = BY_NAME[outcome["measure"]]
    return (
        f" For {outcome['cohort_pilots']} pilots on this type, you among them ({number(outcome['cohort_n'])} landings), the "
        f"middle of their own centres of {measure.title.lower()} is {number(outcome['cohort_centre'])} {measure.unit}: no target."
    )


def drifts(data: EditionData, pilot: str) -> tuple[list[look.Chart], list[str]]:
    """Return the drift charts of both directions, and where each stands."""
    charts: list[look.Chart] = []
    sentences = [
        "It watches for a lasting change toward hard and toward long. Each landing gets a standing: how unusual it was "
        "for you in its conditions, in your own spreads, zero being usual and up being toward hard or long. The sum adds "
        f"up what stands out; when it passes its limit a flag is raised. {data.false_alarm_text}".strip()
    ]
    for toward in flags.CHARTS:
        points = data.drift_points.filter(pl.col("pilot") == pilot, pl.col("chart") == toward)
        raised = data.drift_flags.filter(pl.col("pilot") == pilot, pl.col("chart") == toward)
        state = points.sort("sequence")["state"][-1] if points.height else "learning"
        watched = points["standing"].count()
        if state == "learning" and not watched:
            sentences.append(
                f"Toward {toward}: still learning what is usual for you ({counted(points.height, 'landing')} so far)."
            )
            continue
        standing = "a flag is open" if raised["open"].any() else "no flag is open"
        sentences.append(f"Toward {toward}: {standing}; {counted(watched, 'landing')} watched.")
        charts += drift.watch(points, raised, toward=toward)
    return charts, sentences

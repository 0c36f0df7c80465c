"""An edition's frames and one pseudonym in; the text of that pilot's page out."""

from dataclasses import dataclass
from typing import Any

import polars as pl

from pipeline.measures.table import BY_NAME, DEFINITION
from pipeline.statistics.eligible import eligible
from reports import findings, flags, logbook
from reports.charts import drift, flare, look, runway, trend
from reports.edition_data import EditionData
from reports.page import render
from reports.selection import ROUTINE_APPROACH, Own, own
from reports.shares import share
from reports.style_mix import mix
from reports.usual import Usual, usual
from reports.words import counted, local, number, week_words


@dataclass(frozen=True)
class PilotView:
    """What the template of a pilot's page prints."""

    pilot: str
    week_words: str
    zone: str
    opening: list[str]
    usual: list[str]
    causes: list[str]
    go_arounds: str
    headings: list[str]
    entries: list[logbook.Entry]
    gate_share: str
    runways: list[look.Chart]
    not_placed: list[str]
    flares: list[look.Chart]
    flare_words: str
    trends: list[look.Chart]
    trend_words: str
    drifts: list[look.Chart]
    drift_words: list[str]
    styles: list[look.Chart]
    style_words: str
    not_shown: list[str]
    not_shown_words: str
    flag_words: str
    provenance: str


def pilot_page(data: EditionData, flown: pl.DataFrame, pilot: str) -> str:
    """Return the HTML text of a pilot's page.

    Parameters
    ----------
    data : the edition.
    flown : `data.flown()`, made once for all pages.
    pilot : pseudonym.
    """
    view = pilot_view(data, flown, pilot)
    return render("pilot.html.j2", title=f"Your landings, {data.week}", view=view)


def pilot_view(data: EditionData, flown: pl.DataFrame, pilot: str) -> PilotView:
    """Return what a pilot's page prints, from the edition's frames."""
    mine = own(flown, pilot, data.week)
    week = logbook.labelled(mine.week, data.zone)
    outcomes = {row["measure"]: row for row in data.outcomes.filter(pl.col("pilot") == pilot).to_dicts()}
    known = usual(mine, outcomes)
    open_flags = data.drift_flags.filter(pl.col("pilot") == pilot, pl.col("open")).sort("flagged_at").to_dicts()
    said = [flags.sentence(flag, false_alarms=data.false_alarm_text) for flag in open_flags]
    causes = [flags.other_causes(flag, mine, flown) for flag in open_flags]
    drawn, not_placed = _runways(data, mine, week, known.get("touchdown_distance_ft"))
    flares, flare_words = _flares(data, eligible(flown.filter(pl.col("pilot") == pilot)), week)
    trends, trend_words = _trends(data, mine, week, outcomes)
    drifts, drift_words = _drifts(data, pilot)
    styles, style_words = mix(mine, data.styles, data.landing_styles, flown)
    missing = logbook.not_shown(week)
    return PilotView(
        pilot=pilot,
        week_words=week_words(data.week),
        zone=data.zone,
        opening=findings.opening(mine, known, said, week=data.week, limits=data.policy.limits, zones=_zones(data)),
        usual=findings.usual_words(mine, known),
        causes=[cause for cause in dict.fromkeys(causes) if cause],
        go_arounds=_go_arounds(week, mine, flown),
        headings=logbook.headings(),
        entries=logbook.entries(week, data.contacts),
        gate_share=_gate_share(mine, flown),
        runways=drawn,
        not_placed=not_placed,
        flares=flares,
        flare_words=flare_words,
        trends=trends,
        trend_words=trend_words,
        drifts=drifts,
        drift_words=drift_words,
        styles=styles,
        style_words=style_words,
        not_shown=missing,
        not_shown_words=f"{counted(len(missing), 'reason')}, with the measures behind each",
        flag_words=flags.who_next(data.flag_seen_next_by),
        provenance=_provenance(data),
    )


def _zones(data: EditionData) -> dict[str, tuple[float, float]]:
    rows = data.runways.filter(pl.col("length_ft").is_not_null()).to_dicts()
    return {row["runway"]: runway.zone(row, data.policy.limits) for row in rows}


def _runways(
    data: EditionData, mine: Own, week: pl.DataFrame, known: Usual | None
) -> tuple[list[look.Chart], list[str]]:
    """Return a plan for each runway of the week, and a sentence for each landing that cannot be placed."""
    landed = week.filter(pl.col("contact_t_s").is_not_null())
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


def _flares(data: EditionData, routine: pl.DataFrame, week: pl.DataFrame) -> tuple[list[look.Chart], str]:
    """Return flare profiles for each aircraft type of the week, and how to read them."""
    charts: list[look.Chart] = []
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


def _trends(
    data: EditionData, mine: Own, week: pl.DataFrame, outcomes: dict[str, dict[str, Any]]
) -> tuple[list[look.Chart], str]:
    """Return the trend of vertical speed at contact and of where the landings touch down, and how to read them."""
    day = local("flown", data.zone, "%Y-%m-%dT%H:%M")
    history = mine.history.filter(pl.col("flown").is_not_null()).with_columns(day=day)
    if not history.height:
        return [], "No routine landing flown by hand in the aircraft is held for you yet."
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
        f"median of {trend.WINDOW}, the band their middle 80 %; this week's are numbered by colour with their 90 % "
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
        f" Beside you, {outcome['cohort_pilots']} pilots ({number(outcome['cohort_n'])} landings) have their centre of "
        f"{measure.title.lower()} at {number(outcome['cohort_centre'])} {measure.unit}; that is where others are, not a target."
    )


def _drifts(data: EditionData, pilot: str) -> tuple[list[look.Chart], list[str]]:
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


def _go_arounds(week: pl.DataFrame, mine: Own, flown: pl.DataFrame) -> str:
    """Return a sentence on the week's go-arounds and on unstable approaches gone around, or nothing."""
    around = week.filter(pl.col("outcome").is_in(["go_around", "rejected"])).height
    words = (
        f"{counted(around, 'approach', 'approaches').capitalize()} given up in time: a good outcome." if around else ""
    )
    unstable = flown.filter(pl.col("pilot") == mine.pilot, pl.col("gate_500_stable") == False)  # noqa: E712 - a column
    saved = unstable.filter(pl.col("outcome") == "go_around").height
    if unstable.height:
        words += f" Of all your approaches that did not meet the 500 ft gate ({unstable.height}), {saved} ended in a go-around."
    return words.strip()


def _gate_share(mine: Own, flown: pl.DataFrame) -> str:
    """Return how often the pilot's routine approaches met the 500 ft gate, go-arounds included."""
    met = share(flown.filter(pl.col("pilot") == mine.pilot).filter(ROUTINE_APPROACH), "gate_500_stable")
    return f"The criteria the logs can show at 500 ft were met in {met.words} of your approaches." if met else ""


def _provenance(data: EditionData) -> str:
    return (
        f"Edition {data.week}, statistics as of {data.as_of.isoformat()}; weeks run Monday to Sunday in UTC, times are "
        f"printed in {data.zone}. Measures definition {DEFINITION}, policy {data.policy.sha256[:12]}."
    )

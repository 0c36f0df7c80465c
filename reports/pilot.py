"""An edition's frames and one pseudonym in; the text of that pilot's page out."""

from dataclasses import dataclass

import polars as pl

from pipeline.measures.table import DEFINITION
from pipeline.statistics.eligible import eligible
from reports import consistency, faults, findings, flags, gate_shares, logbook, pilot_charts
from reports.charts import look
from reports.edition_data import EditionData
from reports.excluded import excluded_words
from reports.page import render
from reports.selection import GIVEN_UP, ROUTINE_APPROACH, own
from reports.style_mix import mix
from reports.usual import usual
from reports.words import counted, week_words


@dataclass(frozen=True)
class PilotView:
    """What the template of a pilot's page prints."""

    pilot: str
    week_words: str
    zone: str
    opening: list[str]
    usual: list[str]
    excluded: str
    causes: list[str]
    go_arounds: str
    headings: list[str]
    entries: list[logbook.Entry]
    gate_share: list[str]
    faults: list[faults.Usual]
    consistency: list[str]
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
    open_flags = data.drift_flags.filter(pl.col("pilot") == pilot, pl.col("open")).sort("flagged_at").to_dicts()
    known = usual(mine, outcomes, open_flags)
    said = [flags.sentence(flag, false_alarms=data.false_alarm_text) for flag in open_flags]
    missed = findings.gates_missed(data.gates.join(mine.week, on="landing_id", how="semi"))
    causes = [flags.other_causes(flag) for flag in open_flags]
    drawn, not_placed = pilot_charts.runways(data, mine, week, known.get("touchdown_distance_ft"))
    flares, flare_words = pilot_charts.flares(data, eligible(flown.filter(pl.col("pilot") == pilot)), week)
    trends, trend_words = pilot_charts.trends(data, mine, week, outcomes)
    drifts, drift_words = pilot_charts.drifts(data, pilot)
    routine = flown.filter(ROUTINE_APPROACH, pl.col("pilot") == pilot)
    at_gates = gate_shares.judged(routine, data.gates)
    styles, style_words = mix(mine, data.styles, data.landing_styles, flown)
    return PilotView(
        pilot=pilot,
        week_words=week_words(data.week),
        zone=data.zone,
        opening=findings.opening(
            mine, known, [*said, *missed], week=data.week, limits=data.policy.limits, zones=pilot_charts.zones(data)
        ),
        usual=findings.usual_words(mine, known),
        excluded=excluded_words(flown.filter(pl.col("pilot") == pilot)),
        causes=[cause for cause in dict.fromkeys(causes) if cause],
        go_arounds=_go_arounds(week, at_gates),
        headings=logbook.headings(),
        entries=logbook.entries(week, data),
        gate_share=gate_shares.own_words(at_gates),
        faults=faults.usual(data.fault_shares, pilot),
        consistency=consistency.told(data.consistency, data.reviews, pilot),
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
        not_shown=logbook.not_shown(week),
        flag_words=flags.who_next(data.flag_seen_next_by),
        provenance=_provenance(data),
    )


def _go_arounds(week: pl.DataFrame, at_gates: pl.DataFrame) -> str:
    """Return a sentence on the week's go-arounds and on approaches that missed a gate and were gone around, or nothing."""
    around = week.filter(GIVEN_UP).height
    words = f"{counted(around, 'approach', 'approaches').capitalize()} given up: a good outcome." if around else ""
    return f"{words} {gate_shares.own_gone_around(at_gates)}".strip()


def _provenance(data: EditionData) -> str:
    return (
        f"Edition {data.week}, statistics as of {data.as_of.isoformat()}; weeks run Monday to Sunday in UTC, times are "
        f"printed in {data.zone}. Measures definition {DEFINITION}, policy {data.policy.sha256[:12]}."
    )

"""An edition's frames in; the text of the training page out: cohorts only, whole months, nobody's own numbers."""

from dataclasses import dataclass
from datetime import date, timedelta

import polars as pl

from pipeline.measures.table import BY_NAME, DEFINITION
from reports import faults, gate_shares, training_rows
from reports.charts import groups, look
from reports.edition_data import EditionData
from reports.excluded import excluded_of_all
from reports.page import render
from reports.selection import ROUTINE_APPROACH, complete_months
from reports.shares import share
from reports.withholding import FEWEST_LANDINGS, FEWEST_PILOTS, Groups, large_enough, visible
from reports.words import counted, number, titled, week_words

OUTCOMES = ("vertical_speed_at_contact_fpm", "touchdown_distance_ft", "threshold_speed_over_vref_kt")
PARTITIONS = {"aircraft_type": "by type", "runway": "by runway", "month": "by month"}


@dataclass(frozen=True)
class TrainingView:
    """What the template of the training page prints."""

    week_words: str
    opening: list[str]
    gates: list[look.Chart]
    gate_words: list[str]
    gate_rows: list[gate_shares.Row]
    gate_rates: list[gate_shares.Row]
    criteria: list[gate_shares.Row]
    outcomes: list[tuple[str, list[look.Chart]]]
    withheld: list[str]
    faults: list[tuple[str, str, str, str]]
    rare_faults: str
    flag_words: list[str]
    styles: list[tuple[str, str, str]]
    style_words: str
    nulls: list[tuple[str, str, str]]
    provenance: str


def training_page(data: EditionData, flown: pl.DataFrame) -> str:
    """Return the HTML text of the training page; `flown` is `data.flown()`."""
    return render("training.html.j2", title=f"Training page, {data.week}", view=training_view(data, flown))


def training_view(data: EditionData, flown: pl.DataFrame) -> TrainingView:
    """Return what the training page prints, from the edition's frames."""
    approaches = complete_months(flown, as_of=data.as_of).filter(ROUTINE_APPROACH)
    landings = approaches.filter(pl.col("contact_t_s").is_not_null(), pl.col("landing_mode").ne_missing("automatic"))
    shown = large_enough(landings)
    by_month = visible(approaches, "month")
    partitions = {name: visible(landings, name) for name in PARTITIONS} if shown else {}
    kinds = partitions["aircraft_type"].shown if partitions else []
    at_gates = (
        gate_shares.judged(approaches, data.gates) if shown else gate_shares.judged(approaches.clear(), data.gates)
    )
    gates, gate_words = _gates(at_gates, by_month) if shown else ([], [])
    styles, style_words = (
        training_rows.style_rows(data, landings) if shown else ([], "Withheld: too few pilots or landings.")
    )
    return TrainingView(
        week_words=week_words(data.week),
        opening=_opening(landings, complete_months(flown, as_of=data.as_of), shown=shown, as_of=data.as_of),
        gates=gates,
        gate_words=gate_words,
        gate_rows=gate_shares.gate_rows(at_gates),
        gate_rates=gate_shares.rate_rows(at_gates),
        criteria=gate_shares.criterion_rows(at_gates),
        outcomes=[(titled(BY_NAME[name]), _ranges(name, partitions)) for name in OUTCOMES if partitions],
        withheld=[
            f"{counted(held.withheld, 'group')} {PARTITIONS[name]} withheld as too small."
            for name, held in partitions.items()
            if held.withheld
        ],
        faults=faults.cohort_rows(data.fault_shares, kinds),
        rare_faults=faults.cohort_rest(data.fault_shares, kinds),
        flag_words=training_rows.flag_words(data),
        styles=styles,
        style_words=style_words,
        nulls=training_rows.null_rows(landings) if shown else [],
        provenance=f"Edition {data.week}, statistics as of {data.as_of.isoformat()}. Measures definition {DEFINITION}, "
        f"policy {data.policy.sha256[:12]}.",
    )


def _opening(landings: pl.DataFrame, flown: pl.DataFrame, *, shown: bool, as_of: date) -> list[str]:
    rule = f"at least {FEWEST_PILOTS} pilots and {FEWEST_LANDINGS} approaches"
    if not shown:
        until = as_of.replace(day=1) - timedelta(days=1)
        return [
            f"Nothing can be shown: the complete months up to {until:%B %Y} do not hold {rule}.",
            "Where few pilots fly, each one's own page is the place to look.",
        ]
    months = flown.filter(ROUTINE_APPROACH)["month"].unique().sort()
    return [
        f"{number(landings.height)} routine landings by {landings['pilot'].drop_nulls().n_unique()} pilots in the complete "
        f"months {months[0]} to {months[-1]}; the running month is left out, since two editions of it would differ by one week.",
        excluded_of_all(flown),
        f"Only groups of {rule} are shown. This page is pseudonymous, not anonymous: a roster, a date and a runway together "
        "can name a pilot, so keep it where rosters are kept.",
    ]


def _gates(rows: pl.DataFrame, by_month: Groups) -> tuple[list[look.Chart], list[str]]:
    """Return the share meeting each gate by month, and sentences; `rows`: approaches with their gates."""
    if rows["stable"].count() == 0:
        return [], ["No approach could be judged at a gate."]
    charts = [
        chart for gate in rows.partition_by("gate", maintain_order=True) for chart in _by_month(gate, by_month.shown)
    ]
    rest = "Criteria without channel or reference are left out, never counted as met; shares have 90 % intervals."
    return charts, [rest, *filter(None, [gate_shares.gone_around_words(rows)])]


def _by_month(gate: pl.DataFrame, months: list[str]) -> list[look.Chart]:
    """Return one gate's share met by month, if any month can be shown."""
    lines = []
    for month in months:
        some = gate.filter(pl.col("flown").dt.strftime("%Y-%m") == month)
        held = share(some, "stable") if large_enough(some.drop_nulls("stable")) else None
        if held is not None:
            group = f"{month} (n = {number(held.n)})"
            lines.append({"group": group, "set": "now", "share": held.share, "low": held.low, "high": held.high})
    if not lines:
        return []
    title = f"Approaches that met what the logs can show at {gate_shares.called_gate(gate)}, by month"
    caption = "Points are shares, bars 90 % intervals that allow for landings of one session being alike."
    return [groups.shares(pl.DataFrame(lines), title=title, caption=caption)]


def _ranges(name: str, partitions: dict[str, Groups]) -> list[look.Chart]:
    """Return a measure's spread over each partition's groups."""
    charts, measure = [], BY_NAME[name]
    for partition, held in partitions.items():
        rows = held.rows.drop_nulls(name)
        counts = visible(rows, partition)
        quantiles = {f"p{part}": pl.col(name).quantile(part / 100, "linear") for part in (10, 25, 50, 75, 90)}
        table = counts.rows.group_by(partition).agg(n=pl.len(), **quantiles).sort(partition)
        if table.height:
            table = table.with_columns(group=pl.format("{} (n = {})", partition, "n")).drop(partition, "n")
            charts.append(
                groups.ranges(
                    table,
                    title=PARTITIONS[partition].capitalize(),
                    caption="",
                    unit=measure.unit,
                )
            )
    return charts

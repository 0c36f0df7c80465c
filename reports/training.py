"""An edition's frames in; the text of the training page out: cohorts only, whole months, nobody's own numbers."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import polars as pl

from pipeline.measures.table import BY_NAME, DEFINITION, MEASURES
from pipeline.statistics.eligible import eligible
from reports.charts import groups, look
from reports.edition_data import EditionData
from reports.gates import called
from reports.page import render
from reports.selection import ROUTINE_APPROACH, complete_months
from reports.shares import share
from reports.style_mix import named
from reports.withholding import FEWEST_LANDINGS, FEWEST_PILOTS, Groups, large_enough, visible
from reports.words import counted, number, percent, reason, titled, week_words

OUTCOMES = ("vertical_speed_at_contact_fpm", "touchdown_distance_ft", "threshold_speed_over_vref_kt")
PARTITIONS = {"aircraft_type": "by type", "runway": "by runway", "month": "by month"}


@dataclass(frozen=True)
class TrainingView:
    """What the template of the training page prints."""

    week_words: str
    opening: list[str]
    gates: list[look.Chart]
    gate_words: list[str]
    criteria: list[tuple[str, str, str]]
    outcomes: list[tuple[str, list[look.Chart]]]
    withheld: list[str]
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
    gates, gate_words, criteria = _gates(approaches, by_month) if shown else ([], [], [])
    styles, style_words = _styles(data, landings) if shown else ([], "Withheld: too few pilots or landings.")
    return TrainingView(
        week_words=week_words(data.week),
        opening=_opening(landings, approaches, shown=shown, as_of=data.as_of),
        gates=gates,
        gate_words=gate_words,
        criteria=criteria,
        outcomes=[(titled(BY_NAME[name]), _ranges(name, partitions)) for name in OUTCOMES if partitions],
        withheld=[
            f"{counted(held.withheld, 'group')} {PARTITIONS[name]} withheld as too small."
            for name, held in partitions.items()
            if held.withheld
        ],
        flag_words=_flags(data, flown),
        styles=styles,
        style_words=style_words,
        nulls=_nulls(landings) if shown else [],
        provenance=f"Edition {data.week}, statistics as of {data.as_of.isoformat()}. Measures definition {DEFINITION}, "
        f"policy {data.policy.sha256[:12]}.",
    )


def _opening(landings: pl.DataFrame, approaches: pl.DataFrame, *, shown: bool, as_of: date) -> list[str]:
    rule = f"at least {FEWEST_PILOTS} pilots and {FEWEST_LANDINGS} approaches"
    if not shown:
        until = as_of.replace(day=1) - timedelta(days=1)
        return [
            f"Nothing can be shown: the complete months up to {until:%B %Y} hold fewer than that ({rule} are needed).",
            "Where few pilots fly, each one's own page is the place to look.",
        ]
    months = approaches["month"].unique().sort()
    unknown = landings["pilot"].null_count()
    return [
        f"{number(landings.height)} routine landings by {landings['pilot'].drop_nulls().n_unique()} pilots in the complete "
        f"months {months[0]} to {months[-1]}; the running month is left out, since two editions of it would differ by one week.",
        f"{number(unknown)} of them ({percent(unknown / landings.height)}) have no known pilot and count in nobody's record.",
        f"Only groups of {rule} are shown. This page is pseudonymous, not anonymous: a roster, a date and a runway together "
        "can name a pilot, so keep it where rosters are kept.",
    ]


def _gates(
    approaches: pl.DataFrame, by_month: Groups
) -> tuple[list[look.Chart], list[str], list[tuple[str, str, str]]]:
    """Return the share meeting the 500 ft gate by month, sentences, and the criteria that were not met."""
    met = share(approaches, "gate_500_stable")
    if met is None:
        return [], ["No approach could be judged at the 500 ft gate."], []
    rows = []
    for month in by_month.shown:
        held = share(by_month.rows.filter(pl.col("month") == month), "gate_500_stable")
        if held is not None:
            rows.append(
                {
                    "group": f"{month} (n = {number(held.n)})",
                    "set": "now",
                    "share": held.share,
                    "low": held.low,
                    "high": held.high,
                }
            )
    charts = (
        []
        if not rows
        else [
            groups.shares(
                pl.DataFrame(rows),
                title="Approaches that met what the logs can show at 500 ft, by month",
                caption="Points are shares, bars 90 % intervals that allow for landings of one session being alike.",
            )
        ]
    )
    unstable = approaches.filter(~pl.col("gate_500_stable"))
    words = [
        f"All months together: {met.words}. Criteria without channel or reference are left out, never counted as met."
    ]
    if large_enough(unstable):
        saved = share(unstable.with_columns(saved=pl.col("outcome") == "go_around"), "saved")
        words += (
            [f"Of the approaches that did not meet it, {saved.words} ended in a go-around, the good outcome."]
            if saved
            else []
        )
    return charts, words, _criteria(approaches, unstable)


def _criteria(approaches: pl.DataFrame, unstable: pl.DataFrame) -> list[tuple[str, str, str]]:
    """Return, for each criterion not met by enough pilots, the approaches and their share of those judged at all."""
    judged = approaches["gate_500_stable"].count()
    named = unstable.with_columns(criterion=pl.col("gate_500_failed").str.split(" ")).explode("criterion")
    rows = []
    for (name,), part in named.filter(pl.col("criterion") != "").partition_by("criterion", as_dict=True).items():
        many = large_enough(part)
        share_of = percent(part.height / judged, decimals=1)
        count, part_of = (number(part.height), share_of) if many else ("withheld", "withheld")
        rows.append((part.height if many else 0, (called(str(name)), count, part_of)))
    return [row for _, row in sorted(rows, key=lambda item: (-item[0], item[1]))]


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


def _flags(data: EditionData, flown: pl.DataFrame) -> list[str]:
    watched = data.drift_points.filter(pl.col("standing").is_not_null())["pilot"].n_unique()
    if watched < FEWEST_PILOTS:
        return ["Open drift flags are not counted here: fewer than 5 pilots are watched."]
    raised = data.drift_flags.filter("open")
    counts = [f"{raised.filter(pl.col('chart') == chart).height} toward {chart}" for chart in ("hard", "long")]
    words = [
        f"{counted(raised.height, 'open flag').capitalize()} among {watched} watched pilots ({', '.join(counts)}). {data.false_alarm_text}"
    ]
    if data.false_alarms_per_1000 is not None:
        since = data.as_of - timedelta(weeks=52)
        year = eligible(flown.filter(pl.col("flown").dt.date() > since)).height
        expected = data.false_alarms_per_1000 * year / 1000
        words.append(
            f"At that rate the {number(year)} routine landings of the last 52 weeks make one expect {expected:.1f} false flags."
        )
    if raised.height < 5:
        words.append(
            "So few flags allow no proportion of false ones to be stated: take each as a reason to look, not as a finding."
        )
    if data.flag_seen_next_by == "training":
        words += _released(data)
    return words


def _released(data: EditionData) -> list[str]:
    """Return which pseudonyms have an open flag their own page showed in an earlier edition, where the settings say so."""
    earlier = data.drift_flags.filter("open", pl.col("flagged_at").dt.strftime("%G-W%V") < data.week)
    return [f"{row['pilot']}: toward {row['chart']}." for row in earlier.sort("pilot", "chart").to_dicts()]


def _styles(data: EditionData, landings: pl.DataFrame) -> tuple[list[tuple[str, str, str]], str]:
    names = named(data.styles)
    if not names:
        return [], "Styles cannot be told yet: too few landings, or none that stands apart."
    if len(names) == 1:
        return [], "One style describes all landings."
    placed = landings.join(data.landing_styles.select("landing_id", "style"), on="landing_id")
    if not placed.height:
        return [], "No landing of these months has been compared yet."
    rows = []
    for style, name in names.items():
        part = placed.filter(pl.col("style") == style)
        of_all = percent(part.height / placed.height) if large_enough(part) else "withheld"
        rows.append((name, of_all, _typical(data.styles, style) if large_enough(part) else "withheld"))
    words = (
        f"{len(names)} styles are told apart from what happens before contact. Names describe landings; no pilot is assigned "
        f"a style and none is the right one. {percent(placed['style'].null_count() / placed.height)} of landings lie between styles or fit none."
    )
    return rows, words


def _typical(styles: pl.DataFrame, style: int) -> str:
    parts = []
    for row in styles.filter(pl.col("style") == style).to_dicts():
        measure = BY_NAME.get(row["feature"])
        title, unit = (measure.title.lower(), f" {measure.unit}") if measure else (row["feature"], "")
        parts.append(f"{title} {number(row['centre'], decimals=1)}{unit}")
    return "; ".join(parts)


def _nulls(landings: pl.DataFrame) -> list[tuple[str, str, str]]:
    """Return the fifteen measures most often null, their share and their most common reason."""
    rows: list[tuple[float, tuple[str, str, str]]] = []
    for measure in MEASURES:
        missing: list[tuple[Any, int]] = list(landings[measure.reason].drop_nulls().value_counts(sort=True).iter_rows())
        total = sum(count for _, count in missing) / landings.height
        if missing and total >= 0.01:
            rows.append((total, (measure.title, percent(total), reason(missing[0][0]))))
    return [row for _, row in sorted(rows, key=lambda item: (-item[0], item[1]))[:15]]

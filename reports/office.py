"""An edition's frames in; the text of the office page out: what came in, what did not, and how whole the data are.

Nothing on it tells how anyone landed.
"""

from dataclasses import dataclass
from datetime import timedelta

import polars as pl

from pipeline.channels import CHANNELS
from pipeline.measures.table import DEFINITION, MEASURES
from reports import gate_shares
from reports.charts import coverage, look
from reports.edition_data import EditionData
from reports.excluded import excluded_of_all
from reports.page import render
from reports.selection import of_week
from reports.words import OUTCOME_NOUNS, counted, listed, number, percent, reason, week_words

RECENT_WEEKS = 12
"""Weeks that null shares and suspected recorders are counted over."""
SUSPECT_LISTED = 40
SUSPECT_SHARE, SUSPECT_LANDINGS = 0.1, 10
"""Share of an aircraft's landings with a failed channel check from which its recorder is listed, and the fewest."""
VERSIONS = {
    "definition": "measures definition",
    "constants": "constants",
    "policy_sha256": "policy",
    "map_sha256": "channel map",
    "runways_sha256": "runway table",
}


@dataclass(frozen=True)
class OfficeView:
    """What the template of the office page prints."""

    week_words: str
    opening: list[str]
    excluded: str
    refused: list[tuple[str, str]]
    waiting: list[tuple[str, str]]
    suspect_logs: list[tuple[str, str]]
    suspect_words: str
    coverage: list[look.Chart]
    recorders: list[tuple[str, ...]]
    suspects: list[str]
    gates: list[tuple[str, ...]]
    nulls: list[tuple[str, ...]]
    versions: list[tuple[str, ...]]
    version_words: str
    checks: list[tuple[str, str]]
    check_words: str
    provenance: str


def office_page(data: EditionData, flown: pl.DataFrame) -> str:
    """Return the HTML text of the office page; `flown` is `data.flown()`."""
    return render("office.html.j2", title=f"Office page, {data.week}", view=office_view(data, flown))


def office_view(data: EditionData, flown: pl.DataFrame) -> OfficeView:
    """Return what the office page prints, from the edition's frames."""
    since = data.as_of - timedelta(weeks=RECENT_WEEKS)
    recent = flown.filter(pl.col("flown").dt.date() > since)
    return OfficeView(
        week_words=week_words(data.week),
        opening=_opening(data, flown),
        excluded=excluded_of_all(flown),
        refused=_named(data.refusals),
        waiting=_named(data.waiting) if data.waiting is not None else [],
        suspect_logs=_suspect_logs(data),
        suspect_words=_suspect_words(data),
        coverage=coverage.by_month(flown),
        recorders=_recorders(recent),
        suspects=_suspects(recent),
        gates=gate_shares.coverage_rows(gate_shares.judged(recent, data.gates)),
        nulls=_nulls(recent),
        versions=_versions(flown),
        version_words=_version_words(flown, data),
        checks=[(name.replace("_", " "), counted(count, "row")) for name, count in (data.checks or {}).items()],
        check_words=_check_words(data),
        provenance=f"Edition {data.week}, as of {data.as_of.isoformat()}. Measures definition {DEFINITION}, "
        f"policy {data.policy.sha256[:12]}.",
    )


def _opening(data: EditionData, flown: pl.DataFrame) -> list[str]:
    week = of_week(flown, data.week)
    counts = week["outcome"].value_counts(sort=True).sort("count", "outcome", descending=[True, False])
    ended = [counted(n, *OUTCOME_NOUNS.get(outcome, (outcome, outcome))) for outcome, n in counts.iter_rows()]
    landed = week.filter(pl.col("contact_t_s").is_not_null())
    words = [
        f"{counted(week['log_sha256'].n_unique(), 'log')} flown in {week_words(data.week)} hold "
        f"{counted(week.height, 'approach', 'approaches')}{f': {listed(ended)}' if ended else ''}."
    ]
    lacks = {"pilot": "pilot", "runway": "runway", "aircraft": "aircraft"}
    missing = [
        f"{landed[column].null_count()} without a known {noun}"
        for column, noun in lacks.items()
        if landed[column].null_count()
    ]
    if missing:
        words.append(f"Of its {counted(landed.height, 'landing')}, {listed(missing)}.")
    undated = flown.filter(pl.col("flown").is_null()).height
    if undated:
        words.append(
            f"{counted(undated, 'approach', 'approaches').capitalize()} in all have no instant and belong to no week; add `flown_at` in the manifest."
        )
    waits = data.waiting.height if data.waiting is not None else 0
    words.append(f"{counted(data.refusals.height, 'log').capitalize()} refused and {counted(waits, 'log')} waiting.")
    return words


def _recorders(recent: pl.DataFrame) -> list[tuple[str, ...]]:
    rows = (
        recent.filter(pl.col("contact_t_s").is_not_null())
        .group_by("recorder", "aircraft_type")
        .agg(
            n=pl.len(),
            aircraft=pl.col("aircraft").n_unique(),
            rate=pl.col("recorder_rate_hz").median(),
            last=pl.col("flown").max(),
        )
        .sort("recorder", "aircraft_type", nulls_last=True)
    )
    return [
        (
            row["recorder"] or "not known",
            row["aircraft_type"] or "not known",
            number(row["aircraft"]),
            number(row["n"]),
            "" if row["rate"] is None else f"{row['rate']:.3g} Hz",
            "" if row["last"] is None else f"{row['last']:%Y-%m-%d}",
        )
        for row in rows.to_dicts()
    ]


def _suspects(recent: pl.DataFrame) -> list[str]:
    """Return the aircraft whose logs often fail a channel check, with the measures lost most."""
    landed = recent.filter(pl.col("contact_t_s").is_not_null())
    failed = pl.any_horizontal([pl.col(measure.reason).eq_missing("implausible") for measure in MEASURES])
    found = []
    for (aircraft, recorder), part in landed.partition_by("aircraft", "recorder", as_dict=True).items():
        bad = part.filter(failed)
        if part.height >= SUSPECT_LANDINGS and bad.height >= SUSPECT_SHARE * part.height:
            lost = [m.title.lower() for m in MEASURES if bad[m.reason].eq_missing(pl.Series(["implausible"])).any()]
            found.append(
                f"{aircraft or 'aircraft not known'}, recorder {recorder or 'not known'}: a channel failed a check in {bad.height} of "
                f"{part.height} landings; lost: {', '.join(lost)}."
            )
    return sorted(found)


def _nulls(recent: pl.DataFrame) -> list[tuple[str, ...]]:
    """Return each measure's share of nulls, most first, with its reasons."""
    landed = recent.filter(pl.col("contact_t_s").is_not_null())
    rows: list[tuple[int, tuple[str, ...]]] = []
    for measure in MEASURES:
        found = list(landed[measure.reason].drop_nulls().value_counts(sort=True).iter_rows())
        total = sum(count for _, count in found)
        if total:
            why = "; ".join(f"{reason(code)} ({number(count)})" for code, count in found)
            rows.append((total, (measure.title, percent(total / landed.height), why)))
    return [row for _, row in sorted(rows, key=lambda item: (-item[0], item[1]))]


def _versions(flown: pl.DataFrame) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = []
    for column, called in VERSIONS.items():
        for value, count in flown[column].value_counts().sort("count", column, descending=[True, False]).iter_rows():
            rows.append((called, "none" if value is None else str(value)[:12], number(count)))
    return rows


def _version_words(flown: pl.DataFrame, data: EditionData) -> str:
    stale = flown.filter(pl.col("policy_sha256") != data.policy.sha256).height
    if stale:
        return f"{counted(stale, 'approach', 'approaches').capitalize()} measured under another policy than the one in force: ingest their logs again."
    return "All approaches are measured under the policy in force."


def _check_words(data: EditionData) -> str:
    if data.checks is None:
        return "The warehouse was not checked for this edition."
    if data.checks:
        return (
            f"{counted(len(data.checks), 'check').capitalize()} of the warehouse found rows that should not be there:"
        )
    return "The checks of the warehouse found no row that should not be there."


def _suspect_logs(data: EditionData) -> list[tuple[str, str]]:
    """Return logs with channels that are not to be believed, the first ones, each channel by its title."""
    if data.suspect_logs is None:
        return []
    named = data.suspect_logs.sort("log_file").head(SUSPECT_LISTED).select("log_file", "suspect_why")
    return [(name, _titled_channels(why)) for name, why in named.iter_rows()]


def _titled_channels(why: str) -> str:
    parts = (part.partition(" ") for part in why.split("; "))
    said = (
        f"{CHANNELS[name].title} {words}" if name in CHANNELS else f"{name} {words}".strip() for name, _, words in parts
    )
    return "; ".join(said)


def _suspect_words(data: EditionData) -> str:
    count = 0 if data.suspect_logs is None else data.suspect_logs.height
    if not count:
        return "No log has a channel that contradicts the others."
    more = f" The first {SUSPECT_LISTED} are listed." if count > SUSPECT_LISTED else ""
    return (
        f"{counted(count, 'log').capitalize()} with a channel that contradicts the others or is impossible in itself; "
        f"nothing that rests on it was measured.{more} Mend the channel map, and ingest them again."
    )


def _named(logs: pl.DataFrame) -> list[tuple[str, str]]:
    """Return logs with their reasons; a reason that begins with the log's name does not say it twice."""
    pairs = logs.select("log_file", "reason").iter_rows()
    return [(name, str(why).removeprefix(f"{name}: ")) for name, why in pairs]

"""An edition's frames in; what the training page says of flags, styles and gaps out: counts and cohorts, no pilot's numbers."""

from datetime import timedelta
from typing import Any

import polars as pl

from pipeline.measures.table import BY_NAME, MEASURES
from reports.edition_data import EditionData
from reports.style_mix import named
from reports.withholding import FEWEST_PILOTS, large_enough
from reports.words import counted, number, percent, reason


def flag_words(data: EditionData) -> list[str]:
    """Return how many flags are open and how many false ones to expect; names only where the settings release them."""
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
        recent = pl.col("standing").is_not_null() & (pl.col("contact_at").dt.date() > since)
        year = data.drift_points.filter(recent)["landing_id"].n_unique()
        ever = data.drift_flags.filter(pl.col("flagged_at").dt.date() > since).height
        expected = data.false_alarms_per_1000 * year / 1000
        words.append(
            f"{counted(year, 'landing')} of the last 52 weeks were watched, past learning; if no pilot had changed, about "
            f"{expected:.1f} false flags would be expected among them; {counted(ever, 'flag')} {'was' if ever == 1 else 'were'} raised."
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


def style_rows(data: EditionData, landings: pl.DataFrame) -> tuple[list[tuple[str, str, str]], str]:
    """Return each style's name, share and typical values, those of small groups withheld, and a paragraph."""
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


def null_rows(landings: pl.DataFrame) -> list[tuple[str, str, str]]:
    """Return the fifteen measures most often null, their share and their most common reason."""
    rows: list[tuple[float, tuple[str, str, str]]] = []
    for measure in MEASURES:
        missing: list[tuple[Any, int]] = list(landings[measure.reason].drop_nulls().value_counts(sort=True).iter_rows())
        total = sum(count for _, count in missing) / landings.height
        if missing and total >= 0.01:
            rows.append((total, (measure.title, percent(total), reason(missing[0][0]))))
    return [row for _, row in sorted(rows, key=lambda item: (-item[0], item[1]))[:15]]

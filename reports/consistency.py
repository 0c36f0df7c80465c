"""A pilot's consistency and newest reviews in; sentences on what is told and what cannot be told yet out."""

from typing import Any

import polars as pl

from pipeline.measures.table import BY_NAME
from pipeline.statistics.reviews import CANNOT_TELL, REVIEW
from pipeline.statistics.target_box import NAME
from reports.words import number, percent

BOX = "inside the target box (touchdown zone, speed at the threshold, and vertical speed neither hard nor the softest)"


def told(consistency: pl.DataFrame, reviews: pl.DataFrame, pilot: str) -> list[str]:
    """Return what is told of one pilot: the share inside the target box first, then the spreads, each with its review."""
    reviewed = {row["measure"]: row for row in reviews.filter(pl.col("pilot") == pilot).to_dicts()}
    rows = consistency.filter(pl.col("pilot") == pilot).sort(pl.col("measure") != NAME, "measure").to_dicts()
    return [_one(row, reviewed.get(row["measure"], dict.fromkeys(REVIEW))) for row in rows if row["value"] is not None]


def _one(row: dict[str, Any], review: dict[str, Any]) -> str:
    if row["measure"] == NAME:
        interval = f"90 % interval {percent(row['value_low'])} to {percent(row['value_high'])}"
        what = f"{percent(row['value'])} of your landings were {BOX} ({interval}, n = {number(row['n'])})"
    else:
        measure = BY_NAME[row["measure"]]
        low, middle, high = (number(row[name]) for name in ("value_low", "value", "value_high"))
        what = (
            f"{measure.title} scatters by {middle} {measure.unit} (90 % interval {low} to {high}, n = {number(row['n'])}), "
            "with what conditions and the recorder add taken out"
        )
    return f"{what}. {_reviewed(row['measure'], review)}"


def _reviewed(measure: str, review: dict[str, Any]) -> str:
    """Return what the newest review says; changes are judged every 50 landings, so that no week's luck is news."""
    if review["change"] is None:
        return "Whether it changes is reviewed every 50 landings, from the hundredth on."
    at = f"At the review after {number(review['landings'])} landings"
    if review["said"] == CANNOT_TELL:
        size = "15 points" if measure == NAME else "a half"
        return f"{at} it cannot be told yet whether that changed: a change by {size} would show in about {number(review['landings_needed'])}."
    low, high = (percent(abs(end)) for end in sorted((review["change_low"], review["change_high"]), key=abs))
    unit = "of landings" if measure == NAME else "of the spread"
    return f"{at} it has become {review['said']} since the first, by {low} to {high} {unit}."

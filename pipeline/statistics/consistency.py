"""How consistent each pilot is and whether that changes: a landing frame in, two frames of plain answers out.

The primary outcome is the share of landings inside the target box; beside it stand the spreads of the outcomes, which
say nothing of technique. Whether one of them changed is said at fixed reviews only.
"""

from dataclasses import dataclass

import numpy as np
import polars as pl

from pipeline.recording import Floats
from pipeline.statistics.conditions import residuals
from pipeline.statistics.eligible import eligible
from pipeline.statistics.outcomes import commonest_type
from pipeline.statistics.reviews import REVIEW, review_row
from pipeline.statistics.spread import freedom, true_spreads
from pipeline.statistics.standing import Ints, session_correlation
from pipeline.statistics.target_box import DEFAULT, NAME, TargetBox, box_share, in_target_box

SPREADS = ("vertical_speed_at_contact_fpm", "touchdown_distance_ft", "threshold_speed_over_vref_kt")
"""Outcomes whose spread is told and reviewed."""

WRONG_EVER = 0.10
"""Chance that a pilot who does not change is ever told that he did: half for the share, half for all spreads."""

LEAST_LANDINGS, LEAST_SESSIONS, COHORT_PILOTS = 20, 6, 5

CONSISTENCY: dict[str, type[pl.DataType]] = {
    "pilot": pl.String,
    "measure": pl.String,
    "n": pl.Int64,
    "sessions": pl.Int64,
    "value": pl.Float64,
    "value_low": pl.Float64,
    "value_high": pl.Float64,
    "cohort_middle": pl.Float64,
    "widest_quarter": pl.Float64,
}
"""One row a pilot and measure. `value`: share inside the target box, or spread in the measure's unit with conditions
and the recorder's noise taken out, with its interval of 90 %; null under 20 landings or 6 sessions. The cohort's middle
and the chance to be among its widest quarter are null under 5 pilots, and for the share."""


@dataclass(frozen=True)
class Consistency:
    """Frames of the columns CONSISTENCY and REVIEW."""

    consistency: pl.DataFrame
    review: pl.DataFrame


def consistency(landings: pl.DataFrame, *, box: TargetBox = DEFAULT) -> Consistency:
    """Tell every pilot's consistency, and at his newest review whether it changed, on the type he landed most."""
    dated = landings.filter(pl.col("contact_at").is_not_null())
    kept = commonest_type(eligible(dated)).select(dated.columns)
    inside = kept.with_columns(in_target_box(kept, box), pl.lit(0.0).alias(f"{NAME}_u"))
    told, reviewed = _share_rows(inside)
    for measure in SPREADS:
        more_told, more_reviewed = _spread_rows(inside, measure)
        told += more_told
        reviewed += more_reviewed
    order = ["pilot", "measure"]
    return Consistency(
        pl.DataFrame(told, schema=CONSISTENCY, orient="row").sort(order),
        pl.DataFrame(reviewed, schema=REVIEW, orient="row").sort(order),
    )


Rows = list[dict[str, object]]


def _by_pilot(frame: pl.DataFrame) -> list[tuple[str, pl.DataFrame]]:
    return [(str(pilot), part) for (pilot,), part in frame.group_by("pilot", maintain_order=True)]


def _share_rows(inside: pl.DataFrame) -> tuple[Rows, Rows]:
    """Share inside the box of each pilot, and its newest review with the conditions taken out."""
    adjusted = residuals(inside, measure=NAME, toward="high").frame
    chances = adjusted.join(inside.select("landing_id", NAME), on="landing_id", how="left", maintain_order="left")
    told: Rows = []
    reviewed: Rows = []
    for pilot, part in _by_pilot(chances):
        share = box_share(part[NAME].to_numpy(), part["session"])
        value = None if share is None else (share.share, share.low, share.high)
        told.append(_told(pilot, NAME, part, value))
        reviewed.append(review_row(pilot, NAME, part, total=0.5 * WRONG_EVER))
    return told, reviewed


def _spread_rows(inside: pl.DataFrame, measure: str) -> tuple[Rows, Rows]:
    """Spread of one outcome of each pilot, and its newest review."""
    parts = _by_pilot(residuals(inside, measure=measure, toward="high").frame)
    enough = [(pilot, part) for pilot, part in parts if _enough(part)]
    told: Rows = [_told(pilot, measure, part, None) for pilot, part in parts if not _enough(part)]
    if enough:
        told += _spreads(enough, measure)
    chance = 0.5 * WRONG_EVER / len(SPREADS)
    return told, [review_row(pilot, measure, part, total=chance) for pilot, part in parts]


def _enough(part: pl.DataFrame) -> bool:
    return part.height >= LEAST_LANDINGS and part["session"].n_unique() >= LEAST_SESSIONS


def _spreads(parts: list[tuple[str, pl.DataFrame]], measure: str) -> Rows:
    values = [part["residual"].to_numpy() for _, part in parts]
    variance = np.maximum([float(np.var(x, ddof=1)) for x in values], 1e-12)
    noise = np.array([float((part["measure_u"] ** 2).mean()) for _, part in parts])  # type: ignore[arg-type]
    scaled = [(x - x.mean()) / np.sqrt(v) for x, v in zip(values, variance, strict=True)]
    worth = np.array([_worth(z, part["session"]) for z, (_, part) in zip(scaled, parts, strict=True)])
    found = true_spreads(variance, freedom(worth, standardised=np.concatenate(scaled)), noise)
    shown = len(parts) >= COHORT_PILOTS
    rows = []
    for i, (pilot, part) in enumerate(parts):
        interval = (float(found.spread[i]), float(found.low[i]), float(found.high[i]))
        cohort = {"cohort_middle": found.middle, "widest_quarter": float(found.widest_quarter[i])} if shown else {}
        rows.append({**_told(pilot, measure, part, interval), **cohort})
    return rows


def _worth(scaled: Floats, session: pl.Series) -> float:
    """Independent landings these are worth for their spread: squares of a session agree by its correlation squared."""
    code = _codes(session)
    correlation = session_correlation(scaled, code) ** 2
    size = np.bincount(code).astype(float)
    return float((size / (1.0 + (size - 1.0) * correlation)).sum())


def _codes(session: pl.Series) -> Ints:
    return (session.rank("dense").to_numpy().astype(np.int64)) - 1


def _told(pilot: str, measure: str, part: pl.DataFrame, value: tuple[float, float, float] | None) -> dict[str, object]:
    middle, low, high = value or (None, None, None)
    counts = {"n": part.height, "sessions": part["session"].n_unique()}
    nobody = {"cohort_middle": None, "widest_quarter": None}
    shown = {"value": middle, "value_low": low, "value_high": high}
    return {"pilot": pilot, "measure": measure, **counts, **shown, **nobody}

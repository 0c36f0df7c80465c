"""A pilot's newest review: his residuals in flying order in, one row on whether a share or a spread changed out."""

from datetime import datetime

import numpy as np
import polars as pl

from pipeline.statistics.target_box import NAME
from pipeline.statistics.trend import REVIEW_LANDINGS, Trend, chance_at, last_review, spread_scores, trend

SHARE_SIZE, SPREAD_SIZE = 0.15, 0.5
"""Changes of a size that would matter, to say how many landings would show one: our own choice."""

CANNOT_TELL = "cannot tell yet"

REVIEW: dict[str, pl.DataType | type[pl.DataType]] = {
    "pilot": pl.String,
    "measure": pl.String,
    "review": pl.Int64,
    "landings": pl.Int64,
    "reviewed_at": pl.Datetime("us", "UTC"),
    "change": pl.Float64,
    "change_low": pl.Float64,
    "change_high": pl.Float64,
    "said": pl.String,
    "landings_needed": pl.Int64,
}
"""One row a pilot and measure: his newest review, null before the first. `change` from first to last landing reviewed:
of the share in parts of 1, of a spread as a factor less 1; its interval holds at all reviews together. `said` is
better, worse, narrower, wider or "cannot tell yet"; `landings_needed` would show a change of 0.15, or of a spread by a
half."""


def review_row(pilot: str, measure: str, part: pl.DataFrame, *, total: float) -> dict[str, object]:
    """Give the newest review of one pilot and measure; later landings wait for the next.

    Parameters
    ----------
    part : his landings in flying order: contact_at, session, residual, measure_u.
    total : chance that this measure is ever said to have changed although it did not.
    """
    number = last_review(part.height)
    seen = part.head(number * REVIEW_LANDINGS) if number else part.head(0)
    at: datetime | None = seen["contact_at"].last() if number else None  # type: ignore[assignment]
    row = {"pilot": pilot, "measure": measure, "review": number, "landings": seen.height or None, "reviewed_at": at}
    found = _trend(measure, seen, chance_at(number, total=total)) if number else None
    if found is None:
        return {**row, **dict.fromkeys(REVIEW.keys() - row.keys()), "said": CANNOT_TELL}
    reach = found.needed * found.error
    ends = (found.change, found.change - reach, found.change + reach)
    size = SHARE_SIZE if measure == NAME else float(np.log1p(SPREAD_SIZE))
    shown = ends if measure == NAME else tuple(float(np.expm1(end)) for end in ends)
    needed = max(found.landings_needed(seen.height, size=size), seen.height)
    answer = dict(zip(("change", "change_low", "change_high"), shown, strict=True))
    return {**row, **answer, "said": _said(measure, found), "landings_needed": needed}


def _trend(measure: str, seen: pl.DataFrame, chance: float) -> Trend | None:
    """Change of the share, or of the logarithm of the spread: twice the relative change of its square roots."""
    residual, session = seen["residual"].to_numpy(), seen["session"].to_numpy().astype(np.int64)
    if float(np.ptp(residual)) <= 0.0:
        return None
    if measure == NAME:
        return trend(residual, session, chance=chance)
    scores = spread_scores(residual, seen["measure_u"].to_numpy())
    found = trend(scores, session, chance=chance)
    scale = 2.0 / float(scores.mean())
    return None if found is None else Trend(scale * found.change, scale * found.error, found.needed)


def _said(measure: str, found: Trend) -> str:
    if not found.told:
        return CANNOT_TELL
    if measure == NAME:
        return "better" if found.change > 0.0 else "worse"
    return "wider" if found.change > 0.0 else "narrower"

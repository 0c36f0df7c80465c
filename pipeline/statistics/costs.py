"""What goes with a fault: landings and their faults in, differences in feet and feet a minute out.

A landing with a fault is compared with landings of the same pilot in the same type without it, in like conditions. That
is a difference seen, never what the fault does: something unseen may bring both, and the last columns say how strong it
would have to be.
"""

from collections.abc import Sequence

import numpy as np
import polars as pl

from pipeline.statistics.cost_design import ARITHMETIC, WORSE, Design, before_contact, comes_after, lay_out_costs
from pipeline.statistics.eligible import eligible
from pipeline.statistics.indicators import indicators, reliability
from pipeline.statistics.unseen import unseen_needed, unseen_needed_to_doubt
from pipeline.statistics.within import Coefficients, demeaned, differences, independent

SCHEMA: dict[str, type[pl.DataType]] = {
    "fault": pl.String,
    "outcome": pl.String,
    "n": pl.Int64,
    "with_fault": pl.Float64,
    "pilots": pl.Int64,
    "sessions": pl.Int64,
    "difference": pl.Float64,
    "difference_error": pl.Float64,
    "difference_low": pl.Float64,
    "difference_high": pl.Float64,
    "alone": pl.Float64,
    "alone_low": pl.Float64,
    "alone_high": pl.Float64,
    "reliability": pl.Float64,
    "unseen_needed": pl.Float64,
    "unseen_needed_to_doubt": pl.Float64,
}
"""One row a fault and outcome. `difference` (with interval of 90 %) is adjusted for conditions and for faults that come
before it; `alone` for all other faults too, so that what reaches the outcome by way of them is left out. In the
outcome's unit, positive toward worse. `with_fault` is the expected number of landings with it."""

MOST_LANDINGS, SEED = 60_000, 20261125
"""Landings compared, of whole pilots: more would narrow no interval that a person would notice."""


def fault_costs(landings: pl.DataFrame, faults: pl.DataFrame) -> pl.DataFrame:
    """Difference that goes with each fault, for each outcome.

    Parameters
    ----------
    landings : a landing frame; the baseline-eligible ones take part.
    faults : fault rows with landing_id, fault and probability.

    Returns
    -------
    Columns of SCHEMA, by outcome and flying order. Faults that are part of an outcome, that too few landings have or
    lack, or that the recorders cannot tell apart have no row.
    """
    kept = some_pilots(eligible(landings), most=MOST_LANDINGS)
    chances = indicators(faults, kept, names=before_contact())
    rows = [
        _row(design, outcome)
        for outcome in WORSE
        for fault in before_contact()
        if (fault, outcome) not in ARITHMETIC and (design := lay_out_costs(kept, chances, outcome, fault)) is not None
    ]
    return pl.DataFrame(rows, schema=SCHEMA, orient="row")


def some_pilots(kept: pl.DataFrame, *, most: int) -> pl.DataFrame:
    """Leave whole pilots out, drawn with a fixed seed, until no more than `most` landings are left, or one pilot."""
    if kept.height <= most:
        return kept
    counts = kept.group_by("pilot").len().sort("pilot").sample(fraction=1.0, shuffle=True, seed=SEED)
    among = (pl.col("len").cum_sum() <= most) | (pl.int_range(pl.len()) == 0)
    return kept.filter(pl.col("pilot").is_in(counts.filter(among)["pilot"].implode()))


def _row(design: Design, outcome: str) -> dict[str, object]:
    name = design.names[0]
    others = range(1, len(design.names))
    earlier = [i for i in others if not comes_after(name, design.names[i])]
    total, alone = (_difference(design, given) for given in (earlier, others))
    chance = design.faults[:, 0]
    return {
        "fault": name,
        "outcome": outcome,
        "n": design.y.size,
        "with_fault": float(chance.sum()),
        "pilots": int(np.unique(design.pilot).size),
        "sessions": int(np.unique(design.session).size),
        **_interval("difference", total),
        "difference_error": float(total.error[0]),
        **_interval("alone", alone),
        "reliability": reliability(chance),
        "unseen_needed": unseen_needed(float(total.unique_f2[0])),
        "unseen_needed_to_doubt": unseen_needed_to_doubt(
            float(total.unique_f2[0]), estimate=float(total.estimate[0]), reach=float(total.reach[0])
        ),
    }


def _difference(design: Design, given: Sequence[int]) -> Coefficients:
    """The fault's column first, then the faults given and the conditions."""
    x = np.column_stack([design.faults[:, [0, *given]], design.conditions])
    inner = demeaned(x, design.group)
    kept = independent(inner, least=np.full(x.shape[1], 1e-9))
    return differences(design.y, x[:, kept], group=design.group, clusters=design.clusters)


def _interval(name: str, found: Coefficients) -> dict[str, object]:
    middle, reach = float(found.estimate[0]), float(found.reach[0])
    return {name: middle, f"{name}_low": middle - reach, f"{name}_high": middle + reach}

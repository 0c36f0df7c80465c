"""Landings and what groups them in; only the groups that are large enough to hide a pilot out."""

from dataclasses import dataclass

import polars as pl

FEWEST_PILOTS, FEWEST_LANDINGS = 5, 20
"""A group is shown only with at least this many known pilots and this many approaches."""


@dataclass(frozen=True)
class Groups:
    """Rows of the groups that are shown, and how many groups are withheld."""

    rows: pl.DataFrame
    shown: list[str]
    withheld: int


def large_enough(rows: pl.DataFrame) -> bool:
    """Tell whether rows come from enough known pilots and approaches to be shown as one figure."""
    return rows.height >= FEWEST_LANDINGS and rows["pilot"].drop_nulls().n_unique() >= FEWEST_PILOTS


def visible(rows: pl.DataFrame, by: str) -> Groups:
    """Return the groups of a column that may be shown, in order of their names; rows without a group are left out.

    Where what is withheld is itself too small, it could be had by taking the shown groups from the whole; then the
    smallest shown group is withheld too, and so on.
    """
    known = rows.drop_nulls(by)
    parts = {str(name): part for (name,), part in known.partition_by(by, as_dict=True).items()}
    shown = {name for name, part in parts.items() if large_enough(part)}
    while shown and len(shown) < len(parts):
        hidden = known.filter(~pl.col(by).is_in(sorted(shown)))
        if large_enough(hidden):
            break
        shown.remove(min(sorted(shown), key=lambda name: parts[name].height))
    return Groups(known.filter(pl.col(by).is_in(sorted(shown))), sorted(shown), len(parts) - len(shown))

"""One column of a raw table in (text or native), its numbers or yes/no answers as floats out; NaN is "no value"."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import polars as pl

from pipeline.errors import LogError
from pipeline.reading.rule import State
from pipeline.recording import Floats

BLANKS = frozenset({"", "-", "--", "---", ".", "?", "n/a", "na", "#n/a", "nan", "null", "none", "nil", "*", "***"})
"""What recorders and exports write where there is no value, in lower case."""
YES_NO = {"true": 1.0, "false": 0.0, "yes": 1.0, "no": 0.0, "on": 1.0, "off": 0.0, "t": 1.0, "f": 0.0}
TEXT_SHARE = 0.05
"""Up to this share of a column's values may be something else than it should be: they are set aside, and counted."""


@dataclass(frozen=True)
class Place:
    """Where a column is, for messages: the log, the column, and the number of its first row below the header."""

    log_file: str
    column: str
    first_row: int = 1
    decimal_mark: str = "."


Read = tuple[Floats, tuple[str, ...]]


def numbers(cells: pl.Series, place: Place) -> Read:
    """Numbers of a column, (rows,), NaN where blank or set aside; and notes.

    Raises
    ------
    LogError
        More than 5 % of the values are not numbers; names the column, a row and what stands there.
    """
    if cells.dtype.is_numeric() or cells.dtype in (pl.Boolean, pl.Null):
        return _floats(cells.cast(pl.Float64)), ()
    text = _as_text(cells, place)
    parsed = text.cast(pl.Float64, strict=False)
    if parsed.null_count() == text.null_count():
        return _floats(parsed), ()
    values = _floats(parsed)
    odd = np.flatnonzero((parsed.is_null() & text.is_not_null()).to_numpy())
    again = text.gather(odd).str.strip_chars().str.replace("\u2212", "-", literal=True)
    if place.decimal_mark == ",":
        again = again.str.replace(",", ".", literal=True)
    values[odd] = _floats(again.cast(pl.Float64, strict=False))
    wrong = np.isnan(values[odd]) & ~_is_blank(again)
    return values, _set_aside(odd[wrong], values, text, place, needed="numbers")


def answers(cells: pl.Series, place: Place, states: Sequence[State]) -> Read:
    """Yes (1) and no (0) of a column, (rows,), NaN where blank or set aside; and notes.

    With `states` a value is yes where it equals one of them, as a number or as text in any case, and else no. Without,
    values are 0 and 1 or words for yes and no.

    Raises
    ------
    LogError
        Without `states`, more than 5 % of the values are neither yes nor no.
    """
    values, text = _floats_first(cells, place)
    if states:
        return _equal(values, text, states, place)
    valid = (values == 0.0) | (values == 1.0)
    if text is None or np.count_nonzero(valid) + text.null_count() == len(text):
        blank = np.isnan(values)
    else:
        words = text.str.strip_chars().str.to_lowercase()
        values = np.where(valid, values, _floats(words.replace_strict(YES_NO, default=None, return_dtype=pl.Float64)))
        valid, blank = ~np.isnan(values), _is_blank(words)
    wrong = np.flatnonzero(~valid & ~blank)
    values = np.where(valid, values, np.nan)
    needed = "0 and 1 (state true_when where they are something else)"
    return values, _set_aside(wrong, values, cells, place, needed=needed)


def _floats_first(cells: pl.Series, place: Place) -> tuple[Floats, pl.Series | None]:
    """Numbers of a column, NaN where a cell is none, and its text where it is text."""
    if cells.dtype.is_numeric() or cells.dtype in (pl.Boolean, pl.Null):
        return _floats(cells.cast(pl.Float64)), None
    text = _as_text(cells, place)
    return _floats(text.cast(pl.Float64, strict=False)), text


def _equal(values: Floats, text: pl.Series | None, states: Sequence[State], place: Place) -> Read:
    yes = np.zeros(len(values), dtype=bool)
    text = None if text is None else text.str.strip_chars().str.to_lowercase()
    for state in states:
        number = _number(state)
        yes |= values == number
        if text is not None:
            yes |= (text == str(state).strip().lower()).fill_null(value=False).to_numpy()
    blank = np.isnan(values) if text is None else _is_blank(text)
    notes: tuple[str, ...] = ()
    if not yes.any() and not blank.all():
        wanted = ", ".join(repr(state) for state in states)
        held = (pl.Series(values[~blank]) if text is None else text.filter(~blank)).unique(maintain_order=True)
        found = ", ".join(repr(value) for value in held.head(3))
        notes = (f"column {place.column} never holds {wanted} but {found}: read as no throughout",)
    return np.where(blank, np.nan, yes.astype(float)), notes


def _number(state: State) -> float:
    try:
        return float(state)
    except ValueError:
        return float("nan")


def _as_text(cells: pl.Series, place: Place) -> pl.Series:
    if isinstance(cells.dtype, pl.String | pl.Categorical | pl.Enum):
        return cells.cast(pl.String)
    raise LogError(
        f"{place.log_file}: column {place.column!r} holds {cells.dtype} where numbers or text are needed;"
        " export it as numbers, or map another column"
    )


def _floats(cells: pl.Series) -> Floats:
    return cells.to_numpy(writable=True)  # nulls become NaN


def _is_blank(text: pl.Series) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    return (text.is_null() | text.str.to_lowercase().is_in(list(BLANKS))).to_numpy()


def _set_aside(rows: np.ndarray, values: Floats, cells: pl.Series, place: Place, *, needed: str) -> tuple[str, ...]:
    """Note the rows that hold something else than `needed`, or refuse the column where they are too many."""
    if len(rows) == 0:
        return ()
    held = len(rows) + int(np.isfinite(values).sum())
    first = f"row {place.first_row + int(rows[0])} holds {cells[int(rows[0])]!r}"
    if len(rows) > TEXT_SHARE * held:
        raise LogError(
            f"{place.log_file}: column {place.column!r}: {len(rows)} of {held} values are not {needed}: {first};"
            " map the right column, or export it as numbers"
        )
    return (f"column {place.column}: {len(rows)} values that are not {needed} set aside; {first}",)

"""Routine approaches and their rows of the gate frame in; shares that met each gate, and what became of the others, out.

Going around from an approach that did not meet its gate is the good outcome, and is counted as one. Recorders are set
side by side, because a slow one leaves more verdicts in doubt and fewer criteria judged, which is not how it was flown.
"""

import polars as pl

from reports.gates import SURE, at, called
from reports.shares import Share, share
from reports.withholding import large_enough, visible
from reports.words import number, percent

Row = tuple[str, ...]

RATES = ((8.0, "8 Hz and more"), (4.0, "4 to 8 Hz"), (0.0, "slower than 4 Hz"))
"""Recorders by their rate, each from this many hertz on."""
_WITHHELD = "withheld"
_SELDOM = 0.5
"""Share of approaches below which a criterion counts as seldom judged."""


def judged(approaches: pl.DataFrame, gates: pl.DataFrame) -> pl.DataFrame:
    """Join approaches with their gates: a row an approach and gate, with `rate` and `gone_around`.

    `gone_around` is null where the log ends before the approach did.
    """
    rate = pl.coalesce(
        *(pl.when(pl.col("recorder_rate_hz") >= least).then(pl.lit(words)) for least, words in RATES),
        pl.lit("rate not known"),
    )
    ended = pl.when(pl.col("outcome") != "unfinished").then(pl.col("outcome") == "go_around")
    own = ("landing_id", "gate", "height_ft", "reference", "stable", "confidence", "failed", "not_judged")
    rows = gates.select(*own, "held_to_50ft")
    known = approaches.select("landing_id", "pilot", "aircraft", "flown", rate=rate, gone_around=ended)
    return rows.join(known, on="landing_id", how="inner", maintain_order="left").sort(
        "height_ft", "gate", descending=[True, False], maintain_order=True
    )


def gate_rows(rows: pl.DataFrame) -> list[Row]:
    """Return one row a gate: approaches judged, share met, share of these held to 50 ft, of sure misses gone around."""
    found: list[Row] = []
    for part in _by(rows, "gate"):
        known = part.drop_nulls("stable")
        held = _words(known.filter("stable"), "held_to_50ft")
        around = _words(_sure(known, stable=False), "gone_around")
        found.append((called_gate(part), _count(known), _words(known, "stable"), held, around))
    return found


def gone_around_words(rows: pl.DataFrame) -> str:
    """Return what became of the approaches that surely missed the lowest gate, as a sentence, or nothing."""
    if rows.is_empty():
        return ""
    lowest = _by(rows, "gate")[-1]
    missed = _sure(lowest, stable=False).drop_nulls("gone_around")
    found = share(missed, "gone_around") if large_enough(missed) else None
    if found is None:
        return ""
    return (
        f"Of the approaches that did not meet the gate at {called_gate(lowest)}, told with at least {percent(SURE)} "
        f"confidence, {found.words} were gone around: the good outcome, and a share that should grow. The rest were "
        "continued; what brings that number down is the decision at the gate, never fewer go-arounds. A go-around from an "
        "approach that met its gate is a good outcome too."
    )


def own_words(rows: pl.DataFrame) -> list[str]:
    """Return how often one pilot's approaches met each gate, go-arounds included."""
    words = []
    for part in _by(rows, "gate"):
        met = share(part, "stable")
        if met is not None:
            words.append(
                f"The criteria the logs can show at {called_gate(part)} were met in {met.words} of your approaches."
            )
    return words


def own_gone_around(rows: pl.DataFrame) -> str:
    """Return how many of one pilot's approaches that surely missed a gate were gone around, each approach once."""
    missed = _sure(rows, stable=False).unique("landing_id", keep="last", maintain_order=True)
    ended = missed.drop_nulls("gone_around")
    if ended.is_empty():
        return ""
    around = int(ended["gone_around"].sum())
    were = f"{around or 'none'} {'was' if around == 1 else 'were'}"
    return (
        f"Of all your routine approaches that did not meet a gate, told with at least {percent(SURE)} confidence "
        f"({ended.height}), {were} gone around: the good outcome."
    )


def rate_rows(rows: pl.DataFrame) -> list[Row]:
    """Return one row a gate and rate of recorders, where there is more than one rate to compare.

    Surely met, in doubt and surely missed make up the whole, so that doubt makes no recorder look clean or dirty: the
    true share met lies between the first and the whole less the last. Taking the doubt out by a model of it was tried
    and is not done: recorders' errors are alike from one approach to the next, and the share came out too high.
    """
    found: list[Row] = []
    for part in _by(rows, "gate"):
        known = part.filter(pl.col("stable").is_not_null())
        groups = visible(known, "rate")
        for words, some in _rates(groups.rows) if known["rate"].n_unique() > 1 else []:
            surely = [percent(_sure(some, stable=stable).height / some.height) for stable in (True, False)]
            doubt = percent(_doubtful(some))
            found.append(
                (called_gate(part), words, number(some.height), _words(some, "stable"), surely[0], doubt, surely[1])
            )
    return found


def criterion_rows(rows: pl.DataFrame) -> list[Row]:
    """Return, for each gate and criterion that was missed, by how many approaches and their share of those judged by it."""
    found: list[Row] = []
    for part in _by(rows, "gate"):
        known = part.filter(pl.col("stable").is_not_null())
        missed = known.with_columns(pl.col("failed").fill_null("").str.split(" ")).explode("failed")
        missed_here = []
        for (name,), some in missed.filter(pl.col("failed") != "").partition_by("failed", as_dict=True).items():
            unjudged = pl.col("not_judged").fill_null("").str.split(" ").list.contains(str(name))
            of_all = percent(some.height / known.filter(~unjudged).height, decimals=1)
            many = large_enough(some)
            cells = (number(some.height), of_all) if many else (_WITHHELD, _WITHHELD)
            missed_here.append((some.height if many else 0, (called_gate(part), called(str(name)), *cells)))
        found += [row for _, row in sorted(missed_here, key=lambda item: (-item[0], item[1]))]
    return found


def coverage_rows(rows: pl.DataFrame) -> list[Row]:
    """Return one row a gate and rate of recorders: how much could be judged, and nothing of how it was flown."""
    found: list[Row] = []
    for part in _by(rows, "gate"):
        for words, some in _rates(part):
            told = some.filter(pl.col("stable").is_not_null())
            without = percent(1.0 - told.height / some.height)
            doubt = percent(_doubtful(told)) if told.height else ""
            found.append((called_gate(part), words, number(some.height), without, doubt, _seldom(told)))
    return found


def _by(rows: pl.DataFrame, column: str) -> list[pl.DataFrame]:
    return rows.partition_by(column, maintain_order=True)


def _rates(rows: pl.DataFrame) -> list[tuple[str, pl.DataFrame]]:
    each = {str(name): part for (name,), part in rows.partition_by("rate", as_dict=True).items()}
    return [(words, each[words]) for words in (*(words for _, words in RATES), "rate not known") if words in each]


def called_gate(part: pl.DataFrame) -> str:
    """The gate's place, and for which approaches it is where it is not for all."""
    row = part.row(0, named=True)
    _, _, only = str(row["gate"]).partition(", ")
    return f"{at(row)}, {only} approaches" if only else at(row)


def _count(rows: pl.DataFrame) -> str:
    return number(rows.height) if large_enough(rows) else _WITHHELD


def _words(rows: pl.DataFrame, flag: str) -> str:
    known = rows.drop_nulls(flag)
    if not large_enough(known):
        return _WITHHELD if known.height else "none to count"
    found = share(known, flag)
    return "none to count" if found is None else _interval(found)


def _interval(found: Share) -> str:
    return f"{percent(found.share)} ({percent(found.low)} to {percent(found.high)}, n = {number(found.n)})"


def _sure(rows: pl.DataFrame, *, stable: bool) -> pl.DataFrame:
    """The approaches of which one verdict is at least 90 % sure."""
    return rows.filter(pl.col("stable") == stable, pl.col("confidence").fill_null(0.0) >= SURE)


def _doubtful(told: pl.DataFrame) -> float:
    """Share of verdicts that are less than 90 % sure."""
    return told.filter(pl.col("confidence").fill_null(0.0) < SURE).height / told.height


def _seldom(told: pl.DataFrame) -> str:
    """Criteria that fewer than half of the approaches could be judged by."""
    if told.is_empty():
        return ""
    missing = told["not_judged"].fill_null("").str.split(" ").explode()
    counts = missing.filter(missing != "").value_counts(sort=True).iter_rows()
    return ", ".join(called(name) for name, count in counts if count > _SELDOM * told.height) or "none"

"""How often each fault is there, by pilot and by type: fault rows and landings in, shares with intervals out."""

from datetime import date

import polars as pl

from pipeline.faults.judging import SCHEMA as FAULT
from pipeline.statistics.eligible import eligible
from pipeline.statistics.prevalence import SCHEMA as SHARE
from pipeline.statistics.prevalence import prevalence

LAST = 100
"""A pilot's shares are of this many routine landings, the last ones: our own choice."""

SCHEMA: dict[str, type[pl.DataType]] = {"pilot": pl.String, "aircraft_type": pl.String, **SHARE}
"""One row a pilot, type and fault; `pilot` is empty for all pilots of a type together, over whole months."""
ALL = ""


def fault_shares(faults: pl.DataFrame, landings: pl.DataFrame, *, as_of: date) -> pl.DataFrame:
    """Shares of routine landings with each fault.

    Parameters
    ----------
    faults : fault rows, at least of the landings.
    landings : landing frame up to and including `as_of`.

    Returns
    -------
    Columns of SCHEMA: every pilot's last landings in each type, and each type's landings of all complete months, since
    two editions that differ by a week of one pilot would tell on him.
    """
    kept = eligible(landings).filter(pl.col("aircraft_type").is_not_null())
    months = kept.filter(pl.col("contact_at").dt.date() < as_of.replace(day=1))
    parts = [pl.DataFrame(schema=SCHEMA)]
    for (pilot, kind), rows in _by(kept, "pilot", "aircraft_type"):
        parts.append(_part(faults, rows.tail(LAST), str(pilot), str(kind)))
    for (kind,), rows in _by(months, "aircraft_type"):
        parts.append(_part(faults, rows, ALL, str(kind)))
    return pl.concat(parts)


def no_faults() -> pl.DataFrame:
    """Fault rows where nothing was judged."""
    return pl.DataFrame(schema=FAULT)


def _by(rows: pl.DataFrame, *columns: str) -> list[tuple[tuple[object, ...], pl.DataFrame]]:
    parts = rows.partition_by(list(columns), as_dict=True, maintain_order=True)
    return sorted(parts.items(), key=lambda item: str(item[0]))


def _part(faults: pl.DataFrame, rows: pl.DataFrame, pilot: str, kind: str) -> pl.DataFrame:
    installation = pl.concat_str("aircraft", "recorder", separator=" ", ignore_nulls=True)
    known = rows.select("landing_id", "session", installation.alias("installation"))
    judged = faults.join(known, on="landing_id", how="inner", maintain_order="right_left")
    return prevalence(judged).select(pl.lit(pilot).alias("pilot"), pl.lit(kind).alias("aircraft_type"), *SHARE)

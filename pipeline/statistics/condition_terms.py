"""The conditions a residual may be adjusted for: eligible landings in, one column of numbers per candidate out."""

from dataclasses import dataclass

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.recording import Floats

NUMBER_SUPPORT = 20.0
"""Sum of squares within blocks, in spreads of the condition, that a number needs."""

LEVEL_SUPPORT = 15.0
"""The same for a level: n f (1 - f) landings of contrast, such as 60 landings of which half are of the level."""

FITTED_SPREADS = 3.0
"""A number further from its mean than so many of its spreads lies where few landings tell its effect."""

LEVELS = ("aircraft_type", "recorder", "runway")
OWN_STREAM = ("aircraft_type", "recorder")


@dataclass(frozen=True)
class Candidate:
    """One column: `filled` (n,) with the mean where `unknown` (n,), `spread` of the known, `scale` to compare support.

    `beyond` (n,) says where a number lies outside the range its effect is fitted on. `source` is the landing
    column it came from; `level` the level it marks, None for numbers.
    """

    name: str
    source: str
    level: str | None
    filled: Floats
    unknown: NDArray[np.bool_]
    beyond: NDArray[np.bool_]
    spread: float
    scale: float
    needed: float


def candidates(landings: pl.DataFrame) -> list[Candidate]:
    """All candidates in the order they are tried: type and recorder, wind and gust, Vref or weight, runway."""
    calm = pl.when(pl.col("headwind_kt").is_not_null()).then(0.0)
    load = _load_column(landings)
    numbers = landings.select(
        headwind_kt=pl.col("headwind_kt").clip(lower_bound=0.0),
        tailwind_kt=(-pl.col("headwind_kt")).clip(lower_bound=0.0),
        crosswind_kt=pl.col("crosswind_kt").abs(),
        gust_spread_kt=pl.coalesce("gust_spread_kt", calm),
        **{load: (pl.col(load) - pl.col(load).mean().over("aircraft_type")).cast(pl.Float64)},
        wind_unknown=pl.col("headwind_kt").is_null().cast(pl.Float64),
    )
    found = [_number(numbers[name]) for name in numbers.columns if numbers[name].null_count() < landings.height]
    levels = {name: _levels(landings[name]) for name in LEVELS}
    return [*levels["aircraft_type"], *levels["recorder"], *(c for c in found if c.spread > 0.0), *levels["runway"]]


def _load_column(landings: pl.DataFrame) -> str:
    """`vref_kt` or `weight_kg`, whichever more landings have; both say how heavy the aircraft was."""
    return "weight_kg" if landings["weight_kg"].count() > landings["vref_kt"].count() else "vref_kt"


def _number(column: pl.Series) -> Candidate:
    known = column.drop_nulls().to_numpy()
    spread = float(np.std(known))
    filled = column.fill_null(float(np.mean(known))).to_numpy().astype(float)
    unknown = column.is_null().to_numpy()
    beyond = np.abs(filled - float(np.mean(known))) > FITTED_SPREADS * spread
    return Candidate(column.name, column.name, None, filled, unknown, beyond, spread, spread or 1.0, NUMBER_SUPPORT)


def _levels(column: pl.Series) -> list[Candidate]:
    """A column for every level but the commonest, commonest first; a null is a level of its own."""
    named = column.fill_null("not known")
    counts = named.value_counts().sort(["count", named.name], descending=[True, False])
    never = np.zeros(column.len(), dtype=bool)
    return [
        Candidate(
            f"{named.name}: {level}",
            named.name,
            level,
            (named == level).to_numpy().astype(float),
            never,
            never,
            0.0,
            1.0,
            LEVEL_SUPPORT,
        )
        for level in counts[named.name].to_list()[1:]
    ]


def streams(landings: int, alone: list[Candidate]) -> list[str]:
    """Name the aircraft type or recorder of each landing whose effect nothing supports, else ""."""
    names: list[list[str]] = [[] for _ in range(landings)]
    for candidate in alone:
        if candidate.source in OWN_STREAM:
            for i in np.flatnonzero(candidate.filled == 1.0):
                names[i].append(candidate.name)
    return [", ".join(parts) for parts in names]

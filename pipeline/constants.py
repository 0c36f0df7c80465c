"""Constants of gear and instruments learned over the landings of one installation: estimates in, a version out.

An installation is a recorder on an aircraft type. What one landing tells of a constant is weak and rests on a prior;
over some tens of landings, each prior divided out, it becomes firm.
"""

import hashlib
from collections.abc import Sequence

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.measures.installation import USUAL, Installation, Usual
from pipeline.measures.table import DEFINITION

Floats = NDArray[np.float64]

SEEN: dict[str, type[pl.DataType] | pl.DataType] = {
    "log_sha256": pl.String,
    "recorder": pl.String,
    "aircraft_type": pl.String,
    "constant": pl.String,
    "value": pl.Float64,
    "sd": pl.Float64,
}
"""What each landing tells: value and standard deviation of a constant, the usual prior included."""
CONSTANTS: dict[str, type[pl.DataType] | pl.DataType] = {
    "version": pl.String,
    "recorder": pl.String,
    "aircraft_type": pl.String,
    "constant": pl.String,
    "mean": pl.Float64,
    "sd": pl.Float64,
    "landings": pl.Int64,
}
"""One row a version and constant; `landings` is how many it was learned from."""
NONE = "none"
"""The version of an installation of which nothing is learned."""
LEAST, MOST = 20, 80
"""Landings from which constants are learned first, and beyond which no more is gained: our own choice. From 20 on, a
landing's own part in what is believed before it is looked at is a twentieth at most."""

_OUTLIER = 1.5
"""A landing farther out than this many deviations counts the less (Huber, Robust Estimation of a Location Parameter,
1964, where 1.5 is usual)."""
_ROUNDS = 20
_MEDIAN_OF_SQUARES = 0.4549
"""Median of a squared standard normal deviate."""
_UNNAMED = ""
_LEAST_SHARE = 0.02
"""A landing that tells less than this share of the prior tells nothing but its rounding."""


def installation_of(recorder: str | None, map_sha256: str, aircraft_type: str | None) -> tuple[str, str]:
    """Recorder and type that tell an installation; a recorder without a name goes by its channel map.

    >>> installation_of(None, "abcdef0123456789", None)
    ('map abcdef012345', '')
    """
    return recorder or f"map {map_sha256[:12]}", aircraft_type or _UNNAMED


def learned(seen: pl.DataFrame) -> pl.DataFrame:
    """One version of constants for each installation with enough landings.

    Parameters
    ----------
    seen : columns of SEEN, one row a landing and constant; nulls where a landing told nothing.

    Returns
    -------
    Columns of CONSTANTS. The version names definition, logs and values: the same landings give the same version.
    """
    parts = [_version(key, rows) for key, rows in _installations(seen) if _landings(rows) >= LEAST]
    return pl.concat([pl.DataFrame(schema=CONSTANTS), *parts])


def _installations(seen: pl.DataFrame) -> list[tuple[tuple[str, str], pl.DataFrame]]:
    ordered = seen.drop_nulls("value").sort("recorder", "aircraft_type", "log_sha256", "constant", "value", "sd")
    groups = ordered.group_by("recorder", "aircraft_type", maintain_order=True)
    return [((str(key[0]), str(key[1])), rows) for key, rows in groups]


def _landings(rows: pl.DataFrame) -> int:
    """How many landings told anything, by the constant that most of them told."""
    return max(count for _, count in rows["constant"].value_counts().rows())


def _version(key: tuple[str, str], rows: pl.DataFrame) -> pl.DataFrame:
    found = []
    for name, usual in USUAL.items():
        told = rows.filter(pl.col("constant") == name)
        mean, sd = pooled(told["value"].to_numpy(), told["sd"].to_numpy(), usual)
        found.append((name, mean, sd, told.height))
    logs = sorted(set(rows["log_sha256"]))
    said = repr((DEFINITION, key, logs, [(name, f"{mean:.5g}", f"{sd:.5g}") for name, mean, sd, _ in found]))
    version = hashlib.sha256(said.encode()).hexdigest()[:12]
    return pl.DataFrame([(version, *key, *row) for row in found], schema=CONSTANTS, orient="row")


def pooled(value: Floats, sd: Floats, usual: Usual) -> tuple[float, float]:
    """Mean and standard deviation of a constant over landings (n,) each of which was told by the same prior.

    Each landing's own information is what is left of its posterior when the prior is divided out; it is weighed by its
    precision and by how far it lies out, and the prior is multiplied in once. The deviation is never below the floor.

    >>> pooled(np.full(30, 0.2), np.full(30, 0.02), Usual(0.1, 0.1, 0.02))[0].round(3)
    np.float64(0.204)
    """
    own = np.maximum(sd**-2.0 - usual.sd**-2.0, 0.0)
    told = own * usual.sd**2 > _LEAST_SHARE
    if not told.any():
        return usual.mean, usual.sd
    own, shift = own[told], (value / sd**2 - usual.mean / usual.sd**2)[told]
    place, variance = shift / own, 1.0 / own
    middle, between = float(np.median(place)), 0.0
    for _ in range(_ROUNDS):
        spread = np.sqrt(variance + between)
        weight = np.minimum(1.0, _OUTLIER * spread / np.maximum(np.abs(place - middle), 1e-9)) / spread**2
        middle = float((weight * place).sum() / weight.sum())
        between = max(float(np.median((place - middle) ** 2)) / _MEDIAN_OF_SQUARES - float(np.median(variance)), 0.0)
    precision = weight.sum() + usual.sd**-2.0
    mean = (middle * weight.sum() + usual.mean * usual.sd**-2.0) / precision
    return mean, float(np.hypot(precision**-0.5, usual.floor))


def installed(installations: Sequence[tuple[str, str]], constants: pl.DataFrame) -> tuple[Installation, list[str]]:
    """What is known of gear and instruments of each landing, and the version it rests on.

    `installations` (n,): recorder and type as `installation_of` gives them. `constants`: columns of CONSTANTS, one
    version an installation.
    """
    known: dict[tuple[str, str], dict[str, tuple[float, float]]] = {}
    version: dict[tuple[str, str], str] = {}
    for row in constants.iter_rows(named=True):
        key = (row["recorder"], row["aircraft_type"])
        known.setdefault(key, {})[row["constant"]] = (row["mean"], row["sd"])
        version[key] = row["version"]
    arrays = {
        name: np.array([known.get(key, {}).get(name, (u.mean, u.sd)) for key in installations]).reshape(-1, 2)
        for name, u in USUAL.items()
    }
    return Installation(**arrays), [version.get(key, NONE) for key in installations]

"""Values repeated on rows faster than their channel in, the rows on which the channel was sampled out."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

_EVIDENCE = 6.0
"""Decimal powers by which the pattern must be beyond chance."""
_FEWEST_RUNS, _FEWEST_MIXED_RUNS = 8, 40
_SHARE, _MIXED_SHARE = 0.98, 0.95
_VARIED, _MIXED_VARIED = 0.1, 0.2
_LONGEST = 128


def sampled_rows(value: Floats) -> Bools | None:
    """Rows (n,) on which a channel was sampled, where it repeats itself in between; None where it does not.

    The evidence is the lengths of the runs of equal values: all of them multiples of one number (a channel of 2 Hz on
    rows of 8 Hz changes after 4, 8, 12 rows), or all of two neighbouring lengths (3 Hz on rows of 8 Hz). A coarse
    channel that moves slowly has runs of any length, and one that moves evenly changes by one step at a time: both are
    left alone, as is one that never changes.

    Examples
    --------
    >>> sampled_rows(np.repeat(np.array([0.0, 2.0, 3.0, 7.0, 8.0, 6.0, 1.0, 5.0, 9.0, 4.0] * 4), 3)).sum()
    np.int64(40)
    >>> sampled_rows(np.arange(100.0)) is None
    True
    """
    changed = value[1:] != value[:-1]
    if len(value) < 3 * _FEWEST_RUNS or np.count_nonzero(changed[1:] & changed[:-1]) > (1.0 - _SHARE) * changed.sum():
        return None
    begins = np.concatenate([[0], np.flatnonzero(changed) + 1])
    runs = np.diff(begins)[1:]
    if len(runs) < _FEWEST_RUNS:
        return None
    period = _period(runs, np.abs(np.diff(value[begins]))[1:])
    return None if period is None else _kept(begins, len(value), period)


def _period(runs: Ints, steps: Floats) -> float | None:
    """Rows a sample, or None where the runs have no pattern."""
    varied = float((steps > 1.5 * steps.min()).mean())
    for every in range(min(_LONGEST, int(np.median(runs))), 1, -1):
        multiples = runs % every == 0
        lengths = np.bincount(runs[multiples] // every)
        mixed = (lengths >= 0.1 * len(runs)).sum() >= 2
        beyond = len(runs) * np.log10(every) >= _EVIDENCE
        if multiples.mean() >= _SHARE and beyond and (varied >= _VARIED or mixed):
            return float(every)
    shortest = int(np.quantile(runs, 0.02))
    between = (runs >= shortest) & (runs <= shortest + 1)
    if shortest >= 2 and len(runs) >= _FEWEST_MIXED_RUNS and between.mean() >= _MIXED_SHARE and varied >= _MIXED_VARIED:
        return float(runs[between].mean())
    return None


def _kept(begins: Ints, rows: int, period: float) -> Bools:
    """First row of every run, and further ones each period within a run of several samples."""
    kept = np.zeros(rows, dtype=bool)
    lengths = np.diff(begins, append=rows)
    samples = np.maximum(np.rint(lengths / period), 1.0).astype(int)
    samples[-1] = max(int(np.ceil(lengths[-1] / period)), 1)
    place = np.arange(samples.sum()) - np.repeat(np.cumsum(samples) - samples, samples)
    at = np.repeat(begins, samples) + np.rint(place * period).astype(int)
    kept[np.minimum(at, rows - 1)] = True
    return kept

"""How unusual a value is for its pilot: values in flying order with their sessions in, scores N(0, 1) in control out.

Landings of one session (pilot, aircraft, day) share wind, instructor and mood, so they agree with each other. Each
score is freed of what the session's earlier landings already told (equal correlation within a session), and `worth`
says how much of an independent landing it is.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from pipeline.recording import Floats

Ints = NDArray[np.int64]

CORRELATION_GRID = np.linspace(0.0, 0.6, 31)
_PRIOR = CORRELATION_GRID**0.5 * (1.0 - CORRELATION_GRID) ** 7.0  # Beta(1.5, 8) up to a constant


@dataclass(frozen=True)
class Sessions:
    """Where each of n landings stands in its session.

    Parameters
    ----------
    code : (n,) session numbers 0, 1, ...; a session's landings need not be neighbours.
    order : (n,) stable order that brings each session's landings together.
    first : (n,) in that order, index of the session's first landing.
    before : (n,) in flying order, how many landings of the session came before.
    """

    code: Ints
    order: Ints
    first: Ints
    before: Ints


def lay_out(code: Ints) -> Sessions:
    """Find each landing's place in its session; `code` (n,) are session numbers in flying order."""
    order = np.argsort(code, kind="stable")
    begins = np.r_[True, np.diff(code[order]) != 0][: code.size]
    first = np.maximum.accumulate(np.where(begins, np.arange(code.size), 0))
    before = np.empty(code.size, dtype=np.int64)
    before[order] = np.arange(code.size) - first
    return Sessions(code, order, first, before)


def normal_scores(values: Floats, reference: Floats, *, members: int = 0) -> Floats:
    """Normal quantile of each value's mid-rank in a sorted reference.

    Parameters
    ----------
    values : (n,) values.
    reference : (m,) sorted, m >= 1.
    members : the first so many of `values` are themselves in the reference; the rest rank as one more beside it.
    """
    rank = 0.5 * (np.searchsorted(reference, values, "left") + np.searchsorted(reference, values, "right"))
    share = (rank + 0.5) / (reference.size + 1.0)
    share[:members] = rank[:members] / reference.size
    return np.asarray(ndtri(share), dtype=float)


def session_correlation(scores: Floats, code: Ints) -> float:
    """Posterior mean of the correlation of two landings of a session.

    Restricted likelihood of equally correlated normal sessions on a grid from 0 to 0.6, with a Beta(1.5, 8) prior
    (mean 0.16: our own choice, small correlations are the common case). Without sessions of two it is the prior's mean.

    Parameters
    ----------
    scores : (n,) normal scores, n >= 2.
    code : (n,) session numbers.
    """
    size = np.bincount(code)
    size, total = size[size > 0], np.bincount(code, scores)[size > 0]
    mean = total / size
    within = float(scores @ scores - total @ mean)
    rho = CORRELATION_GRID[:, None]
    inflation = 1.0 + (size - 1) * rho
    weight = size / inflation
    weights = weight.sum(axis=1)
    centre = (weight @ mean) / weights
    quadratic = within / (1.0 - rho[:, 0]) + (weight * (mean - centre[:, None]) ** 2).sum(axis=1)
    free = (size - 1).sum()
    log_like = -0.5 * (
        (scores.size - 1) * np.log(np.maximum(quadratic, 1e-12))
        + free * np.log(1.0 - rho[:, 0])
        + np.log(inflation).sum(axis=1)
        + np.log(weights)
    )
    posterior = _PRIOR * np.exp(log_like - log_like.max())
    return float(posterior @ CORRELATION_GRID / posterior.sum())


def freed_of_session(scores: Floats, sessions: Sessions, *, correlation: float) -> tuple[Floats, Floats]:
    """Take out of each score what its session's earlier landings told.

    Returns
    -------
    freed : (n,) (z - w * mean of the session's earlier z) / sd, with w = rho j / (1 + (j - 1) rho) after j landings
        and sd = sqrt(1 - rho w); independent with unit spread where z is equally correlated within sessions.
    reach : (n,) (1 - w) / sd, what is left in `freed` of a shift of 1 in z; its square is the landing's worth in
        independent landings.
    """
    sums = np.r_[0.0, np.cumsum(scores[sessions.order])]
    earlier = np.empty(scores.size)
    earlier[sessions.order] = sums[:-1] - sums[sessions.first]
    j = sessions.before
    w = correlation * j / np.maximum(1.0 + (j - 1) * correlation, 1e-12)
    sd = np.sqrt(1.0 - correlation * w)
    return (scores - w * earlier / np.maximum(j, 1)) / sd, (1.0 - w) / sd

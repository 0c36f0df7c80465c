"""How stable styles are: points and their mixture in, how well each group is found again in resampled points out.

Points are drawn again with repetition, by session; the mixture is refitted from where it was, and parts that overlap
are joined anew. A group that is found again is one that another sample of landings would show too (Hennig 2007,
Computational Statistics & Data Analysis 52:258-271; its thresholds are from memory).
"""

import warnings
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from sklearn.exceptions import ConvergenceWarning
from sklearn.mixture import GaussianMixture

from pipeline.recording import Floats
from pipeline.statistics.mixture import Mixture, assign, joined
from pipeline.statistics.standing import Ints

RESAMPLES = 50
STABLE, PATTERN = 0.75, 0.60

Stability = Literal["stable", "pattern", "not shown"]


def stability(points: Floats, mixture: Mixture, *, session: Ints, seed: int) -> Floats:
    """Mean overlap (Jaccard) of each group with the nearest one of a refit on resampled points: (groups,), 0 to 1.

    Parameters
    ----------
    points : (n, d) the points the mixture was fitted to, no NaN.
    session : (n,) session numbers 0, 1, ...; points of a session are drawn together.
    seed : of the resampling.
    """
    rng = np.random.default_rng(seed)
    mine = assign(points, mixture)[0].argmax(axis=1)
    rows = [np.flatnonzero(session == s) for s in np.unique(session)]
    found = np.zeros((RESAMPLES, mixture.groups))
    for b in range(RESAMPLES):
        drawn = np.concatenate([rows[i] for i in rng.integers(0, len(rows), len(rows))])
        again = assign(points[drawn], _refitted(points[drawn], mixture))[0].argmax(axis=1)
        found[b] = [_best_overlap(mine[drawn] == g, again) for g in range(mixture.groups)]
    return found.mean(axis=0)


def stability_word(overlap: float) -> Stability:
    """Stable from 0.75, a pattern from 0.60, below that not shown."""
    return "stable" if overlap >= STABLE else "pattern" if overlap >= PATTERN else "not shown"


def _refitted(points: Floats, mixture: Mixture) -> Mixture:
    """The same number of parts, refitted from where they were and joined anew where they overlap."""
    model = GaussianMixture(
        len(mixture.weights),
        weights_init=mixture.weights / mixture.weights.sum(),
        means_init=mixture.means,
        precisions_init=np.linalg.inv(mixture.covariances),
        reg_covar=1e-5,
        max_iter=15,
        random_state=0,
    )
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ConvergenceWarning)  # a refit need not be finished to be compared
        model.fit(points)
    return Mixture(model.weights_, model.means_, model.covariances_, joined(model.predict_proba(points)))


def _best_overlap(held: NDArray[np.bool_], again: Ints) -> float:
    """Largest Jaccard overlap of one group with any of the refit; 0 if nobody of it was drawn."""
    overlaps = [np.sum(held & (again == g)) / np.sum(held | (again == g)) for g in np.unique(again)]
    return float(max(overlaps)) if held.any() else 0.0

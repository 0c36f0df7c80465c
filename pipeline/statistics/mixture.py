"""How many groups points fall into: an array of points in, a mixture whose overlapping parts are joined out.

A Gaussian mixture is chosen by BIC (Schwarz 1978), then parts that cannot be told apart are joined by their directly
estimated misclassification probabilities (Hennig 2010, Advances in Data Analysis and Classification 4:3-34, from
memory): several Gaussians may describe one skewed or heavy-tailed group.
"""

import warnings
from dataclasses import dataclass

import numpy as np
from scipy.special import logsumexp
from scipy.stats import chi2
from sklearn.exceptions import ConvergenceWarning
from sklearn.mixture import GaussianMixture
from threadpoolctl import threadpool_limits

from pipeline.recording import Floats
from pipeline.statistics.standing import Ints

MOST_PARTS = 8
JOIN_ABOVE = 0.10
"""Parts are joined while one loses more than this share of its points to another."""

PATIENCE = 2
"""Numbers of parts without a better BIC after which no more are tried."""


@dataclass(frozen=True)
class Mixture:
    """K Gaussian parts in d dimensions, each belonging to a group.

    Parameters
    ----------
    weights : (K,), sum 1.
    means : (K, d).
    covariances : (K, d, d).
    group : (K,) group number of each part, 0, 1, ...
    """

    weights: Floats
    means: Floats
    covariances: Floats
    group: Ints

    @property
    def groups(self) -> int:
        """Number of groups."""
        return int(self.group.max()) + 1


def fit(points: Floats, *, seed: int, starts: int = 8) -> Mixture:
    """Fit mixtures of 1 to 8 parts, tied and full covariances, keep the best BIC and join overlapping parts.

    Parameters
    ----------
    points : (n, d) without NaN, n > d + 1, columns of about unit spread.
    seed : of the random starts; the same points and seed give the same mixture.
    starts : random starts of each fit.
    """
    best = min((_search(points, kind, seed, starts) for kind in ("full", "tied")), key=lambda model: model.bic(points))
    parts, d = best.means_.shape
    covariances = np.broadcast_to(best.covariances_, (parts, d, d))  # a tied covariance is every part's
    return Mixture(best.weights_, best.means_, covariances, joined(best.predict_proba(points)))


def _search(points: Floats, kind: str, seed: int, starts: int) -> GaussianMixture:
    """Best BIC of one kind of covariance, adding parts until that stops helping."""
    fitted: list[GaussianMixture] = []
    bic: list[float] = []
    for parts in range(1, max(1, min(MOST_PARTS, len(points) // (5 * points.shape[1]))) + 1):
        model = GaussianMixture(
            parts, covariance_type=kind, n_init=starts, random_state=seed, reg_covar=1e-5, tol=1e-4, max_iter=200
        )
        with warnings.catch_warnings(), threadpool_limits(1):  # threads of so small tasks wait for each other
            warnings.simplefilter("ignore", ConvergenceWarning)  # the best of several starts is kept as it is
            fitted.append(model.fit(points))
        bic.append(float(model.bic(points)))
        if len(bic) - 1 - int(np.argmin(bic)) >= PATIENCE:
            break
    return fitted[int(np.argmin(bic))]


def joined(posterior: Floats) -> Ints:
    """Join parts, the worst pair first, while one loses more than a tenth of its mass to another: (K,) groups."""
    group = np.arange(posterior.shape[1])
    while len(np.unique(group)) > 1:
        merged = np.column_stack([posterior[:, group == g].sum(axis=1) for g in np.unique(group)])
        given_to = np.eye(merged.shape[1])[merged.argmax(axis=1)]
        lost = merged.T @ given_to / merged.sum(axis=0)[:, None]
        np.fill_diagonal(lost, 0.0)
        if lost.max() <= JOIN_ABOVE:
            break
        loser, winner = np.unravel_index(lost.argmax(), lost.shape)
        names = np.unique(group)
        group = np.where(group == names[loser], names[winner], group)
    return np.unique(group, return_inverse=True)[1]


def assign(points: Floats, mixture: Mixture) -> tuple[Floats, Floats]:
    """How well points fit each group; a coordinate that is NaN is left out of its point's verdict.

    Returns
    -------
    posterior : (n, groups) probability of each group.
    fit : (n,) chance of a point of the nearest part at least so far from that part's centre.
    """
    posterior = np.empty((len(points), mixture.groups))
    nearest = np.empty(len(points))
    missing = np.isnan(points)
    for pattern in np.unique(missing, axis=0):
        rows, seen = (missing == pattern).all(axis=1), ~pattern
        posterior[rows], nearest[rows] = _assign_seen(points[np.ix_(rows, seen)], mixture, np.flatnonzero(seen))
    return posterior, nearest


def _assign_seen(points: Floats, mixture: Mixture, seen: Ints) -> tuple[Floats, Floats]:
    """`assign` for points (n, s) of which only the coordinates `seen` (s,) are known."""
    log_density = np.empty((len(points), len(mixture.weights)))
    distance = np.empty_like(log_density)
    for k, (weight, mean, covariance) in enumerate(
        zip(mixture.weights, mixture.means, mixture.covariances, strict=True)
    ):
        root = np.linalg.cholesky(covariance[np.ix_(seen, seen)])
        away = np.linalg.solve(root, (points - mean[seen]).T)
        distance[:, k] = np.sum(away**2, axis=0)
        log_density[:, k] = np.log(weight) - np.log(np.diag(root)).sum() - 0.5 * distance[:, k]
    share = np.exp(log_density - logsumexp(log_density, axis=1, keepdims=True))
    posterior = np.column_stack([share[:, mixture.group == g].sum(axis=1) for g in range(mixture.groups)])
    return posterior, chi2.sf(distance.min(axis=1), seen.size)

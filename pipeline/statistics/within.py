"""Differences within groups: outcome, columns and groups in, coefficients with cluster-robust intervals out.

Each group (a pilot in an aircraft type) has an offset of its own, so that no pilot is compared with another. Errors may
agree within a cluster; few clusters make an interval wider (Student's t; Cameron and Miller 2015, Journal of Human
Resources 50:317-372).
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import stdtrit

from pipeline.recording import Floats
from pipeline.statistics.standing import Ints

LEVEL = 0.95
"""One-sided: intervals are of 90 %."""


@dataclass(frozen=True)
class Coefficients:
    """Estimates of p columns: `estimate`, `error` (standard, cluster-robust) and half width `reach` of 90 %: (p,).

    `unique_f2` (p,): squared partial correlation of each column with the outcome over what is left, r^2 / (1 - r^2).
    """

    estimate: Floats
    error: Floats
    reach: Floats
    unique_f2: Floats


def demeaned(x: Floats, group: Ints) -> Floats:
    """Columns (n, p) less their means in each group (n,) of numbers 0, 1, ..."""
    count = np.bincount(group)
    means = [(np.bincount(group, column, minlength=count.size) / np.maximum(count, 1))[group] for column in x.T]
    return x - np.column_stack(means) if means else x


def independent(x: Floats, *, least: Floats) -> Ints:
    """Indices of columns (n, p), in order, with a sum of squares above `least` (p,) beyond those kept before them."""
    kept: list[int] = []
    basis = np.empty((len(x), 0))
    for j, column in enumerate(x.T):
        left = column - basis @ (basis.T @ column)
        left = left - basis @ (basis.T @ left)
        squares = float(left @ left)
        if squares > max(least[j], 1e-9 * float(column @ column)):
            kept.append(j)
            basis = np.column_stack([basis, left / np.sqrt(squares)])
    return np.array(kept, dtype=np.int64)


def differences(y: Floats, x: Floats, *, group: Ints, clusters: tuple[Ints, ...]) -> Coefficients:
    """Least squares of y (n,) on independent columns x (n, p) within groups.

    Parameters
    ----------
    clusters : several kinds of clusters, each (n,) numbers; the kind with the wider interval counts, column by column.
    """
    inner = demeaned(x, group)
    inverse = np.asarray(np.linalg.inv(inner.T @ inner), dtype=np.float64)
    goal = demeaned(y[:, None], group)[:, 0]
    estimate = inverse @ (inner.T @ goal)
    left = goal - inner @ estimate
    errors = np.array([_error(inner, left, inverse, cluster) for cluster in clusters])
    reach = errors * np.array([[_student(cluster)] for cluster in clusters])
    widest = np.argmax(reach, axis=0)
    own = np.arange(estimate.size)
    explained = estimate**2 / np.diag(inverse)
    f2 = explained / max(float(left @ left), 1e-12)
    return Coefficients(estimate, errors[widest, own], reach[widest, own], f2)


def _student(cluster: Ints) -> float:
    return float(stdtrit(max(np.unique(cluster).size - 1, 1), LEVEL))


def _error(x: Floats, left: Floats, inverse: Floats, cluster: Ints) -> Floats:
    """Standard errors (p,) from sums of scores by cluster, with the usual small-sample factor."""
    code = np.unique(cluster, return_inverse=True)[1]
    scores = np.column_stack([np.bincount(code, column * left) for column in x.T])
    clusters, (n, p) = len(scores), x.shape
    factor = clusters / max(clusters - 1, 1) * (n - 1) / max(n - p, 1)
    return np.sqrt(np.maximum(np.diag(inverse @ (scores.T @ scores) @ inverse), 0.0) * factor)

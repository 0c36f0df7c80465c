"""How long a control chart runs before it signals: chart constants and a true shift in, mean run length out.

Observations are independent N(mean, 1). The integral equation of the mean run length is solved at Gauss-Legendre
nodes (Crowder 1987, Technometrics 29:401-407, for the EWMA; Lucas & Crosier 1982, Technometrics 24:199-205, for
the head start of the CUSUM).
"""

import numpy as np
from scipy.optimize import brentq
from scipy.special import ndtr

from pipeline.recording import Floats

NODES = 60


def _density(x: Floats) -> Floats:
    return np.exp(-0.5 * x * x) / np.sqrt(2.0 * np.pi)


def _nodes(low: float, high: float, nodes: int) -> tuple[Floats, Floats]:
    """Gauss-Legendre nodes and weights, each (nodes,), on [low, high]."""
    x, w = np.polynomial.legendre.leggauss(nodes)
    half = 0.5 * (high - low)
    return low + half * (x + 1.0), half * w


def cusum_run_length(limit: float, *, k: float, mean: float = 0.0, start: float = 0.0, nodes: int = NODES) -> float:
    """Mean run length of the one-sided CUSUM C = max(0, C + x - k), which signals when C > limit.

    Parameters
    ----------
    limit : decision limit h, in standard deviations of x.
    k : slack taken off each observation, in standard deviations.
    mean : true mean of x.
    start : value of C before the first observation (the head start), 0 <= start <= limit.
    nodes : number of quadrature nodes.

    Returns
    -------
    Observations until the signal, the signalling one counted.
    """
    y, w = _nodes(0.0, limit, nodes)
    z = np.append(y, 0.0)  # the atom at zero is one more unknown
    kernel = np.empty((nodes + 1, nodes + 1))
    kernel[:, :-1] = w * _density(y[None, :] - z[:, None] + k - mean)
    kernel[:, -1] = ndtr(k - mean - z)
    length = np.linalg.solve(np.eye(nodes + 1) - kernel, np.ones(nodes + 1))
    if start == 0.0:
        return float(length[-1])
    row = np.append(w * _density(y - start + k - mean), ndtr(k - mean - start))
    return float(1.0 + row @ length)


def two_sided_cusum_run_length(limit: float, *, k: float, mean: float = 0.0, start: float = 0.0) -> float:
    """Mean run length of an upper and a lower CUSUM together, both with the same limit, slack and head start.

    The two one-sided lengths are combined as by Lucas & Crosier (1982). Parameters as in `cusum_run_length`.
    """
    up, down = (cusum_run_length(limit, k=k, mean=m) for m in (mean, -mean))
    up_start, down_start = (cusum_run_length(limit, k=k, mean=m, start=start) for m in (mean, -mean))
    return (up_start * down + up * down_start - up * down) / (up + down)


def cusum_limit(run_length: float, *, k: float) -> float:
    """Limit h at which the one-sided CUSUM of N(0, 1) observations has this mean run length (at least 5)."""
    high = 1.0
    while cusum_run_length(high, k=k) < run_length:
        high *= 1.5
    return float(brentq(lambda limit: cusum_run_length(limit, k=k) - run_length, 0.05, high, xtol=1e-8))


def ewma_run_length(limit: float, *, weight: float, mean: float = 0.0, nodes: int = NODES) -> float:
    """Mean run length of the two-sided EWMA Z = (1 - weight) Z + weight x from Z = 0, with constant limits.

    Parameters
    ----------
    limit : half width of the band in standard deviations of Z in the long run.
    weight : weight of the newest observation, 0 < weight <= 1.
    mean : true mean of x.
    nodes : number of quadrature nodes.
    """
    edge = limit * np.sqrt(weight / (2.0 - weight))
    y, w = _nodes(-edge, edge, nodes)
    z = np.append(y, 0.0)
    kernel = w * _density((y[None, :] - (1.0 - weight) * z[:, None]) / weight - mean) / weight
    length = np.linalg.solve(np.eye(nodes) - kernel[:-1], np.ones(nodes))
    return float(1.0 + kernel[-1] @ length)

"""The tail of a sample: values above a threshold in, a fitted generalised Pareto tail with its uncertainty out.

The excesses over a high threshold follow a generalised Pareto distribution nearly whatever the sample's own (Pickands
1975, Annals of Statistics 3:119-131); a normal tail would be too thin by decades where the sample is skewed.
"""

from dataclasses import dataclass

import numpy as np
from scipy.stats import genpareto

from pipeline.recording import Floats

LEAST_EXCESSES = 30
"""Fewer values above the threshold fit no tail: our own choice."""

LEAST_SHAPE = -0.45
"""Below -0.5 the likelihood gives no standard error (Smith 1985, Biometrika 72:67-90)."""


@dataclass(frozen=True)
class Tail:
    """P(X > x) = rate * (1 + shape (x - threshold) / scale)^(-1 / shape) above the threshold.

    Parameters
    ----------
    threshold : where the tail begins, in the sample's unit.
    rate : share of the sample above it.
    scale : > 0, in the sample's unit.
    shape : positive for a heavy tail, negative for one that ends.
    excesses : number of values above the threshold.
    log_likelihood : of the excesses.
    """

    threshold: float
    rate: float
    scale: float
    shape: float
    excesses: int
    log_likelihood: float


def fit_tail(values: Floats, *, threshold: float) -> Tail | None:
    """Fit the tail of `values` (n,) above `threshold` by maximum likelihood; None under 30 excesses."""
    excess = values[values > threshold] - threshold
    if excess.size < LEAST_EXCESSES:
        return None
    shape, _, scale = genpareto.fit(excess, floc=0.0)
    log_likelihood = float(genpareto.logpdf(excess, shape, 0.0, scale).sum())
    return Tail(threshold, excess.size / values.size, float(scale), float(shape), excess.size, log_likelihood)


def tail_covariance(tail: Tail) -> Floats:
    """Covariance of (scale, shape), (2, 2), by the expected information (Davison and Smith 1990, JRSS B 52:393-442)."""
    shape, scale = max(tail.shape, LEAST_SHAPE), tail.scale
    unit = np.array([[2.0 * scale**2, -scale], [-scale, 1.0 + shape]])
    return np.asarray((1.0 + shape) * unit / tail.excesses)


def drawn_tails(tail: Tail, *, draws: int, worth: float, rng: np.random.Generator) -> tuple[Floats, Floats]:
    """Draw scales and shapes, each (draws,), with the fit's uncertainty; the scale on its logarithm, so that it is > 0.

    `worth` is what one value of the sample is worth in independent ones, at most 1.
    """
    covariance = tail_covariance(tail) / worth
    covariance[0, :] /= tail.scale
    covariance[:, 0] /= tail.scale
    log_scale, shape = rng.multivariate_normal([np.log(tail.scale), tail.shape], covariance, size=draws).T
    return np.exp(log_scale), shape


def beyond_tail(z: Floats, tail: Tail, *, scale: Floats, shape: Floats) -> Floats:
    """P(X > z) for z above the threshold; `scale` and `shape` broadcast against `z`."""
    shape = np.where(np.abs(shape) < 1e-8, 1e-8, shape)
    inside = np.maximum(1.0 + shape * (z - tail.threshold) / scale, 0.0)
    with np.errstate(divide="ignore"):
        return np.asarray(tail.rate * inside ** (-1.0 / shape))


def return_level(tail: Tail, *, once_in: float) -> float:
    """Value exceeded once in so many values of the sample, at least 1 / rate (Coles 2001, section 4.3.3)."""
    times = once_in * tail.rate
    if abs(tail.shape) < 1e-8:
        return tail.threshold + tail.scale * float(np.log(times))
    return tail.threshold + tail.scale / tail.shape * (float(times) ** tail.shape - 1.0)

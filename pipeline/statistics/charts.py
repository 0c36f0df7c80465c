"""The recursions of the classical control charts: observations in, chart statistics out, same order, same length."""

from itertools import accumulate

import numpy as np

from pipeline.recording import Floats


def cusum(values: Floats, *, target: float, slack: float, start: float = 0.0) -> Floats:
    """Upper tabular CUSUM C_t = max(0, C_{t-1} + x_t - target - slack), (n,) in the unit of `values`.

    The lower one is the upper one of the values and target with their signs turned. No nulls or NaN in `values`.
    """
    steps = (np.asarray(values, dtype=float) - target - slack).tolist()
    return np.array(list(accumulate(steps, lambda c, step: max(0.0, c + step), initial=start))[1:], dtype=float)


def ewma(values: Floats, *, weight: float, start: float = 0.0) -> Floats:
    """Exponentially weighted mean Z_t = (1 - weight) Z_{t-1} + weight x_t, (n,) in the unit of `values`."""
    steps = np.asarray(values, dtype=float).tolist()
    return np.array(list(accumulate(steps, lambda z, x: z + weight * (x - z), initial=start))[1:], dtype=float)


def ewma_half_width(sd: float, *, weight: float, multiple: float) -> float:
    """Half width of the long-run EWMA band: `multiple` standard deviations of Z where x has standard deviation `sd`."""
    return multiple * sd * float(np.sqrt(weight / (2.0 - weight)))

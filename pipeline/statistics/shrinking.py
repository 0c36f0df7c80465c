"""Estimates of many alike shrunk to their common centre: estimates and their variances in, posterior out."""

import numpy as np

from pipeline.recording import Floats


def shrunk(estimate: Floats, variance: Floats, *, centre: float | None = None) -> tuple[Floats, Floats]:
    """Normal-normal posterior of (k,) estimates with sampling variances: means and standard deviations, (k,) each.

    The variance between them is found by the method of Paule and Mandel (1982, J. Res. NBS 87:377-385), by halving.
    `centre` is where they are shrunk to if it is known; else their weighted mean, whose doubt is carried. From five
    estimates on, so is that of how much is kept (Morris 1983, JASA 78:47-55, section 5; from memory).
    """
    low, high = 0.0, max(4.0 * float(np.mean((estimate - (centre or 0.0)) ** 2)), 1e-12)
    free = estimate.size - (centre is None)
    for _ in range(60):
        between = 0.5 * (low + high)
        weight = 1.0 / (variance + between)
        middle = float(weight @ estimate / weight.sum()) if centre is None else centre
        over = float(weight @ (estimate - middle) ** 2) > free
        low, high = (between, high) if over else (low, between)
    lost = variance / (between + variance)
    kept = 1.0 - (lost * (free - 2) / free if free >= 4 else lost)
    doubt = (1.0 - kept) ** 2 / weight.sum() if centre is None else 0.0
    of_kept = 2.0 / (free - 2) * lost**2 * (estimate - middle) ** 2 if free >= 4 else 0.0
    return middle + kept * (estimate - middle), np.sqrt(kept * variance + doubt + of_kept)

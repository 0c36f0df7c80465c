"""Names that do not jump: centres of the styles before and after a refit in, which new one is which old one out."""

import numpy as np
from scipy.optimize import linear_sum_assignment

from pipeline.recording import Floats
from pipeline.statistics.standing import Ints

FARTHEST = 1.5
"""Root mean square of spreads between the centres of one style before and after; further apart, it is another one."""


def carried_labels(before: Floats, after: Floats, *, used: int) -> Ints:
    """Label of each style after a refit: that of the old style it continues, or a new one.

    Parameters
    ----------
    before : (labels, d) centres of the old styles, row k that of label k; NaN for a label that is no longer in use.
    after : (styles, d) centres of the new ones, in spreads as `before`.
    used : labels given so far; a new style gets this one or the next.

    Returns
    -------
    (styles,) labels, each once. Old and new are matched so that the sum of distances is least (Kuhn 1955, Naval
    Research Logistics Quarterly 2:83-97).
    """
    label = np.full(len(after), -1, dtype=np.int64)
    live = np.flatnonzero(np.isfinite(before).all(axis=1))
    if live.size and len(after):
        apart = np.sqrt(np.mean((after[:, None, :] - before[None, live, :]) ** 2, axis=2))
        new, old = linear_sum_assignment(np.minimum(apart, FARTHEST))
        near = apart[new, old] < FARTHEST
        label[new[near]] = live[old[near]]
    fresh = label < 0
    label[fresh] = used + np.arange(int(fresh.sum()))
    return label

"""When two landings parted: two traces on one clock in, the first moment they surely differ out."""

import numpy as np

from pipeline.recording import Floats

SURE = 2.0
"""Standard uncertainties of the difference from which it is one."""

LASTS_S = 0.5
"""A difference must last as long: our own choice, longer than a bump of the air."""


def first_parting(t_s: Floats, one: Floats, other: Floats, *, u: float) -> float | None:
    """Time at which two traces first differ by more than the uncertainty, and go on doing so for half a second.

    Parameters
    ----------
    t_s : (n,) rising times on one clock, such as seconds from the threshold.
    one, other : (n,) the same channel of both landings, NaN where there is none.
    u : standard uncertainty of one trace, in its unit.

    Returns
    -------
    Time in seconds; None if they do not part.
    """
    apart = np.abs(one - other) > SURE * np.sqrt(2.0) * u  # false where NaN
    edges = np.flatnonzero(np.diff(np.r_[False, apart, False].astype(np.int8)))
    for begin, end in zip(edges[::2], edges[1::2], strict=True):
        if t_s[end - 1] - t_s[begin] >= LASTS_S:
            return float(t_s[begin])
    return None

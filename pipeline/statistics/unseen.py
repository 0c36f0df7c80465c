"""What a factor nobody measured would need to be, to explain a difference away: how far it reaches in, a share out."""

from math import sqrt


def unseen_needed(f2: float) -> float:
    """Share of what is left of both fault and outcome an unseen factor must explain to bring the difference to nothing.

    The robustness value of Cinelli and Hazlett 2020, JRSS B 82:39-67, equation 14 with q = 1.

    Parameters
    ----------
    f2 : partial r^2 / (1 - r^2) of fault and outcome, >= 0.

    Returns
    -------
    0 to 1.

    Examples
    --------
    >>> round(unseen_needed(0.0225), 3)
    0.139
    """
    return 0.5 * (sqrt(f2**2 + 4.0 * f2) - f2)


def unseen_needed_to_doubt(f2: float, *, estimate: float, reach: float) -> float:
    """The same, to bring the near end of the interval estimate -+ reach to nothing; 0 if it holds nothing."""
    near = max(abs(estimate) - reach, 0.0) / abs(estimate) if estimate else 0.0
    return unseen_needed(f2 * near**2)

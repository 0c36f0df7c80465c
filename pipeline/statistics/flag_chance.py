"""How likely a flag is real: what landed after it, and how many flags chance alone would give, in; a chance out.

The stretch before a flag was chosen because it is high, so it proves nothing more. The landings after it were not
chosen: they are held against no change and against a change of an unknown size. How common real changes are is learned
from the office's own history: flags found beyond those chance explains.
"""

import numpy as np
from scipy.special import ndtr
from scipy.stats import gamma

from pipeline.recording import Floats

LIKELY_SHIFT = 1.0
"""Half-normal prior of the size of a real change, in own spreads: most are smaller. Our own choice."""

JUDGED_LANDINGS = 60
"""So many landings after a flag are its evidence, whether it closed meanwhile or not: an end of the chart's choosing
would be chosen evidence again."""

PRIOR_SHAPE = 0.5
"""Of the gamma prior of the rate of real flags, whose mean is that of false ones: before any flag was seen, as many
real as false ones are expected, and little is known. Our own choice."""

UNLUCKY, UNLUCKY_YOUNG = 0.5, 75.0
"""A false flag is raised more often where the baseline came out low by chance. It then is low by (0.5 + 75 / N)
standard errors of a baseline worth N landings, as found in 635 false flags of 1.5 million unchanged landings: 2.3,
1.4, 0.7 and 0.8 for N under 60, 60 to 120, 120 to 240 and more."""

WIDER = 1.2
"""The variance of what follows a false flag, against that of independent landings; found likewise."""

_GRID = np.linspace(0.0005, 0.9995, 400)


def evidence(standing: Floats, worth: Floats, *, baseline_worth: float) -> float:
    """Logarithm of how much likelier the landings after a flag are if the change is real than if it is not.

    Parameters
    ----------
    standing : (m,) their standings, m >= 0.
    worth : (m,) what each is worth in independent landings.
    baseline_worth : the same of the baseline they are held against; its error is shared by all of them.
    """
    if not standing.size:
        return 0.0
    total = float(worth.sum())
    mean = float(np.sqrt(worth) @ standing) / total
    mean -= (UNLUCKY + UNLUCKY_YOUNG / baseline_worth) / float(np.sqrt(baseline_worth))
    v, prior = WIDER * (1.0 / total + 1.0 / baseline_worth), LIKELY_SHIFT**2
    upper = max(float(ndtr(mean * np.sqrt(prior / (v * (v + prior))))), 1e-300)
    return float(np.log(2.0 * upper) + 0.5 * np.log(v / (v + prior)) + 0.5 * mean**2 * prior / (v * (v + prior)))


def chance_real(log_evidence: Floats, *, expected_false: float) -> Floats:
    """Chance that each of k flags is real, (k,), given all of them and how many false ones were to be expected.

    Parameters
    ----------
    log_evidence : (k,) `evidence` of each flag.
    expected_false : false flags expected over all landings the flags were found in, > 0.
    """
    if not log_evidence.size:
        return np.empty(0)
    rate = gamma.ppf(_GRID, PRIOR_SHAPE, scale=expected_false / PRIOR_SHAPE)
    ratio = np.exp(np.clip(log_evidence, -50.0, 50.0))[:, None] * rate
    log_like = np.log(expected_false + ratio).sum(axis=0) - rate
    weight = np.exp(log_like - log_like.max())
    return np.asarray((ratio / (expected_false + ratio)) @ weight / weight.sum())

"""Each pilot's level and spread, shrunk to the cohort's: values by pilot in, posterior draws of both out.

Level and logarithm of the spread are normal over pilots; both are estimated by moments, and a session's landings count
for less than as many single ones because they agree with each other.
"""

from dataclasses import dataclass

import numpy as np

from pipeline.recording import Floats
from pipeline.statistics.shrinking import shrunk
from pipeline.statistics.standing import Ints, session_correlation


@dataclass(frozen=True)
class Levels:
    """Posterior of k pilots' levels and log spreads: means and standard deviations, (k,) each.

    `residual` (n,) are the values less their pilot's level in his spreads, `worth` (k,) the pilots' landings in
    independent ones. `agreement` is the correlation of the errors of a level and its log spread, which skewness brings.
    """

    level: Floats
    level_u: Floats
    log_spread: Floats
    log_spread_u: Floats
    residual: Floats
    worth: Floats
    agreement: float

    def drawn(self, *, draws: int, rng: np.random.Generator) -> tuple[Floats, Floats]:
        """Levels and spreads (draws, k) drawn from their posterior."""
        first, other = rng.standard_normal((2, draws, self.level.size))
        second = self.agreement * first + np.sqrt(1.0 - self.agreement**2) * other
        return self.level + self.level_u * first, np.exp(self.log_spread + self.log_spread_u * second)


def own_levels(values: Floats, pilot: Ints, session: Ints) -> Levels:
    """Estimate the pilots' levels and spreads.

    Parameters
    ----------
    values : (n,) values, larger further toward what is looked for.
    pilot : (n,) pilot numbers 0 ... k - 1, each with 3 values or more.
    session : (n,) session numbers.
    """
    n = np.bincount(pilot).astype(float)
    mean = np.bincount(pilot, values) / n
    spread = np.sqrt(np.bincount(pilot, (values - mean[pilot]) ** 2) / (n - 1.0))
    z = (values - mean[pilot]) / spread[pilot]
    worth = _worth(z, pilot, session)
    excess = max(float(np.mean(z**4)) / float(np.mean(z**2)) ** 2 - 1.0, 0.5)
    log_spread, log_spread_u = shrunk(np.log(spread) + 0.5 / n, excess / (4.0 * worth))
    own = np.exp(log_spread)
    level, level_u = shrunk(mean, own**2 / worth)
    residual = (values - level[pilot]) / own[pilot]
    agreement = float(np.clip(np.mean(z**3) / np.mean(z**2) ** 1.5 / np.sqrt(excess), -0.95, 0.95))
    return Levels(level, level_u, log_spread, log_spread_u, residual, worth, agreement)


def _worth(z: Floats, pilot: Ints, session: Ints) -> Floats:
    """Independent landings each pilot's are worth: sum over his sessions of m / (1 + (m - 1) correlation)."""
    code = np.unique(session, return_inverse=True)[1].astype(np.int64)
    correlation = session_correlation(z, code)
    size = np.bincount(code).astype(float)
    owner = np.zeros(size.size, dtype=np.int64)
    owner[code] = pilot
    worth = np.bincount(owner, size / (1.0 + (size - 1.0) * correlation), minlength=int(pilot.max()) + 1)
    return np.asarray(worth, dtype=np.float64)

"""How widely each pilot scatters: variances, what they are worth and the recorder's noise in, true spreads out.

The logarithm of the spread is normal over pilots; both its parameters are averaged over, weighed by how likely they
make the variances found. The recorder's noise stands inside the likelihood, because taking it off a variance can leave
less than nothing: freedom * variance / (spread^2 + noise^2) is chi-squared.
"""

from dataclasses import dataclass

import numpy as np

from pipeline.recording import Floats

OWN = np.linspace(-3.0, 3.0, 401)
"""A pilot's spread is looked for so far, as a logarithm, on both sides of the middle of the cohort."""

WIDTHS = np.geomspace(0.03, 1.0, 12)
LIKELY_WIDTH = 0.5
"""Half-normal prior of the width of log spreads over pilots: a factor of 1.6 is usual, one of 3 is not; our choice."""

MIDDLES = np.linspace(-5.0, 5.0, 41)
"""Middles of the cohort looked at, in standard errors of the first guess."""

MOST_KURTOSIS = 13.0
"""A larger one is a matter of one or two landings."""

DRAWS = 2000


@dataclass(frozen=True)
class Spreads:
    """Posterior of k pilots' spreads, (k,) each: median, ends of the 90 % interval, chance to be in the widest quarter.

    `middle` and `width` are the cohort's: median spread and standard deviation of its logarithm.
    """

    spread: Floats
    low: Floats
    high: Floats
    widest_quarter: Floats
    middle: float
    width: float


def true_spreads(variance: Floats, freedom: Floats, noise: Floats, *, seed: int = 0) -> Spreads:
    """Spreads with the recorder's noise taken out, shrunk to the cohort.

    Parameters
    ----------
    variance : (k,) sample variance of each pilot's residuals.
    freedom : (k,) what each is worth: n - 1 for independent normal ones; sessions and heavy tails make it less.
    noise : (k,) mean square uncertainty of his measures, in the unit of `variance`.
    """
    guess = 0.5 * np.log(np.maximum(variance - noise, 0.1 * variance))
    centre = float(np.median(guess))
    grid = centre + OWN
    total = np.exp(2.0 * grid) + noise[:, None]
    log_like = -0.5 * freedom[:, None] * (np.log(total / variance[:, None]) + variance[:, None] / total - 1.0)
    like = np.exp(log_like - log_like.max(axis=1, keepdims=True))
    middles = centre + MIDDLES * float(np.sqrt((LIKELY_WIDTH**2 + np.var(guess)) / guess.size))
    prior, middle, width = _cohort(grid, like, middles)
    cumulated = np.cumsum(prior * like, axis=1)
    cumulated /= cumulated[:, -1:]
    ends = np.array([np.exp(np.interp((0.05, 0.5, 0.95), c, grid)) for c in cumulated])
    return Spreads(ends[:, 1], ends[:, 0], ends[:, 2], _widest(grid, cumulated, seed), float(np.exp(middle)), width)


def freedom(worth: Floats, *, standardised: Floats) -> Floats:
    """Degrees of freedom (k,) of variances of values that are worth so many independent ones (k,).

    The sampling variance of a log spread is (kurtosis - 1) / 4 over the worth (Cramer 1946, Mathematical Methods of
    Statistics, section 27.7; from memory); a normal's kurtosis is 3 and gives `worth` - 1. One pilot's landings hardly
    tell a kurtosis, so it is that of all pilots' `standardised` values (n,) together.
    """
    kurtosis = float(np.mean(standardised**4)) / max(float(np.mean(standardised**2)) ** 2, 1e-300)
    return np.maximum(worth - 1.0, 1.0) * 2.0 / min(max(kurtosis - 1.0, 2.0), MOST_KURTOSIS - 1.0)


def _cohort(grid: Floats, like: Floats, middles: Floats) -> tuple[Floats, float, float]:
    """What the cohort says of each pilot's log spread, (k, g), and its middle and width.

    Averaged over middles and widths, each weighed by how likely it makes all pilots; a pilot's own part in that weight
    is taken out again, since his likelihood comes on top.
    """
    middle, width = (x.ravel() for x in np.meshgrid(middles, WIDTHS))
    density = np.exp(-0.5 * ((grid - middle[:, None]) / width[:, None]) ** 2)
    density /= density.sum(axis=1, keepdims=True)
    each = np.maximum(like @ density.T, 1e-300)
    log_chance = np.log(each).sum(axis=0) - 0.5 * (width / LIKELY_WIDTH) ** 2 + np.log(width)
    chance = np.exp(log_chance - log_chance.max())
    chance /= chance.sum()
    return (chance / each) @ density, float(chance @ middle), float(chance @ width)


def _widest(grid: Floats, cumulated: Floats, seed: int) -> Floats:
    """Chance of each pilot to be among the widest quarter, over draws of all pilots together."""
    rng = np.random.default_rng(seed)
    drawn = np.array([np.interp(rng.random(DRAWS), c, grid) for c in cumulated])
    return np.asarray((drawn >= np.quantile(drawn, 0.75, axis=0)).mean(axis=1))

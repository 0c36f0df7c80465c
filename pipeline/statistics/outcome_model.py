"""A model of an outcome by the state that led to it: states, outcomes and pilots in, what is foretold out."""

from dataclasses import dataclass

import numpy as np

from pipeline.recording import Floats
from pipeline.statistics.shrinking import shrunk
from pipeline.statistics.standing import Ints
from pipeline.statistics.within import demeaned, independent


@dataclass(frozen=True)
class OutcomeModel:
    """A linear model of the outcome and of its spread.

    Parameters
    ----------
    centre, width : (p,) mean and standard deviation of each column.
    coefficient : (p,) within pilots.
    offset, offset_u : (pilots,) usual value of each, the cohort's with the scatter of pilots for one never seen.
    spread : (p + 1,) log spread at the centre, and its change by a width of each column.
    """

    centre: Floats
    width: Floats
    coefficient: Floats
    offset: Floats
    offset_u: Floats
    spread: Floats


def fit_outcome(x: Floats, y: Floats, pilot: Ints, *, pilots: int) -> OutcomeModel:
    """Least squares within pilots, their offsets shrunk to the cohort's, and the spread by state."""
    kept = independent(demeaned(x, pilot), least=np.full(x.shape[1], 1e-6))
    coefficient = np.zeros(x.shape[1])
    inner = demeaned(x[:, kept], pilot)
    coefficient[kept] = np.linalg.lstsq(inner, demeaned(y[:, None], pilot)[:, 0], rcond=None)[0]
    centre = x.mean(axis=0)
    left = y - (x - centre) @ coefficient
    n = np.bincount(pilot, minlength=pilots).astype(float)
    known = n > 0
    mean = np.bincount(pilot, left, minlength=pilots)[known] / n[known]
    variance = float(np.sum((left - mean[np.cumsum(known)[pilot] - 1]) ** 2)) / max(y.size - known.sum(), 1)
    own, own_u = shrunk(mean, variance / n[known]) if known.sum() > 1 else (mean, np.sqrt(variance / n[known]))
    level, between = float(np.mean(own)), float(np.sqrt(np.var(own) + np.mean(own_u**2)))
    offset, offset_u = np.full(pilots, level), np.full(pilots, between)
    offset[known], offset_u[known] = own, own_u
    width = np.maximum(x.std(axis=0), 1e-9)
    spread = _spread(_scaled(x, centre, width), left - offset[pilot])
    return OutcomeModel(centre, width, coefficient, offset, offset_u, spread)


def _spread(scaled: Floats, left: Floats) -> Floats:
    """Log spread of residuals linear in the state, with a weak pull to none: (p + 1,), the level first."""
    design = np.column_stack([np.ones(len(scaled)), scaled])
    size = np.log(np.maximum(np.abs(left), 0.05 * float(np.std(left)) + 1e-9))
    pull = np.diag([0.0, *np.full(scaled.shape[1], 20.0)])
    return np.asarray(np.linalg.solve(design.T @ design + pull, design.T @ size))


def _scaled(x: Floats, centre: Floats, width: Floats) -> Floats:
    return np.clip((x - centre) / width, -3.0, 3.0)


def foretold(model: OutcomeModel, x: Floats, pilot: Ints) -> tuple[Floats, Floats, Floats]:
    """Middle, usual value and scale (n,) each; the scale carries what is not known of the pilot."""
    usual = model.offset[pilot]
    middle = usual + (x - model.centre) @ model.coefficient
    log_spread = np.column_stack([np.ones(len(x)), _scaled(x, model.centre, model.width)]) @ model.spread
    spread = np.exp(log_spread) * np.exp(0.635)  # mean log |z| of a normal is -0.635
    return middle, usual, np.hypot(spread, model.offset_u[pilot])

"""What is left of a measure after the conditions of the day: a landing frame in, residuals and the terms used out.

Only conditions the pilot did not cause are taken out: wind, gust, Vref or weight, runway, aircraft type, recorder, the
time of year and the weather all pilots of a day share.
Their effects are estimated within blocks of about 25 landings of one pilot, so that a pilot who drifts while the
season turns does not bend them.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.recording import Floats
from pipeline.statistics.condition_terms import Candidate, candidates, streams
from pipeline.statistics.eligible import eligible, measured
from pipeline.statistics.fronts import fronts
from pipeline.statistics.season import WAVES, season
from pipeline.statistics.standing import Ints

BLOCK_LANDINGS = 25
SESSIONS_A_TERM = 8
"""Wind is shared by a session, so sessions, not landings, pay for terms."""

HUBER = 1.345
"""Residuals beyond so many spreads are pulled in: 95 % efficiency on normal residuals (Huber 1981, from memory)."""

Toward = Literal["high", "low"]


@dataclass(frozen=True)
class Term:
    """One effect taken out: change of the measure per unit of the condition, or against the commonest level."""

    name: str
    coefficient: float
    coefficient_u: float


@dataclass(frozen=True)
class Adjusted:
    """Residuals of one measure.

    `frame`: landing_id, pilot, contact_at, session, stream, residual, residual_u, measure_u, partly_adjusted,
    beyond_range, in flying order.
    `residual` is in the measure's unit, about the level it would have had in average conditions, its sign turned where
    `toward` is "low", so that larger is always further toward what is looked for. `residual_u` adds to the measure's
    own uncertainty that of the effects and of conditions not known. `partly_adjusted` says some condition was not
    known, `beyond_range` that one lay where few landings tell its effect. `stream` names an
    aircraft type or recorder whose effect nothing supports: its landings are held against
    each other only ("" for all others).
    """

    frame: pl.DataFrame
    measure: str
    toward: Toward
    terms: tuple[Term, ...]
    blocks: int
    sessions: int

    @property
    def n(self) -> int:
        """Number of landings."""
        return self.frame.height


def residuals(landings: pl.DataFrame, *, measure: str, toward: Toward) -> Adjusted:
    """Take the conditions out of one measure.

    Parameters
    ----------
    landings : a landing frame; only baseline-eligible landings with the measure are used.
    measure : name of a numeric measure; `<measure>_u` is read beside it.
    toward : "high" if larger values are what is looked for, "low" if smaller (more negative) ones are.
    """
    kept = measured(eligible(landings), measure)
    block = _blocks(kept["pilot"])
    session = kept["session"].to_numpy().astype(np.int64)
    sessions = int(np.unique(session).size)
    chosen, alone = _supported(candidates(kept), block, most=sessions // SESSIONS_A_TERM)
    y = kept[measure].to_numpy().astype(float)
    beta, covariance = _effects(y, chosen, block, session)
    effect, effect_u = _predicted(chosen, beta, covariance, kept.height)
    shared, shared_u, waves = _calendar(y - effect, kept, block)
    own_u = kept[f"{measure}_u"].fill_null(0.0).to_numpy()
    sign = 1.0 if toward == "high" else -1.0
    frame = kept.select("landing_id", "pilot", "contact_at", "session").with_columns(
        pl.Series("stream", streams(kept.height, alone), dtype=pl.String),
        pl.Series("residual", sign * (y - effect - shared), dtype=pl.Float64),
        pl.Series("residual_u", np.sqrt(own_u**2 + effect_u**2 + shared_u**2), dtype=pl.Float64),
        pl.Series("measure_u", own_u, dtype=pl.Float64),
        pl.Series("partly_adjusted", _any(kept.height, [c.unknown for c in chosen]), dtype=pl.Boolean),
        pl.Series("beyond_range", _any(kept.height, [c.beyond for c in chosen]), dtype=pl.Boolean),
    )
    spread = np.sqrt(np.diag(covariance))
    terms = tuple(Term(c.name, float(b), float(u)) for c, b, u in zip(chosen, beta, spread, strict=True))
    return Adjusted(frame, measure, toward, (*terms, *waves), int(np.unique(block).size), sessions)


def _any(n: int, marks: list[NDArray[np.bool_]]) -> NDArray[np.bool_]:
    return np.any([np.zeros(n, dtype=bool), *marks], axis=0)


def _calendar(left: Floats, kept: pl.DataFrame, block: Ints) -> tuple[Floats, Floats, tuple[Term, ...]]:
    """What all pilots share of the year and of a day's weather (n,), its uncertainty (n,), the season's terms."""
    pilot, session = (kept[name].rank("dense").to_numpy().astype(np.int64) - 1 for name in ("pilot", "session"))
    days = kept["contact_at"].dt.epoch("s").cast(pl.Float64).fill_null(np.nan).to_numpy() / 86400.0
    year = season(left, days, pilot=pilot, block=block, session=session)
    swing, swing_u = year.effect(days)
    first = np.floor(np.nanmin(days, initial=np.inf))
    whole = np.where(np.isnan(days), -1.0, np.floor(days) - first).astype(np.int64)
    weather = fronts(left - swing, whole, pilot=pilot, block=block)
    spread = np.sqrt(np.diag(year.covariance))
    named = zip(WAVES, year.coefficient, spread, strict=True)
    terms = tuple(Term(name, float(c), float(u)) for name, c, u in named) if year.found else ()
    return swing + weather.effect, np.hypot(swing_u, weather.effect_u), terms


def _blocks(pilot: pl.Series) -> Ints:
    """Number of each landing's block: consecutive, nearly equal parts of about 25 landings of a pilot."""
    frame = pl.DataFrame({"pilot": pilot})
    parts = (pl.len() / BLOCK_LANDINGS).round().clip(1.0)
    within = (pl.int_range(pl.len()) * parts / pl.len()).floor().over("pilot").alias("part")
    return frame.select(pl.struct("pilot", within).rank("dense").cast(pl.Int64) - 1).to_series().to_numpy()


def _demeaned(x: Floats, block: Ints) -> Floats:
    """Columns (n, p) less their block means."""
    if not x.size:
        return x
    count = np.bincount(block)
    return x - np.column_stack([(np.bincount(block, column) / count)[block] for column in x.T])


def _supported(offered: list[Candidate], block: Ints, *, most: int) -> tuple[list[Candidate], list[Candidate]]:
    """Choose, in order, the candidates that vary enough within blocks once those before them are known.

    Returns
    -------
    The chosen, and those whose effect is neither estimated nor told by the chosen ones.
    """
    chosen: list[Candidate] = []
    alone: list[Candidate] = []
    basis = np.empty((block.size, 0))
    for candidate in offered:
        left = _demeaned(candidate.filled[:, None] / candidate.scale, block)[:, 0]
        if len(chosen) == most or float(left @ left) < candidate.needed:
            alone.append(candidate)
            continue
        left = left - basis @ (basis.T @ left)
        squares = float(left @ left)
        if squares >= candidate.needed:
            chosen.append(candidate)
            basis = np.column_stack([basis, left / np.sqrt(squares)])
    return chosen, alone


def _effects(y: Floats, chosen: list[Candidate], block: Ints, session: Ints) -> tuple[Floats, Floats]:
    """Huber estimate within blocks (by pseudo-values) and its session-robust covariance: (p,), (p, p)."""
    if not chosen:
        return np.empty(0), np.empty((0, 0))
    x = _demeaned(np.column_stack([c.filled for c in chosen]), block)
    inverse = np.linalg.inv(x.T @ x)
    goal, left = y.copy(), y
    beta = np.zeros(len(chosen))
    for _ in range(20):
        beta = inverse @ (x.T @ _demeaned(goal[:, None], block)[:, 0])
        level = goal - x @ beta
        fitted = x @ beta + (level - _demeaned(level[:, None], block)[:, 0])
        left = y - fitted
        scale = max(1.4826 * float(np.median(np.abs(left))), 1e-9)
        goal = fitted + np.clip(left, -HUBER * scale, HUBER * scale)
    pull = np.clip(left, -HUBER * scale, HUBER * scale)
    groups = np.unique(session, return_inverse=True)[1]
    scores = np.column_stack([np.bincount(groups, column * pull) for column in x.T])
    inside = float(np.mean(np.abs(left) <= HUBER * scale))
    spread = scores.T @ scores * (len(scores) / max(len(scores) - 1, 1)) / inside**2
    return beta, inverse @ spread @ inverse


def _predicted(chosen: list[Candidate], beta: Floats, covariance: Floats, n: int) -> tuple[Floats, Floats]:
    """Effect of each landing's conditions against average ones, and its uncertainty: (n,), (n,)."""
    if not chosen:
        return np.zeros(n), np.zeros(n)
    x = np.column_stack([c.filled for c in chosen])
    x = x - x.mean(axis=0)
    known = np.einsum("ni,ij,nj->n", x, covariance, x)
    unknown = np.column_stack([c.unknown for c in chosen]) @ (beta * [c.spread for c in chosen]) ** 2
    return x @ beta, np.sqrt(known + unknown)

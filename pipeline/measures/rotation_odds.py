"""How likely the rotation that breaks the approach descent begins at each instant, by pitch and by path.

Goes in: a window and wheel heights. Comes out: log odds of every onset, by both together and by the path alone.

What each channel wanders on the approach is the measure of what it does in the flare, so that a rotation in gusts must
be larger than one in still air to count.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.onset import GRID_S, ONSETS_S, Departure, log_odds
from pipeline.measures.wander import wander
from pipeline.measures.window import FINE, Window, slope, smooth

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_STEP = 1.0 / 16.0
_PLACES = np.searchsorted(FINE, GRID_S - 1e-6)
_CALM_S, _HEIGHT_CALM_S = 0.25, 1.0
_LEAST_HELD_S = -12.0
"""From here to contact a channel has no gap; what a log lacks before it is taken as level."""
# How pitch (deg) and vertical speed (ft/s) behave about their line and after leaving it, and how much the log odds of
# each count: found on one half of invented and of simulated landings, kept for the other.
PITCH = Departure(
    memory_s=5.7,
    noise=0.4,
    level=20.0,
    slope=0.05,
    delay_s=0.3,
    first_rate=0.73,
    first_s=1.3,
    later_rate=0.46,
    rate_spread=0.4,
    rate_memory_s=2.5,
)
PATH = Departure(
    memory_s=6.1,
    noise=0.13,
    level=10.0,
    slope=0.03,
    delay_s=0.4,
    first_rate=1.6,
    first_s=16.0,
    later_rate=0.16,
    rate_spread=1.1,
    rate_memory_s=10.0,
)
_PITCH_COUNTS, _PATH_COUNTS = 2.0, 0.8
_MOST_LOG_ODDS = 20.0
"""No channel speaks for one onset against another by more than about this: models are never that right."""
_PITCH_LAG_S, _PATH_LAG_S = 2.0, 3.0
_PITCH_SHARE, _PATH_SHARE = 1.4, 0.7
"""What the model takes for wander, as a share of that of the approach."""
_LEAST_PITCH_DEG, _LEAST_PATH_FPS = 0.28, 0.9
"""Wander in the stillest air."""
_USUAL_PITCH_DEG, _USUAL_PATH_FPS = 0.5, 1.5
_NO_CHANNEL_FPS = 1.5
"""Wander allowed to a vertical speed that is the slope of a height."""
_LOW_FT, _LOW_FOLD, _HIGH_FT, _HIGH_FOLD, _HIGHEST_FT = 8.0, 0.5, 60.0, 0.3, 110.0
"""An onset below or above these heights is the less likely the further (by ratio); above the last there is none."""


@dataclass(frozen=True)
class OnsetOdds:
    """Log odds (n, c) of each onset against none: `both` channels together, the `path` alone.

    `pitch_wander_deg` (n,); `shown` (n,): pitch is there to tell; `follows` (n,): the path is.
    """

    both: Floats
    path: Floats
    pitch_wander_deg: Floats
    shown: Bools
    follows: Bools


def onset_odds(w: Window, height: Floats) -> OnsetOdds:
    """Weigh every onset; `height` (n, m) of the wheels on the fine grid, NaN where unknown."""
    seen, shown = _held(smooth(np.where(FINE <= 0.0, w.fine("pitch_deg"), np.nan), _CALM_S, _STEP))
    spread = wander(w.coarse("pitch_deg"), lag_s=_PITCH_LAG_S, memory_s=PITCH.memory_s, usual=_USUAL_PITCH_DEG)
    spread = np.maximum(_PITCH_SHARE * spread, _LEAST_PITCH_DEG)
    by_path, follows = _path_odds(w, height)
    likely = _likely(height)
    both = _PITCH_COUNTS * _capped(log_odds(seen, spread, PITCH)) + _PATH_COUNTS * _capped(by_path) + likely
    return OnsetOdds(both, by_path + likely, spread, shown, follows)


def _held(x: Floats) -> tuple[Floats, Bools]:
    """Values at the times looked at (n, k) without gaps, and whether the log has them; what came before is held."""
    seen = x[:, _PLACES]
    there = np.isfinite(seen)
    whole = np.asarray(there[:, GRID_S >= _LEAST_HELD_S].all(axis=1), dtype=np.bool_)
    first = np.argmax(there, axis=1)
    level = seen[np.arange(len(seen)), first]
    return np.where(whole[:, None], np.where(there, seen, level[:, None]), 0.0), whole


def _path_odds(w: Window, height: Floats) -> tuple[Floats, Bools]:
    """Log odds (n, c) by vertical speed, or the slope of height where there is none, 0 where neither is there."""
    channel = ~w.lacks("vertical_speed_fpm") & ~w.slower_than("vertical_speed_fpm", 1.05)
    climb = smooth(w.fine("vertical_speed_fpm") / 60.0, _CALM_S, _STEP)
    speed = np.where(channel[:, None], climb, slope(smooth(height, _HEIGHT_CALM_S, _STEP), _STEP))
    reach = np.where(channel, np.minimum(w.interval_s("vertical_speed_fpm"), 1.0), 0.5 * _HEIGHT_CALM_S)
    speed, there = _held(_before_contact(speed, reach + _CALM_S))
    approach = w.coarse("vertical_speed_fpm") / 60.0
    spread = wander(approach, lag_s=_PATH_LAG_S, memory_s=PATH.memory_s, usual=_USUAL_PATH_FPS)
    odds = log_odds(speed, np.maximum(_PATH_SHARE * spread, np.where(channel, _LEAST_PATH_FPS, _NO_CHANNEL_FPS)), PATH)
    return np.where(there[:, None], odds, 0.0), there


def _before_contact(speed: Floats, reach_s: Floats) -> Floats:
    """Speed (n, m) whose last `reach_s` (n,) before contact, where what follows contact shows, stands still."""
    last = rows.at(speed, FINE, -reach_s)
    return np.where(-reach_s[:, None] < FINE, last[:, None], speed)


def _capped(odds: Floats) -> Floats:
    """Log odds less the largest, (n, c), that approach the most a channel may say against an onset."""
    short = odds.max(axis=1)[:, None] - odds
    return _MOST_LOG_ODDS * np.expm1(-short / _MOST_LOG_ODDS)


def _likely(height: Floats) -> Floats:
    """Log of how likely a flare begins at each onset's height (n, c), -inf where it cannot; 0 without a height."""
    at = np.maximum(height[:, np.searchsorted(FINE, ONSETS_S - 1e-6)], 0.5)
    low = np.minimum(np.log(at / _LOW_FT), 0.0) / _LOW_FOLD
    high = np.maximum(np.log(at / _HIGH_FT), 0.0) / _HIGH_FOLD
    return np.where(np.isfinite(at), np.where(at > _HIGHEST_FT, -np.inf, -0.5 * (low**2 + high**2)), 0.0)

"""Which channel tells how thrust is closed: the lever, else engine speed, else fuel flow, on a lever's scale.

Goes in: a window. Comes out: one course of thrust a landing, with how late it follows the hand.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.window import FINE, Window, between

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

LEVER = "thrust_lever_pct"
_FOLLOWERS: dict[str, tuple[float, float, float, float]] = {
    "engine_speed_pct": (0.4, 0.3, 1.2, 0.8),
    "fuel_flow_kg_h": (0.25, 0.25, 0.6, 0.5),
}
"""How late each begins to follow the lever and comes to rest after it, with the spread of both, s: our own choice,
because spool-down differs between engines by as much."""
_APPROACH, _NEAR = between(FINE, -24.0, -10.0), between(FINE, -8.0, 0.0)
_LEAST_FALL = 0.12
"""A follower whose value falls by less than this share between approach and contact does not show a closing."""


@dataclass(frozen=True)
class ThrustSource:
    """Per landing: `course` (n, m) on the fine grid, 0 idle, a lever's % or a follower's % of its fall; NaN where none.

    `interval_s` (n,) of its channel; `begins_late_s`, `rests_late_s` (n,) and their `_u_s`, 0 for the lever; `lever`
    (n,) where it is the lever.
    """

    course: Floats
    interval_s: Floats
    begins_late_s: Floats
    begins_late_u_s: Floats
    rests_late_s: Floats
    rests_late_u_s: Floats
    lever: Bools

    @property
    def lacking(self) -> Bools:
        """Where no channel of the log tells thrust, (n,)."""
        return ~np.isfinite(self.interval_s)


def thrust_source(w: Window) -> ThrustSource:
    """The lever where the log has one, else the first follower it has."""
    course, interval = w.fine(LEVER), w.interval_s(LEVER)
    late = np.zeros((4, w.n))
    for channel, lags in _FOLLOWERS.items():
        takes = ~np.isfinite(interval) & ~w.lacks(channel)
        if takes.any():
            course = np.where(takes[:, None], _scaled(w.fine(channel)), course)
            interval = np.where(takes, w.interval_s(channel), interval)
            late = np.where(takes, np.array(lags)[:, None], late)
    return ThrustSource(course, interval, late[0], late[1], late[2], late[3], ~w.lacks(LEVER))


def _scaled(course: Floats) -> Floats:
    """A follower's value as % of its fall from the approach to its least near contact; NaN after contact."""
    high, low = rows.median(course[:, _APPROACH]), rows.smallest(course[:, _NEAR])
    with np.errstate(invalid="ignore", divide="ignore"):
        falls = (high - low) / high > _LEAST_FALL
        share = 100.0 * (course - low[:, None]) / (high - low)[:, None]
    return np.where(falls[:, None] & (FINE <= 0.5), share, np.nan)

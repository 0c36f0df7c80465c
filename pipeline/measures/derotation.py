"""When the nose wheel comes down after the main wheels, and how fast.

Goes in: a window. Comes out: the answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import SWITCH_LAG_S, SWITCH_LAG_U_S
from pipeline.measures.window import FINE, ROLL, Window, between, slope, smooth

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_SWITCH, _PITCH = "nose_on_ground", "pitch_deg"
_SEARCH = between(FINE, -2.0, 8.0)
_TAU = FINE[_SEARCH]
_STEP = FINE[1] - FINE[0]
_HALVED_S, _HALVED_U_S = 0.15, 0.1
"""The nose strut halves the rate at which the nose falls so long after the wheel touches (our own choice)."""
_LEAST_RATE_DPS = 0.6
_SETTLES_S, _SETTLED_DEG = 1.5, 0.8
"""Without a switch, a nose that moves on by more than this after it stopped has not told when the wheel touched."""
_LATER_S, _LATER_DEG = 20.0, 1.5
"""A nose that comes down by more than this within 20 s of contact was still up: our own choice."""
_AGREES = 2.5
_SLOW_SWITCH_S, _SLOW_PITCH_S, _RATE_SLOW_S = 1.05, 0.3, 0.26


def derotation(w: Window) -> dict[str, Answer]:
    """Time from main-wheel to nose-wheel contact, and pitch rate before the nose wheel touches.

    The nose wheel's own switch says roughly when, to its sample interval; the pitch rate, which the strut takes away,
    says it more finely. Null `no_channel` without either, `too_slow` where both are sampled too slowly, `out_of_range`
    where there is no switch and the nose does not fall and stay, `implausible` where the switch said ground already 2 s
    before first contact, `not_reached` where the nose wheel does not come down.
    """
    switched, switched_u = _by_switch(w)
    stopped, stopped_u, clear = _by_pitch(w, switched)
    when, u = _weighed(switched, switched_u, stopped, stopped_u)
    stuck = ~w.lacks(_SWITCH) & (w.fine(_SWITCH)[:, _SEARCH][:, 0] > 0.5)
    slow = (w.interval_s(_SWITCH) > _SLOW_SWITCH_S) & (w.interval_s(_PITCH) > _SLOW_PITCH_S)
    unclear = w.lacks(_SWITCH) & ~clear
    missing = (
        *w.lacking(w.lacks(_SWITCH) & w.lacks(_PITCH), _SWITCH, _PITCH),
        *w.no_contact,
        (slow, "too_slow"),
        (stuck, "implausible"),
        (unclear, "out_of_range"),
        (~np.isfinite(when), "not_reached"),
    )
    rate = (*w.without(_PITCH), *missing, (w.slower_than(_PITCH, _RATE_SLOW_S), "too_slow"))
    return {
        "nose_lag_s": answer(when, np.hypot(u, w.contact_u_s), missing=missing),
        "nose_rate_dps": answer(*_rate(w, when, u), missing=rate),
    }


def _by_switch(w: Window) -> tuple[Floats, Floats]:
    """First closing of the switch from 2 s before contact, at the middle of the interval that holds it."""
    interval = np.minimum(w.interval_s(_SWITCH), 2.0)
    early = rows.first_up_crossing(w.fine(_SWITCH)[:, _SEARCH], _TAU, 0.5)
    late = rows.first_up_crossing(w.roll(_SWITCH), ROLL, 0.5, _TAU[-1])
    closed = np.where(interval <= _SLOW_SWITCH_S, np.where(np.isfinite(early), early, late), np.nan)
    u = np.hypot(np.maximum(interval, _STEP) / np.sqrt(12.0), SWITCH_LAG_U_S)
    return closed - 0.5 * interval - SWITCH_LAG_S, u


def _by_pitch(w: Window, switched: Floats) -> tuple[Floats, Floats, Bools]:
    """Where the fall of the nose is stopped: when, its uncertainty, and whether that is beyond doubt without a switch.

    The fall is the quickest nose-down rotation near the switch's closing, or where there is none after contact.
    """
    pitch = smooth(w.fine(_PITCH)[:, _SEARCH], 0.25, _STEP)
    rate = slope(pitch, _STEP)
    near = np.where(np.isfinite(switched), switched, 3.75)[:, None]
    reach = np.where(np.isfinite(switched), 0.8 + np.minimum(w.interval_s(_SWITCH), 2.0), 3.75)[:, None]
    falling = np.where((np.abs(_TAU - near) <= reach) & np.isfinite(rate), rate, np.inf)
    fastest = falling.argmin(axis=1)
    least = rate[np.arange(w.n), fastest]
    after = np.where(_TAU[fastest][:, None] <= _TAU, rate, -np.inf)
    halved = rows.first_up_crossing(after, _TAU, 0.5 * least)
    quick = (least < -_LEAST_RATE_DPS) & (w.interval_s(_PITCH) <= _SLOW_PITCH_S)
    late_u = 0.3 * np.minimum(w.interval_s(_PITCH), 9.0)
    u = np.sqrt(_HALVED_U_S**2 + late_u**2 + (w.noise(_PITCH) / np.maximum(-least, 0.3)) ** 2)
    clear = quick & _stays(pitch, halved + 2.0 * _HALVED_S) & ~_falls_later(w, halved + 2.0 * _HALVED_S)
    found = np.where(quick & (clear | np.isfinite(switched)), halved - _HALVED_S, np.nan)
    return found, u, clear


def _stays(pitch: Floats, since: Floats) -> Bools:
    """Whether pitch keeps its level from `since` (n,) on, by its largest and smallest values."""
    inside = (since[:, None] <= _TAU) & (since[:, None] + _SETTLES_S >= _TAU)
    kept = np.where(inside, pitch, np.nan)
    return (rows.largest(kept) - rows.smallest(kept) < _SETTLED_DEG) & (since + 0.5 * _SETTLES_S < _TAU[-1])


def _falls_later(w: Window, since: Floats) -> Bools:
    """Whether the nose comes down far after `since` (n,), beyond the fine grid too."""
    pitch = smooth(w.roll(_PITCH), 0.5, ROLL[1] - ROLL[0])
    later = (since[:, None] <= ROLL) & (ROLL <= _LATER_S)
    with np.errstate(invalid="ignore"):
        return np.asarray(rows.at(pitch, ROLL, since) - rows.smallest(np.where(later, pitch, np.nan)) > _LATER_DEG)


def _weighed(first: Floats, first_u: Floats, second: Floats, second_u: Floats) -> tuple[Floats, Floats]:
    """Mean of two times weighed by their variances where they agree; the first where they do not, or is alone."""
    both = np.abs(first - second) < _AGREES * np.hypot(first_u, second_u)
    share = first_u**-2 / (first_u**-2 + second_u**-2)
    share = np.where(both, share, np.where(np.isfinite(first), 1.0, 0.0))
    when = np.where(share >= 1.0, first, np.where(share <= 0.0, second, share * first + (1.0 - share) * second))
    u = np.where(both, np.hypot(share * first_u, (1.0 - share) * second_u), first_u)
    return when, np.where(np.isfinite(first), u, second_u)


def _rate(w: Window, when: Floats, when_u: Floats) -> tuple[Floats, Floats]:
    """Pitch rate from 0.6 to 0.1 s before the nose wheel's contact, deg/s."""
    pitch = smooth(w.fine(_PITCH), 0.25, _STEP)
    ends = [rows.at(pitch, FINE, when - back) for back in (0.1, 0.6, 1.1)]
    value, earlier = (ends[0] - ends[1]) / 0.5, (ends[1] - ends[2]) / 0.5
    bend = np.abs(np.nan_to_num(value - earlier)) / 0.5
    return value, np.sqrt((w.noise(_PITCH) * 2.0) ** 2 + (bend * (when_u + 0.1)) ** 2 + 0.1**2)

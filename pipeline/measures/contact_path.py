"""Height of the main wheels over the runway from radio height, with its zero, delay and antenna arm from the contact.

Goes in: a window anchored at the contacts, and their fit. Comes out: heights on both grids, and the speed at contact.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pipeline.measures.contact_fit import PATH, ContactFit
from pipeline.measures.contact_samples import rising_ground
from pipeline.measures.track import Track
from pipeline.measures.window import COARSE, FINE, G_FPS2, Window, smooth

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_UNTIED_U = 2.0
"""Uncertainty of a radio height that no contact ties to zero, ft."""
_PATH_U_FT = 0.4
_TERRAIN_FT = (70.0, 110.0)
"""Heights between which the path carried back gives way to radio height: our own choice."""
_BEFORE_RUNWAY_FT, _USUAL_THRESHOLD_FT = -100.0, 45.0
_SET_RIGHT_S = 1.5
_FINE_S, _COARSE_S = FINE[1] - FINE[0], COARSE[1] - COARSE[0]
_CONTACT = int(np.searchsorted(FINE, 0.0)), int(np.searchsorted(COARSE, 0.0))


@dataclass(frozen=True)
class ContactPath:
    """`speed_fps`, `speed_u_fps` (n,): vertical speed over the runway the instant before contact, NaN where not told.

    `height_fine` (n, m), `height_coarse` (n, k): main wheels above the runway, ft; `height_u_ft` (n,): its standard
    uncertainty apart from sampling noise. NaN without radio height.
    """

    speed_fps: Floats
    speed_u_fps: Floats
    height_fine: Floats
    height_coarse: Floats
    height_u_ft: Floats


def contact_path(w: Window, fit: ContactFit, track: Track) -> ContactPath:
    """Wheel heights; a radio height without a fitted contact is taken as calibrated, with a large uncertainty."""
    radio, told = ~w.lacks("radio_height_ft"), np.isfinite(fit.zero_ft)
    zero_u = np.where(radio, np.where(told, fit.zero_u_ft, _UNTIED_U), np.nan)
    seen = _wheels(w.fine("radio_height_ft"), w.fine("pitch_deg"), fit, _FINE_S, _CONTACT[0])
    fine = _joined(seen, _carried_back(w, fit), over=_over_runway(track, seen))
    coarse = _wheels(w.coarse("radio_height_ft"), w.coarse("pitch_deg"), fit, _COARSE_S, _CONTACT[1])
    return ContactPath(fit.speed_fps, fit.speed_u_fps, fine, coarse, np.hypot(zero_u, _PATH_U_FT))


def _wheels(radio: Floats, pitch: Floats, fit: ContactFit, step_s: float, contact: int) -> Floats:
    """Radio height less its zero and its antenna's rise with the attitude, moved back by its delay, (n, ...)."""
    rate = np.gradient(smooth(radio, 1.0, step_s), step_s, axis=1)
    attitude = np.nan_to_num(np.radians(smooth(pitch, 0.5, step_s)))
    lifted = attitude - attitude[:, [contact]]
    delay_s, arm_ft = fit.installed.radio_delay_s[:, 0], fit.installed.radio_arm_ft[:, 0]
    zero, delay, arm = (np.nan_to_num(x)[:, None] for x in (fit.zero_ft, delay_s, arm_ft))
    return radio + delay * np.where(np.isfinite(rate), rate, 0.0) - zero - arm * lifted


def _carried_back(w: Window, fit: ContactFit) -> Floats:
    """The fitted path, and before it what vertical speed makes of it, (n, m) ft; NaN after contact or without them."""
    felt = (w.fine("normal_accel_g") - 1.0) * G_FPS2
    climb = w.fine("vertical_speed_fpm") / 60.0 - rising_ground(w) - fit.vs_bias_fps[:, None]
    climb = climb + fit.installed.vertical_speed_lag_s[:, :1] * smooth(felt, 0.5, _FINE_S)
    first = PATH.start
    earlier = 0.5 * (climb[:, 1 : first + 1] + climb[:, :first]) * _FINE_S
    back = fit.path_ft[:, :1] - np.cumsum(earlier[:, ::-1], axis=1)[:, ::-1]
    return np.concatenate([back, fit.path_ft, np.full((w.n, len(FINE) - PATH.stop), np.nan)], axis=1)


def _over_runway(track: Track, radio: Floats) -> Bools:
    """Where what radio height sees is the runway, (n, m): by position, else below the height of a usual threshold."""
    place = (FINE - COARSE[0]) / _COARSE_S
    left = place.astype(np.int64)
    x = track.x_ft[:, left] * (1.0 - place + left) + track.x_ft[:, left + 1] * (place - left)
    return np.where(np.isfinite(x), x > _BEFORE_RUNWAY_FT, radio < _USUAL_THRESHOLD_FT)


def _joined(radio: Floats, path: Floats, *, over: Bools) -> Floats:
    """The path, set right by radio height where that sees the runway, and radio height alone high up, (n, m).

    Before the threshold radio height follows the ground, which is not the runway's plane; there the last correction
    stands. In the last seconds the fit has weighed radio height already.
    """
    early = np.arange(len(FINE)) < PATH.start
    apart = smooth(np.where(over & early, radio - path, np.nan), _SET_RIGHT_S, _FINE_S)
    known = np.isfinite(apart)
    first = np.argmax(known, axis=1)
    held = np.where(known.any(axis=1), apart[np.arange(len(apart)), first], 0.0)[:, None]
    path = path + np.where(early, np.where(known, apart, held), 0.0)
    share = np.clip((_TERRAIN_FT[1] - path) / (_TERRAIN_FT[1] - _TERRAIN_FT[0]), 0.0, 1.0)
    return np.where(np.isfinite(path) & np.isfinite(radio), share * path + (1.0 - share) * radio, radio)

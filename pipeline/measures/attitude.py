"""How the aircraft stood to the wind and to the runway at contact: crab, drift, bank into wind, clearance of the tail.

Goes in: a window, wheel heights, the track and the answers at contact. Comes out: further answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from pipeline import rows
from pipeline.measures.air import SLOPE_PCT
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS
from pipeline.measures.drift import Drift
from pipeline.measures.window import FINE, KT_FPS, Window, between, slope, smooth

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_LAST = between(FINE, -0.25, 0.0)
_TURNING = between(FINE, -0.75, 0.0)
_STEP = FINE[1] - FINE[0]
_TAIL_DEG = 0.3
"""Uncertainty of the type's own geometry (strut extension and rigging: our own choice)."""
_FLAP = "flap_deg"


def attitude(w: Window, sideways: Drift, *, before: dict[str, Answer]) -> dict[str, Answer]:
    """Crab, drift, bank into wind, the main wheel that touches first and its vertical speed, tail clearance, flap.

    `before` holds pitch, roll and vertical speed at contact and the crosswind. Null `not_reached` or `untimed` without
    a timed contact, `no_channel` without the channels, `no_reference` without runway slope or the type's geometry;
    what is told by the wind is `not_reached` where no crosswind stands out from its uncertainty.
    """
    roll, pitch = before["roll_at_contact_deg"], before["pitch_at_contact_deg"]
    windward = np.sign(before["crosswind_kt"].number)
    still = np.abs(before["crosswind_kt"].number) < before["crosswind_kt"].quality
    wind = (*roll.missing, *before["crosswind_kt"].missing, (still, "not_reached"))
    tail = w.reference.tail_pitch_deg
    unknown = (*pitch.missing, (~np.isfinite(tail), "no_reference"))
    return {
        "crab_at_contact_deg": _crab(w, sideways),
        "lateral_drift_kt": answer(sideways.drift_kt, sideways.drift_u_kt, missing=sideways.missing),
        "roll_into_wind_at_contact_deg": answer(roll.number * windward, roll.quality, missing=wind),
        **_first_main(roll, windward * np.sign(roll.number), wind),
        **_vertical_speeds(w, before["vertical_speed_at_contact_fpm"], roll),
        "tail_clearance_deg": answer(tail - pitch.number, np.hypot(pitch.quality, _TAIL_DEG), missing=unknown),
        "flap_at_contact_deg": _flap(w),
    }


def _crab(w: Window, sideways: Drift) -> Answer:
    """Heading minus track, the track being the runway's heading and the drift across it, else the recorded one."""
    heading = w.fine("heading_true_deg")
    value = wrapped(rows.mean(heading[:, _LAST]) - sideways.track_deg)
    turning = np.abs(np.nan_to_num(rows.mean(slope(heading[:, _TURNING], _STEP))))
    late = turning * np.hypot(w.contact_u_s, 0.3 * np.minimum(w.interval_s("heading_true_deg"), 2.0))
    noise = w.noise("heading_true_deg")
    u = np.sqrt(BIAS["heading_true_deg"] ** 2 + noise**2 + late**2 + sideways.track_u_deg**2)
    missing = (*w.without("heading_true_deg"), *sideways.missing)
    return answer(value, u, missing=missing)


def wrapped(angle_deg: Floats) -> Floats:
    """Angle brought into [-180, 180).

    >>> wrapped(np.array([359.0, -181.0, 4.0])).tolist()
    [-1.0, 179.0, 4.0]
    """
    return (angle_deg + 180.0) % 360.0 - 180.0


def _first_main(roll: Answer, upwind: Floats, wind: tuple[tuple[Bools, str], ...]) -> dict[str, Answer]:
    """The lower wheel touches first; how sure that is, is the chance that the bank has its sign."""
    sure = ndtr(np.abs(np.nan_to_num(roll.number)) / roll.quality)
    side = np.where(roll.number > 0.0, "right", "left").astype(object)
    lee = np.where(upwind > 0.0, "upwind", "downwind").astype(object)
    return {
        "first_main": answer(side, sure, missing=roll.missing),
        "first_main_wind": answer(lee, sure, missing=wind),
    }


def _vertical_speeds(w: Window, closure: Answer, roll: Answer) -> dict[str, Answer]:
    """Vertical speed at contact relative to the earth, and of the main wheel that touches first.

    The runway rises under the aircraft at slope times ground speed. A wheel to the side of the middle moves down with
    half the wheel track times the roll rate towards it.
    """
    fpm = rows.mean(w.fine("ground_speed_kt")[:, _LAST]) * KT_FPS * 60.0
    slope_pct, track_ft = w.reference.slope_pct, w.reference.wheel_track_ft
    earth = closure.number + slope_pct / 100.0 * fpm
    level = ((~np.isfinite(slope_pct), "no_reference"), *w.without("ground_speed_kt"))
    rate = rows.mean(slope(smooth(w.fine("roll_deg"), 0.3, _STEP)[:, _TURNING], _STEP))
    arm = 0.5 * track_ft * np.radians(60.0)
    rate_u = np.hypot(w.noise("roll_deg") / 0.5, 0.5 * np.minimum(w.interval_s("roll_deg"), 2.0) * np.abs(rate))
    touching = closure.number - arm * rate * np.sign(roll.number)
    untold = ((~np.isfinite(track_ft), "no_reference"), (w.slower_than("roll_deg", 0.55), "too_slow"))
    return {
        "earth_vertical_speed_at_contact_fpm": answer(
            earth, np.hypot(closure.quality, SLOPE_PCT / 100.0 * fpm), missing=(*closure.missing, *level)
        ),
        "touching_wheel_vertical_speed_fpm": answer(
            touching, np.hypot(closure.quality, arm * rate_u), missing=(*closure.missing, *roll.missing, *untold)
        ),
    }


def _flap(w: Window) -> Answer:
    value = rows.median(w.fine(_FLAP)[:, between(FINE, -4.0, 0.0)])
    u = np.hypot(BIAS[_FLAP], w.resolution(_FLAP) / np.sqrt(12.0))
    return answer(value, u, missing=(*w.without(_FLAP), *w.no_contact))

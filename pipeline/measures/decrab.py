"""Where the nose leaves the crab of the approach and comes round to the runway.

Goes in: a window and wheel heights. Comes out: the answer by measure name.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.attitude import wrapped
from pipeline.measures.biases import HEIGHT_LAG_U_S
from pipeline.measures.contact_path import ContactPath
from pipeline.measures.window import FINE, Window, between, smooth

Floats = NDArray[np.float64]

_FLIGHT = between(FINE, -20.0, 0.0)
_TAU = FINE[_FLIGHT]
_HELD = between(_TAU, -20.0, -8.0)
_LAST = between(_TAU, -0.25, 0.0)
_STEP = FINE[1] - FINE[0]
_LEAST_CRAB_DEG = 2.0
"""An approach with less crab than this has none to take off (our own choice)."""
_TAKEN_DEG = 1.0
_HELD_DEG = 0.2
"""Uncertainty of the crab held, from gusts (our own choice)."""
_SLOW_S = 1.05


def decrab(w: Window, path: ContactPath) -> dict[str, Answer]:
    """Height where the nose has come 1 deg from the crab held 20 to 8 s before contact towards the runway, for good.

    Null `no_channel` without heading or radio height, `no_reference` without the runway's heading and a recorded track,
    `too_slow` below one sample a second, `not_reached` where less than 2 deg of crab was held, or it was kept.
    """
    runway = np.where(
        np.isfinite(w.reference.runway_heading_deg),
        w.reference.runway_heading_deg,
        rows.median(w.fine("track_true_deg")[:, _FLIGHT][:, _HELD]),
    )
    crab = smooth(wrapped(w.fine("heading_true_deg")[:, _FLIGHT] - runway[:, None]), 0.4, _STEP)
    held = rows.median(crab[:, _HELD])
    size = np.abs(held)
    crab = crab * np.sign(held)[:, None]
    left = rows.last_down_crossing(crab, _TAU, size - _TAKEN_DEG, before=np.zeros(w.n))
    kept = ~(rows.mean(crab[:, _LAST]) < size - _TAKEN_DEG)
    held_u = np.hypot(_HELD_DEG, 0.5 * np.nan_to_num(rows.deviation(crab[:, _HELD])))
    value = rows.at(path.height_fine, FINE, left)
    missing = (
        *w.without("heading_true_deg", "radio_height_ft"),
        *w.no_contact,
        (~np.isfinite(runway), "no_reference"),
        (w.slower_than("heading_true_deg", _SLOW_S) | w.slower_than("radio_height_ft", _SLOW_S), "too_slow"),
        ((size < _LEAST_CRAB_DEG) | kept, "not_reached"),
    )
    return {"decrab_height_ft": answer(value, _height_u(w, path, crab, left, held_u), missing=missing)}


def _height_u(w: Window, path: ContactPath, crab: Floats, left: Floats, held_u: Floats) -> Floats:
    before, after = np.maximum(left - 0.75, _TAU[0]), np.minimum(left + 0.75, _TAU[-1])
    turned = rows.at(crab, _TAU, before) - rows.at(crab, _TAU, after)
    rate = np.nan_to_num(turned / np.maximum(after - before, _STEP))
    noise = np.hypot(w.noise("heading_true_deg") / 2.0, w.resolution("heading_true_deg") / np.sqrt(12.0))
    late = np.hypot(np.hypot(noise, held_u) / np.maximum(rate, 0.3), 0.3 * w.interval_s("heading_true_deg"))
    higher, lower = rows.at(path.height_fine, FINE, left - 0.5), rows.at(path.height_fine, FINE, left + 0.5)
    sink = np.abs(np.nan_to_num(higher - lower, nan=8.0))
    return np.sqrt(
        path.height_u_ft**2 + w.noise("radio_height_ft") ** 2 / 2.0 + sink**2 * (late**2 + HEIGHT_LAG_U_S**2)
    )

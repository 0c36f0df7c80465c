"""The place of touchdown on the runway.

Goes in: a window, the track, the threshold's answers and the zone's limits. Comes out: the answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from pipeline.measures.answers import Answer, answer
from pipeline.measures.track import Track
from pipeline.measures.window import Window
from pipeline.policy import Limits

Floats = NDArray[np.float64]


def touchdown(w: Window, track: Track, *, limits: Limits, before: dict[str, Answer]) -> dict[str, Answer]:
    """Distance, lateral offset, share of the runway, touchdown zone, speed lost since the threshold.

    Null `no_channel` without position, `not_reached` or `untimed` without a timed contact, `no_reference` without the
    runway (or its length or aim point). `before` holds the airspeed at threshold and at contact.
    """
    base = (
        *w.without("latitude_deg", "longitude_deg"),
        *w.no_contact,
        (~np.isfinite(w.reference.threshold_lat), "no_reference"),
    )
    x, y, length, aim = track.contact_x_ft, track.contact_y_ft, w.reference.length_ft, w.reference.aim_point_ft
    long_enough = (*base, (~np.isfinite(length), "no_reference"))
    with np.errstate(invalid="ignore", divide="ignore"):
        used, used_u = 100.0 * x / length, 100.0 * track.x_u_ft / length
    return {
        "touchdown_distance_ft": answer(x, track.x_u_ft, missing=base),
        "touchdown_lateral_ft": answer(y, track.y_u_ft, missing=base),
        "distance_from_aim_point_ft": answer(
            x - aim, track.x_u_ft, missing=(*base, (~np.isfinite(aim), "no_reference"))
        ),
        "runway_used_pct": answer(used, used_u, missing=long_enough),
        "runway_remaining_ft": answer(length - x, track.x_u_ft, missing=long_enough),
        "in_touchdown_zone": _zone(x, track.x_u_ft, length, limits=limits, missing=long_enough),
        "speed_bled_kt": _bled(before["threshold_airspeed_kt"], before["contact_airspeed_kt"]),
    }


def _zone(x: Floats, u: Floats, length: Floats, *, limits: Limits, missing: tuple) -> Answer:  # type: ignore[type-arg]
    """Whether the wheels touched inside the zone; confidence is the chance that the verdict is right."""
    end = np.minimum(limits.zone_end_ft, limits.zone_fraction * length)
    inside = ndtr((end - x) / u) - ndtr((limits.zone_start_ft - x) / u)
    value = ((x >= limits.zone_start_ft) & (x <= end)).astype(float) + 0.0 * x
    return answer(value, np.where(value > 0.5, inside, 1.0 - inside), missing=missing)


def _bled(threshold: Answer, contact: Answer) -> Answer:
    """Airspeed lost from threshold to contact; a constant error of the airspeed cancels in it."""
    missing = (*threshold.missing, *contact.missing)
    return answer(threshold.number - contact.number, np.full(len(threshold.value), 0.8), missing=missing)

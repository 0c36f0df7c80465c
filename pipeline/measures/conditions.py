"""What the air was doing: wind along and across the runway, gusts, turbulence.

Goes in: a window. Comes out: the answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import WIND_KT
from pipeline.measures.window import COARSE, Window, between, smooth

Floats = NDArray[np.float64]

_PILOT_BAND_S = 1.5
"""Normal acceleration smoothed over this is what a pilot's control can make; the rest is air: our own choice."""


def conditions(w: Window, gate_height: Floats) -> dict[str, Answer]:
    """Headwind, crosswind, gust spread and turbulence.

    Wind is the recorded one over the last 30 s of the approach where the log has it, else the manifest's. Null
    `no_channel` without either, `no_reference` without the runway's heading (the track is used where there is none).
    """
    head, cross, u = _components(w)
    unknown = ~np.isfinite(head)
    gust = w.reference.gust_kt - w.reference.wind_speed_kt
    return {
        "headwind_kt": answer(head, u, missing=((unknown, "no_channel"),)),
        "crosswind_kt": answer(cross, u, missing=((unknown, "no_channel"),)),
        "gust_spread_kt": answer(gust, np.full(w.n, WIND_KT), missing=((~np.isfinite(gust), "no_reference"),)),
        "turbulence_g": _turbulence(w, gate_height),
    }


def components(speed_kt: Floats, from_deg: Floats, heading_deg: Floats) -> tuple[Floats, Floats]:
    """Headwind (positive from ahead) and crosswind (positive from the right), kt, of a wind FROM a direction.

    >>> [round(float(x), 2) for x in components(np.array(20.0), np.array(30.0), np.array(0.0))]
    [17.32, 10.0]
    """
    angle = np.radians(from_deg - heading_deg)
    return speed_kt * np.cos(angle), speed_kt * np.sin(angle)


def _components(w: Window) -> tuple[Floats, Floats, Floats]:
    heading = w.reference.runway_heading_deg
    track = rows.median(w.coarse("track_true_deg")[:, between(COARSE, -20.0, 0.0)])
    heading = np.where(np.isfinite(heading), heading, track)
    stretch = between(COARSE, -30.0, -2.0)
    head, cross = components(
        w.coarse("wind_speed_kt")[:, stretch], w.coarse("wind_from_true_deg")[:, stretch], heading[:, None]
    )
    stated = components(w.reference.wind_speed_kt, w.reference.wind_from_deg, heading)
    seen = rows.count(head) > 0
    spread = np.nan_to_num(rows.deviation(head)) / 3.0
    along = np.where(seen, rows.mean(head), stated[0])
    across = np.where(seen, rows.mean(cross), stated[1])
    return along, across, np.hypot(WIND_KT, spread)


def _turbulence(w: Window, gate_height: Floats) -> Answer:
    g = w.coarse("normal_accel_g")
    low = (gate_height > 50.0) & (gate_height < 500.0) & (COARSE < 0.0)
    rough = np.where(low, g - smooth(g, _PILOT_BAND_S, COARSE[1] - COARSE[0]), np.nan)
    value, held = rows.deviation(rough), rows.count(rough)
    u = np.hypot(value / np.sqrt(np.maximum(2.0 * held * 0.25, 2.0)), w.resolution("normal_accel_g") / np.sqrt(12.0))
    missing = ((w.lacks("normal_accel_g"), "no_channel"), (w.slower_than("normal_accel_g", 0.5), "too_slow"))
    return answer(np.where(held > 40, value, np.nan), u, missing=missing)

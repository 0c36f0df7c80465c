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
Bools = NDArray[np.bool_]

_BLOWS = between(COARSE, -30.0, -2.0)
"""Stretch over which a recorded wind is that of the landing."""
STATED_WIND_KT = 4.0
"""How far a component of a stated or reported mean wind may be from the one of the landing (our own choice)."""
_PILOT_BAND_S = 1.5
"""Normal acceleration smoothed over this is what a pilot's control can make; the rest is air: our own choice."""


def conditions(w: Window, gate_height: Floats) -> dict[str, Answer]:
    """Headwind, crosswind, gust spread and turbulence.

    Wind is the recorded one over the last 30 s of the approach where the log has it, else the manifest's, else the
    weather report's; along the runway, or along the track where the runway is not known. Null `no_channel` without any.
    The gust spread is null `not_reported` where a report gives the wind and no gust, `no_reference` where nobody says.
    """
    head, cross, head_u, cross_u = _components(w)
    missing = w.lacking(~np.isfinite(head), "wind_speed_kt", "wind_from_true_deg")
    gust = w.reference.gust_spread_kt
    silent = ((w.reference.gust_unreported, "not_reported"), (~np.isfinite(gust), "no_reference"))
    return {
        "headwind_kt": answer(head, head_u, missing=missing),
        "crosswind_kt": answer(cross, cross_u, missing=missing),
        "gust_spread_kt": answer(gust, np.full(w.n, WIND_KT), missing=silent),
        "turbulence_g": _turbulence(w, gate_height),
    }


def components(speed_kt: Floats, from_deg: Floats, heading_deg: Floats) -> tuple[Floats, Floats]:
    """Headwind (positive from ahead) and crosswind (positive from the right), kt, of a wind FROM a direction.

    >>> [round(float(x), 2) for x in components(np.array(20.0), np.array(30.0), np.array(0.0))]
    [17.32, 10.0]
    """
    angle = np.radians(from_deg - heading_deg)
    return speed_kt * np.cos(angle), speed_kt * np.sin(angle)


def stated_wind(w: Window, heading_deg: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Headwind and crosswind (n,) kt of the manifest's or the report's wind, and the uncertainty of each.

    A light wind from no settled side is 0 along and across, uncertain by its speed over the square root of 2: the
    standard deviation of a component of a wind from any side. NaN where no wind, or no side of a stronger one, is said.
    """
    speed, side_u = w.reference.wind_speed_kt, np.radians(np.nan_to_num(w.reference.wind_from_u_deg))
    head, cross = components(speed, w.reference.wind_from_deg, heading_deg)
    head_u, cross_u = np.hypot(STATED_WIND_KT, cross * side_u), np.hypot(STATED_WIND_KT, head * side_u)
    anyway = np.hypot(STATED_WIND_KT, speed / np.sqrt(2.0))
    light = w.reference.wind_variable
    return (
        np.where(light, 0.0, head),
        np.where(light, 0.0, cross),
        np.where(light, anyway, head_u),
        np.where(light, anyway, cross_u),
    )


def recorded_wind(w: Window) -> Bools:
    """Whether the log itself has the wind near the landing, (n,)."""
    both = np.isfinite(w.coarse("wind_speed_kt")[:, _BLOWS]) & np.isfinite(w.coarse("wind_from_true_deg")[:, _BLOWS])
    return np.asarray(both.any(axis=1), dtype=np.bool_)


def _components(w: Window) -> tuple[Floats, Floats, Floats, Floats]:
    heading = w.reference.runway_heading_deg
    track = rows.median(w.coarse("track_true_deg")[:, between(COARSE, -20.0, 0.0)])
    heading = np.where(np.isfinite(heading), heading, track)
    head, cross = components(
        w.coarse("wind_speed_kt")[:, _BLOWS], w.coarse("wind_from_true_deg")[:, _BLOWS], heading[:, None]
    )
    seen, spread = recorded_wind(w), [np.nan_to_num(rows.deviation(x)) / 3.0 for x in (head, cross)]
    said = stated_wind(w, heading)
    return (
        np.where(seen, rows.mean(head), said[0]),
        np.where(seen, rows.mean(cross), said[1]),
        np.where(seen, np.hypot(WIND_KT, spread[0]), said[2]),
        np.where(seen, np.hypot(WIND_KT, spread[1]), said[3]),
    )


def _turbulence(w: Window, gate_height: Floats) -> Answer:
    g = w.coarse("normal_accel_g")
    low = (gate_height > 50.0) & (gate_height < 500.0) & (COARSE < 0.0)
    rough = np.where(low, g - smooth(g, _PILOT_BAND_S, COARSE[1] - COARSE[0]), np.nan)
    value, held = rows.deviation(rough), rows.count(rough)
    u = np.hypot(value / np.sqrt(np.maximum(2.0 * held * 0.25, 2.0)), w.resolution("normal_accel_g") / np.sqrt(12.0))
    missing = (*w.without("normal_accel_g"), (w.slower_than("normal_accel_g", 0.5), "too_slow"))
    return answer(np.where(held > 40, value, np.nan), u, missing=missing)

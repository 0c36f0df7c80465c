"""The air and the runway a landing was made in: density, elevation, slope, weight.

Goes in: a window. Comes out: the answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.window import COARSE, Window, between

Floats = NDArray[np.float64]

_TEMPERATURE_SHARE = 0.035
"""Temperature is not recorded: 10 K about the standard one, as a share of the density (our own choice)."""
_PRESSURE_SHARE = 0.015
"""Where pressure is not recorded: 15 hPa about the standard one (our own choice)."""
_RECORDED_WEIGHT_SHARE, _STATED_WEIGHT_SHARE = 0.01, 0.02
_LANDED = between(COARSE, -5.0, 6.0)


def density_ratio(pressure_altitude_ft: Floats) -> Floats:
    """Density of the standard atmosphere (ISO 2533) over that at sea level, below 36,089 ft.

    >>> round(float(density_ratio(np.array([5000.0]))[0]), 5)
    0.86167
    """
    return (1.0 - 0.0065 * 0.3048 / 288.15 * pressure_altitude_ft) ** 4.255876


def air(w: Window) -> dict[str, Answer]:
    """Density ratio, runway elevation and slope, gross weight.

    Density is that of the pressure altitude at the landing, else of the runway's elevation, else of the geometric
    altitude, at standard temperature. Null `no_channel` without any of these, `no_reference` where the runway or its
    value is not known; weight null `no_channel` where neither the log nor the manifest has it.
    """
    elevation, slope = w.reference.elevation_ft, w.reference.slope_pct
    unknown, level = ~np.isfinite(elevation), ~np.isfinite(slope)
    return {
        "density_ratio": _density(w),
        "runway_elevation_ft": answer(elevation, np.full(w.n, 1.0), missing=((unknown, "no_reference"),)),
        "runway_slope_pct": answer(slope, np.full(w.n, SLOPE_PCT), missing=((level, "no_reference"),)),
        "gross_weight_kg": _weight(w),
    }


SLOPE_PCT = 0.1
"""Uncertainty of a stated slope where the wheels touch: the table gives the whole runway's (our own choice)."""


def _density(w: Window) -> Answer:
    pressure = rows.median(w.coarse("pressure_altitude_ft")[:, _LANDED])
    geometric = rows.median(w.coarse("geometric_altitude_ft")[:, _LANDED])
    near = np.where(np.isfinite(w.reference.elevation_ft), w.reference.elevation_ft, geometric)
    measured = np.isfinite(pressure)
    ratio = density_ratio(np.where(measured, pressure, near))
    share = np.where(measured, _TEMPERATURE_SHARE, np.hypot(_TEMPERATURE_SHARE, _PRESSURE_SHARE))
    return answer(ratio, ratio * share, missing=((~np.isfinite(ratio), "no_channel"),))


def _weight(w: Window) -> Answer:
    recorded = rows.median(w.coarse("gross_weight_kg")[:, _LANDED])
    seen = np.isfinite(recorded)
    weight = np.where(seen, recorded, w.reference.weight_kg)
    u = weight * np.where(seen, _RECORDED_WEIGHT_SHARE, _STATED_WEIGHT_SHARE)
    return answer(weight, u, missing=((~np.isfinite(weight), "no_channel"),))

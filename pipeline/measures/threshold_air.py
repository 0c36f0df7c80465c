"""The threshold against what it was designed for: height, wind and energy at the crossing.

Goes in: a window, the track and the answers at the threshold. Comes out: further answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS, WIND_KT
from pipeline.measures.conditions import components, stated_wind
from pipeline.measures.threshold import crossing
from pipeline.measures.track import Track
from pipeline.measures.window import COARSE, G_FPS2, KT_FPS, Window

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Missing = tuple[tuple[Bools, str], ...]

_ABOUT = np.arange(-10, 11)
"""Steps of the coarse grid that make the 5 s about the crossing."""
_BEAM_FT = 2.0
"""Uncertainty of the stated crossing height (our own choice)."""


def threshold_air(w: Window, track: Track, *, before: dict[str, Answer]) -> dict[str, Answer]:
    """Height over the design's, headwind, crosswind and energy at the threshold.

    Wind is the recorded one; without it the headwind is true airspeed minus ground speed, and what is left the stated
    wind. `before` holds height and airspeed at the threshold, and the density ratio. Null as height and airspeed are;
    `no_reference` without the runway's crossing height, or Vref. The crossing height is that of the glide path's beam:
    the wheels pass below it by as much as the aircraft's antenna stands above them.
    """
    when = crossing(track)
    height, speed = before["threshold_height_ft"], before["threshold_airspeed_kt"]
    design = w.reference.design_height_ft
    over = answer(
        height.number - design,
        np.hypot(height.quality, _BEAM_FT),
        missing=(*height.missing, (~np.isfinite(design), "no_reference")),
    )
    return {
        "threshold_height_over_design_ft": over,
        **_wind(w, when, speed, before["density_ratio"], _place(height)),
        "threshold_energy_ft": _energy(w, height, speed, before["density_ratio"]),
    }


def _place(height: Answer) -> Missing:
    """Why the crossing itself is not known; a height that is missing for itself does not hide the wind."""
    return tuple((where, r) for where, r in height.missing if r in ("no_reference", "not_reached"))


def _wind(w: Window, when: Floats, speed: Answer, density: Answer, place: Missing) -> dict[str, Answer]:
    heading = w.reference.runway_heading_deg
    at = np.round((when - COARSE[0]) / (COARSE[1] - COARSE[0]))
    columns = np.clip(np.nan_to_num(at).astype(int)[:, None] + _ABOUT, 0, len(COARSE) - 1)
    blows, comes_from = (
        np.take_along_axis(w.coarse(channel), columns, axis=1) for channel in ("wind_speed_kt", "wind_from_true_deg")
    )
    along, across = components(blows, comes_from, heading[:, None])
    stated = stated_wind(w, heading)
    true_speed = speed.number / np.sqrt(density.number)
    flown = true_speed - rows.at(w.coarse("ground_speed_kt"), COARSE, when)
    flown_u = np.sqrt(BIAS["airspeed_kt"] ** 2 + BIAS["ground_speed_kt"] ** 2 + (0.5 * 0.035 * true_speed) ** 2)
    head, head_u = _first((rows.mean(along), WIND_KT), (flown, flown_u), (stated[0], stated[2]))
    cross, cross_u = _first((rows.mean(across), WIND_KT), (stated[1], stated[3]))
    lost = ~np.isfinite(when)
    found = {"threshold_headwind_kt": (head, head_u), "threshold_crosswind_kt": (cross, cross_u)}
    return {
        name: answer(value, u, missing=(*place, (lost | ~np.isfinite(value), "no_channel")))
        for name, (value, u) in found.items()
    }


def _first(*sources: tuple[Floats, Floats | float]) -> tuple[Floats, Floats]:
    """Value and uncertainty of the first source that has one, (n,) each."""
    value, u = np.full(len(sources[0][0]), np.nan), np.full(len(sources[0][0]), np.nan)
    for candidate, candidate_u in reversed(sources):
        there = np.isfinite(candidate)
        value, u = np.where(there, candidate, value), np.where(there, candidate_u, u)
    return value, u


def _energy(w: Window, height: Answer, speed: Answer, density: Answer) -> Answer:
    """Height plus the height that true airspeed beyond Vref is worth, ft."""
    per_kt = KT_FPS / np.sqrt(density.number)
    v, vref = speed.number * per_kt, w.reference.vref_kt * per_kt
    value = height.number + (v**2 - vref**2) / (2.0 * G_FPS2)
    gained = np.abs(v**2 - vref**2) / (2.0 * G_FPS2) * density.quality / density.number
    u = np.sqrt(height.quality**2 + (v * speed.quality * per_kt / G_FPS2) ** 2 + gained**2)
    unknown = ~np.isfinite(w.reference.vref_kt)
    missing = (*height.missing, *speed.missing, *density.missing, (unknown, "no_reference"))
    return answer(value, u, missing=missing)

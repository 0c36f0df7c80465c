"""The approach between 500 and 100 ft: path, attitude and thrust it was flown with.

Goes in: a window, height above the threshold and the track. Comes out: the answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS
from pipeline.measures.track import Track
from pipeline.measures.window import COARSE, Window

Floats = NDArray[np.float64]


def approach(w: Window, track: Track, *, gate_height: Floats) -> dict[str, Answer]:
    """Path angle (positive for a descent), mean pitch, thrust lever and engine speed between 500 and 100 ft.

    Null `no_channel` without the channel, `not_reached` where the log does not show that stretch.
    """
    low = (gate_height >= 100.0) & (gate_height <= 500.0) & (COARSE < 0.0)
    short = low.sum(axis=1) < 20
    return {
        "approach_path_deg": _path(track, low, gate_height, short),
        "approach_pitch_deg": _mean(w, "pitch_deg", low, short),
        "approach_thrust_pct": _mean(w, "thrust_lever_pct", low, short),
        "approach_engine_speed_pct": _mean(w, "engine_speed_pct", low, short),
    }


def _mean(w: Window, channel: str, low: NDArray[np.bool_], short: NDArray[np.bool_]) -> Answer:
    seen = np.where(low, w.coarse(channel), np.nan)
    independent = np.maximum(rows.count(seen) * 0.25 / 3.0, 1.0)
    u = np.hypot(np.nan_to_num(rows.deviation(seen)) / np.sqrt(independent), BIAS[channel])
    return answer(rows.mean(seen), u, missing=(*w.without(channel), (short, "not_reached")))


def _path(track: Track, low: NDArray[np.bool_], height: Floats, short: NDArray[np.bool_]) -> Answer:
    """Angle of the straight line of height over ground covered, by least squares."""
    used = low & np.isfinite(track.to_contact_ft)
    x, h = np.where(used, track.to_contact_ft, np.nan), np.where(used, height, np.nan)
    dx, dh = x - rows.mean(x)[:, None], h - rows.mean(h)[:, None]
    spread = rows.mean(dx**2)
    with np.errstate(invalid="ignore", divide="ignore"):
        gradient = -rows.mean(dx * dh) / spread
        error = np.sqrt(rows.mean((dh + gradient[:, None] * dx) ** 2) / spread / np.maximum(rows.count(x) / 12.0, 1.0))
    nothing = ~rows.has(track.to_contact_ft)
    value = np.degrees(np.arctan(gradient))
    return answer(value, np.hypot(np.degrees(error), 0.05), missing=((nothing, "no_channel"), (short, "not_reached")))

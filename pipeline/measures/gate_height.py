"""Height above the threshold along the approach, where the ground below is not the runway.

Goes in: a window and the wheel height. Comes out: height on the coarse grid and the channel it came from.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.contact_path import ContactPath
from pipeline.measures.window import COARSE, Window, between

Floats = NDArray[np.float64]
Texts = NDArray[np.object_]

_ALTITUDES = ("geometric_altitude_ft", "pressure_altitude_ft")


def gate_height(w: Window, path: ContactPath) -> tuple[Floats, Texts]:
    """Height above the landing surface (n, k), ft, and its source (n,), None where there is none.

    An altitude tied to its own value in the rollout is taken before radio height, because radio height follows the
    terrain before the runway. Without a contact there is no rollout, and radio height is used.
    """
    height, source = path.height_coarse.copy(), np.full(w.n, None, dtype=object)
    source[~w.lacks("radio_height_ft")] = "radio_height_ft"
    for channel in reversed(_ALTITUDES):
        altitude = w.coarse(channel)
        ground = rows.median(altitude[:, between(COARSE, 1.0, 6.0)])
        tied = np.isfinite(ground) & w.grounded
        height = np.where(tied[:, None], altitude - ground[:, None], height)
        source[tied] = channel
    return height, source

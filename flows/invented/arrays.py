"""An array and two bounds go in; the array kept between them comes out."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def clamp(value: Floats, low: Floats | float, high: Floats | float) -> Floats:
    """The same as `numpy.clip`, several times faster on the short arrays of one time step."""
    return np.minimum(np.maximum(value, low), high)

"""A check of pitch in itself: pitch that hardly moves over a whole landing may be written in radians."""

import numpy as np

from pipeline.quality.check import Check
from pipeline.quality.courses import Courses

_SPAN_DEG = 0.3
"""Least span of pitch over a landing in degrees; ten degrees are 0.17 rad. Roll may stay within less in a calm."""
_FEWEST_VALUES = 10


def span_checks(courses: Courses) -> list[Check]:
    """Judge how far pitch moves; pitch that takes only a few values says nothing."""
    if not courses.grid.has("pitch_deg"):
        return []
    held = courses.grid.recording.channels["pitch_deg"].value
    low, high = np.quantile(held, [0.01, 0.99])
    span = float(high - low)
    few = len(np.unique(held)) < _FEWEST_VALUES
    passed = True if span >= _SPAN_DEG else None if few else False
    wrong = f"moves by {span:.2f} deg in all: radians read as degrees?"
    return [Check("pitch in itself", ("pitch_deg",), span, _SPAN_DEG, np.inf, passed, wrong)]

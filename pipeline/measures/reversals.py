"""How often the nose turns back between two instants: swings larger than noise, counted.

Goes in: pitch on a uniform grid and from when to count. Comes out: the number of turns of each landing.
"""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def reversals(course: Floats, least: Floats) -> Floats:
    """Turns (n,) of each row of `course` (n, s), gaps (NaN) left out; a swing smaller than `least` (n,) is none.

    A turn counts once the course has come back by `least` from its furthest point; the first movement is none.

    >>> reversals(np.array([[0.0, 2.0, 1.0, 3.0, 2.9]]), np.array([0.5])).tolist()
    [2.0]
    """
    turns, heading = np.zeros(len(course)), np.zeros(len(course))
    highest, lowest = np.full(len(course), -np.inf), np.full(len(course), np.inf)
    for now in course.T:
        seen = np.isfinite(now)
        highest = np.where(seen, np.maximum(highest, now), highest)
        lowest = np.where(seen, np.minimum(lowest, now), lowest)
        down = seen & (heading >= 0.0) & (now <= highest - least)
        up = seen & (heading <= 0.0) & (now >= lowest + least)
        turns += (down & (heading > 0.0)) | (up & (heading < 0.0))
        heading = np.where(down, -1.0, np.where(up, 1.0, heading))
        highest, lowest = np.where(up, now, highest), np.where(down, now, lowest)
    return turns

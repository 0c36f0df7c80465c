"""Two courses that should be the same in, how many times one is the other and how surely out."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_FEWEST = 12


@dataclass(frozen=True)
class Relation:
    """`ratio`: signed size of the first in terms of the second; `correlation` -1 to 1; `n` pairs; `size` of the second.

    The ratio is that of the root mean squares, so that a against b is one over b against a.
    """

    ratio: float
    correlation: float
    n: int
    size: float


def relate(first: Floats, second: Floats, *, centred: bool = False) -> Relation | None:
    """Relation of two (m,) courses over the places where both have values; None with fewer than twelve of them.

    `centred` takes the mean of each out first, where a constant bias or wind stands between them.
    """
    both = np.isfinite(first) & np.isfinite(second)
    n = int(both.sum())
    if n < _FEWEST:
        return None
    a, b = first[both], second[both]
    if centred:
        a, b = a - a.mean(), b - b.mean()
    aa, bb, ab = float(a @ a), float(b @ b), float(a @ b)
    if aa <= 0.0 or bb <= 0.0:
        return None
    return Relation(float(np.copysign(np.sqrt(aa / bb), ab)), ab / np.sqrt(aa * bb), n, float(np.sqrt(bb / n)))

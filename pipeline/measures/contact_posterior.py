"""Small Gaussian posteriors by the thousand, and what they say of a contact that must be closing.

Goes in: information matrices and vectors. Comes out: log evidence, mean and variance of one linear combination each.
"""

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

Floats = NDArray[np.float64]

_USUAL_SPEED_FPS = 2.5
"""Scale of the weak prior on closing speed, density exp(-speed / scale): our own choice."""


def solve(information: Floats, right: Floats, wanted: Floats) -> tuple[Floats, Floats, Floats]:
    """Log evidence but for constants, mean and variance of `wanted . x`, (b,) each.

    `information` (b, p, p), `right` and `wanted` (b, p). The triangular factor is taken over all b at once, because p
    is small and b is not.
    """
    matrix, p = np.moveaxis(information, 0, 2).copy(), information.shape[1]
    factor: list[list[Floats]] = [[] for _ in range(p)]
    answers: tuple[list[Floats], list[Floats]] = ([], [])
    log_determinant = np.zeros(len(information))
    for j in range(p):
        pivot = np.sqrt(np.maximum(matrix[j, j] - _dot(factor[j], factor[j]), 1e-12))
        log_determinant += 2.0 * np.log(pivot)
        for i in range(j + 1, p):
            factor[i].append((matrix[i, j] - _dot(factor[i], factor[j])) / pivot)
        for answer, given in zip(answers, (right, wanted), strict=True):
            answer.append((given[:, j] - _dot(factor[j], answer)) / pivot)
        factor[j].append(pivot)
    seen, asked = answers
    return 0.5 * _dot(seen, seen) - 0.5 * log_determinant, _dot(seen, asked), _dot(asked, asked)


def _dot(left: list[Floats], right: list[Floats]) -> Floats:
    return np.asarray(sum((a * b for a, b in zip(left, right, strict=True)), 0.0))


def closing(mean: Floats, variance: Floats) -> tuple[Floats, Floats, Floats]:
    """Log weight, mean and variance of a vertical speed (ft/s) given that the wheels were closing when they touched.

    A path that reaches the runway at speed v does so in a share |v| of all moments, so that the density of contact
    times carries |v|; wheels that touch were closing; and harder contacts are rarer by a weak exponential. The mean is
    negative always, and hardly moved where the speed is beyond doubt.

    >>> [round(float(x[0]), 2) for x in closing(np.array([-5.0]), np.array([0.01]))][1:]
    [-5.0, 0.01]
    """
    weight = mean / _USUAL_SPEED_FPS + variance / (2.0 * _USUAL_SPEED_FPS**2)
    down, sd = -(mean + variance / _USUAL_SPEED_FPS), np.sqrt(variance)
    z = np.maximum(down / sd, -5.0)
    share, density = ndtr(z), np.exp(-0.5 * z**2) / np.sqrt(2.0 * np.pi)
    first = z * share + density
    second = (z**2 + 1.0) * share + z * density
    third = (z**3 + 3.0 * z) * share + (z**2 + 2.0) * density
    speed = sd * second / first
    return weight + np.log(sd * first), -speed, np.maximum(sd**2 * third / first - speed**2, 1e-6)

"""The chart recursions against the worked examples of the NIST/SEMATECH e-Handbook of Statistical Methods.

Values as transcribed in public test files that quote the handbook's pages pmc323 and pmc324.
"""

import numpy as np
import pytest

from pipeline.statistics.charts import cusum, ewma, ewma_half_width


def test_handbook_ewma_example() -> None:
    """Section 6.3.2.4: twenty EWMA values equal at the two decimals printed; limits cut to four decimals; no signal."""
    x = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5]
    x += [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
    printed = [50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33]
    printed += [50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99]

    z = ewma(np.array(x), weight=0.3, start=50.0)
    half = ewma_half_width(2.0539, weight=0.3, multiple=3.0)

    assert np.round(z, 2).tolist() == printed
    assert 50.0 + half == pytest.approx(52.5884, abs=1e-4)
    assert 50.0 - half == pytest.approx(47.4115, abs=1e-4)
    assert np.all(np.abs(z - 50.0) < half)


def test_handbook_cusum_example() -> None:
    """Section 6.3.2.3: both sums equal at the two decimals printed (ties 0.005), the first signal at the 14th value."""
    x = [324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600]
    x += [324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350]
    high = [0, 0, 0, 0, 0.03, 0, 0, 0, 0, 0, 0, 0, 3.01, 4.94, 7.45, 10.63, 11.99, 14.44, 16.00, 19.04]
    low = [0, 0.01, 0, 0.33, 0, 0, 0.56, 0.72, 0.17, 0.25, 0.31, 0, 0, 0, 0, 0, 0, 0, 0, 0]

    up = cusum(np.array(x), target=325.0, slack=0.3175)
    down = cusum(-np.array(x), target=-325.0, slack=0.3175)

    assert up == pytest.approx(high, abs=0.0051)
    assert down == pytest.approx(low, abs=0.0051)
    assert int(np.argmax(np.maximum(up, down) > 4.1959)) + 1 == 14

"""The chart recursions against worked examples of the NIST/SEMATECH e-Handbook and a river whose change is known.

The handbook's values are as transcribed in public test files that quote its pages pmc323 and pmc324.
"""

import numpy as np
import pytest

from pipeline.statistics.charts import cusum, ewma, ewma_half_width
from pipeline.statistics.run_length import cusum_limit


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


NILE = [1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958, 1140]
NILE += [1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020, 1050, 969]
NILE += [831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040, 759, 781]
NILE += [865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890, 744, 749]
NILE += [838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740]


def test_nile_flow_changes_after_1898() -> None:
    """Cobb 1978, Biometrika 65:243-251: the yearly flow at Aswan 1871-1970 falls after 1898 (data as shipped with R).

    The change is dated as the watch dates one, to the observation after the sum was last zero before it signals. Level
    and spread are those of the first 20 years; the limit is that of one false signal in 1,000 years.
    """
    flow = -np.array(NILE, dtype=float)
    first = flow[:20]
    chart = cusum(flow / first.std(ddof=1), target=first.mean() / first.std(ddof=1), slack=0.375)

    signalled = int(np.argmax(chart > cusum_limit(1000.0, k=0.375)))
    change = int(np.flatnonzero(chart[:signalled] == 0.0)[-1]) + 1

    assert len(NILE) == 100
    assert 1871 + change == 1899

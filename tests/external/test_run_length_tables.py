"""Run lengths against published tables.

Values marked "as transcribed" were read in the example files xcusum.arl and xewma.arl of the public R package spc
(S. Knoth), which cite the originals named beside each; values marked "from memory" were not looked up.
Tolerances are half a unit of the last printed digit unless a reason is given.
"""

import pytest

from pipeline.statistics.run_length import cusum_run_length, ewma_run_length, two_sided_cusum_run_length

SHIFTS = (0.0, 0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0)


def _printed(text: str) -> list[tuple[float, float]]:
    """Printed values with half a unit of their last digit."""
    return [(float(word), 0.501 * 10.0 ** -len(word.partition(".")[2])) for word in text.split()]


def test_brook_and_evans_1972() -> None:
    """Brook & Evans 1972, Biometrika 59:539-549, k 0.5, h 3, as transcribed; their 117.59 is cut, not rounded."""
    assert cusum_run_length(3.0, k=0.5) == pytest.approx(117.59, abs=0.01)
    assert cusum_run_length(3.0, k=0.5, mean=1.5) == pytest.approx(3.75, abs=0.005)


def test_lucas_and_crosier_1982() -> None:
    """Lucas & Crosier 1982, Technometrics 24:199-205, two-sided, k 0.5, h 4, as transcribed."""
    printed = _printed("168 74.2 26.6 13.3 8.38 4.75 3.34 2.62 2.19 1.71 1.31")

    for mean, (value, half) in zip(SHIFTS, printed, strict=True):
        assert two_sided_cusum_run_length(4.0, k=0.5, mean=mean) == pytest.approx(value, abs=half)


def test_lucas_and_crosier_1982_with_head_start() -> None:
    """The same table with a head start of 2 on both sides, as transcribed."""
    printed = _printed("149 62.7 20.1 8.97 5.29 2.86 2.01")

    for mean, (value, half) in zip(SHIFTS[:7], printed, strict=True):
        assert two_sided_cusum_run_length(4.0, k=0.5, mean=mean, start=2.0) == pytest.approx(value, abs=half)


def test_montgomery_two_sided_table() -> None:
    """Montgomery, Introduction to Statistical Quality Control, two-sided, k 0.5, h 5, from memory.

    The table is rounded unevenly (17.0 for 17.05), so 0.6 % is allowed.
    """
    printed = (465, 139, 38.0, 17.0, 10.4, 5.75, 4.01, 3.11, 2.57, 2.01, 1.69)

    for mean, value in zip(SHIFTS, printed, strict=True):
        assert two_sided_cusum_run_length(5.0, k=0.5, mean=mean) == pytest.approx(value, rel=0.006)


def test_vance_1986_without_slack() -> None:
    """Vance 1986, Journal of Quality Technology 18:189-193, k 0, h 10, as transcribed; his first is 0.06 low."""
    printed = (2071.51, 400.28, 124.66, 59.30, 36.71, 20.37, 14.06, 10.75)

    for mean, value in zip((-0.25, -0.125, 0.0, 0.125, 0.25, 0.5, 0.75, 1.0), printed, strict=True):
        assert cusum_run_length(10.0, k=0.0, mean=mean) == pytest.approx(value, abs=0.1 if mean == -0.25 else 0.0051)


def test_waldmann_1986() -> None:
    """Waldmann 1986, Technometrics 28:61-67, k 0.5, h 3, as transcribed; 117.4 is his bound, 0.2 % below the value."""
    assert cusum_run_length(3.0, k=0.5, mean=-0.5) == pytest.approx(1963, abs=0.5)
    assert cusum_run_length(3.0, k=0.5) == pytest.approx(117.4, rel=0.002)
    assert cusum_run_length(3.0, k=0.5, mean=0.5) == pytest.approx(17.35, abs=0.005)


def test_documented_cusum_example_to_ten_digits() -> None:
    """The SAS documentation, as transcribed: k 0.25, h 8, shift 2.5 gives 4.1500836225, with head start 4.1061588."""
    assert two_sided_cusum_run_length(8.0, k=0.25, mean=2.5) == pytest.approx(4.1500836225, abs=2e-7)
    assert two_sided_cusum_run_length(8.0, k=0.25, mean=2.5, start=0.1) == pytest.approx(4.1061588, abs=1e-7)


def test_siegmund_approximation() -> None:
    """Siegmund's closed form (from memory) is within 1 % of the exact length at k 0.5, h 5."""
    assert cusum_run_length(5.0, k=0.5) == pytest.approx(938.2, rel=0.01)
    assert cusum_run_length(5.0, k=0.5, mean=1.0) == pytest.approx(10.34, rel=0.01)


EWMA_SHIFTS = (0.0, 0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0)


@pytest.mark.parametrize(
    ("weight", "limit", "table"),
    [
        (0.5, 3.071, "500 255 88.8 35.9 17.5 6.53 3.63 2.50 1.93 1.58 1.34 1.07"),
        (0.03, 2.437, "500 76.7 29.3 17.6 12.6 8.07 5.99 4.80 4.03 3.49 3.11 2.55"),
    ],
)
def test_lucas_and_saccucci_1990(weight: float, limit: float, table: str) -> None:
    """Lucas & Saccucci 1990, Technometrics 32:1-12, table 3, as transcribed."""
    for mean, (value, half) in zip(EWMA_SHIFTS, _printed(table), strict=True):
        assert ewma_run_length(limit, weight=weight, mean=mean) == pytest.approx(value, abs=half)


@pytest.mark.parametrize(
    ("weight", "table"),
    [(0.05, "127.53 43.94 18.97 11.64 8.38"), (0.5, "26.45 20.12 11.89 7.29 4.91 3.59 2.80")],
)
def test_crowder_1987(weight: float, table: str) -> None:
    """Crowder 1987, Technometrics 29:401-407, limit 2, as transcribed (printed 3.95 is a slip for 3.59)."""
    for step, (value, half) in enumerate(_printed(table)):
        assert ewma_run_length(2.0, weight=weight, mean=0.25 * step) == pytest.approx(value, abs=half)


@pytest.mark.parametrize(("weight", "limit"), [(0.05, 2.32), (0.1, 2.55), (0.15, 2.65), (0.2, 2.72), (0.25, 2.76)])
def test_crowder_1989_limits_for_250(weight: float, limit: float) -> None:
    """Crowder 1989, Journal of Quality Technology 21:155-162, as transcribed: 250 lies within the limit's rounding."""
    assert ewma_run_length(limit - 0.005, weight=weight) < 250.0 < ewma_run_length(limit + 0.005, weight=weight)


def test_documented_ewma_example_to_eleven_digits() -> None:
    """Weight 0.25, limit 3, shift 1: the SAS documentation, as transcribed, prints 11.154267016."""
    assert ewma_run_length(3.0, weight=0.25, mean=1.0) == pytest.approx(11.154267016, abs=1e-9)


@pytest.mark.parametrize(
    ("weight", "limit", "shifted"),
    [(0.4, 3.054, 14.3), (0.25, 2.998, 11.1), (0.2, 2.962, 10.5), (0.1, 2.814, 10.3), (0.05, 2.615, 11.4)],
)
def test_montgomery_ewma_pairs(weight: float, limit: float, shifted: float) -> None:
    """Montgomery's pairs for a run length of 500 and the length at a shift of 1, from memory; limits have 4 digits."""
    assert ewma_run_length(limit, weight=weight) == pytest.approx(500.0, rel=0.003)
    assert ewma_run_length(limit, weight=weight, mean=1.0) == pytest.approx(shifted, abs=0.0501)

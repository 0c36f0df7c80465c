"""Batched posteriors against plain linear algebra and numerical integration."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.measures.contact_posterior import closing, solve


def test_solve_agrees_with_plain_linear_algebra():
    draw = np.random.default_rng(3)
    root = draw.normal(size=(50, 9, 12))
    information, right, wanted = root @ np.swapaxes(root, 1, 2), draw.normal(size=(50, 9)), draw.normal(size=(50, 9))

    log, mean, variance = solve(information, right, wanted)

    covariance = np.linalg.inv(information)
    solution = np.einsum("npq,nq->np", covariance, right)
    expected = 0.5 * (right * solution).sum(axis=1) - 0.5 * np.linalg.slogdet(information)[1]
    assert np.allclose(log, expected)
    assert np.allclose(mean, (wanted * solution).sum(axis=1))
    assert np.allclose(variance, np.einsum("np,npq,nq->n", wanted, covariance, wanted))


@given(mean=st.floats(-12.0, 3.0), sd=st.floats(0.1, 3.0))
def test_closing_speed_is_the_integral_over_closing_speeds(mean, sd):
    """Density: normal times speed times exp(-speed / 2.5), over closing speeds alone, by quadrature."""
    if mean > 4.0 * sd:
        return
    speed = np.linspace(0.0, 40.0, 200_001)
    density = speed * np.exp(-speed / 2.5 - 0.5 * ((-speed - mean) / sd) ** 2)
    total = np.trapezoid(density, speed)
    expected = np.trapezoid(density * speed, speed) / total
    variance = np.trapezoid(density * speed**2, speed) / total - expected**2

    _, found, found_variance = closing(np.array([mean]), np.array([sd**2]))

    assert found[0] == pytest.approx(-expected, rel=5e-3, abs=5e-3)
    assert found_variance[0] == pytest.approx(variance, rel=2e-2, abs=2e-3)


def test_log_weights_compare_as_the_integrals_do():
    speed = np.linspace(0.0, 40.0, 200_001)
    means, sds = np.array([-6.0, -1.0, 0.5]), np.array([0.5, 1.0, 1.5])
    totals = [
        np.trapezoid(speed * np.exp(-speed / 2.5 - 0.5 * ((-speed - m) / s) ** 2) / s, speed)
        for m, s in zip(means, sds, strict=True)
    ]

    log, _, _ = closing(means, sds**2)

    assert np.allclose(log - log[0], np.log(totals) - np.log(totals[0]), atol=0.01)

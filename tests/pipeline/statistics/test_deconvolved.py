"""Shares behind errors of measurement, by draw."""

import numpy as np
import polars as pl
import pytest
from scipy.stats import norm

from pipeline.statistics.deconvolved import beyond, common, mixed, resampled


def test_the_common_error_is_that_of_the_installations() -> None:
    """One installation errs by its uncertainty, sixteen alike by a quarter of it; the first draw has no error."""
    u = np.full(160, 2.0)
    for aircraft in (1, 16):
        drawn = common(u, pl.Series([f"A-{i % aircraft}" for i in range(160)]), draws=4000, seed=3)
        assert drawn[0] == 0.0
        assert drawn[1:].std() == pytest.approx(2.0 / np.sqrt(aircraft), rel=0.05)


def test_certain_margins_are_counted() -> None:
    """Without error the share is the count, whatever the distribution."""
    margin = np.array([-2.0] * 30 + [1.0] * 10)
    weights = resampled(pl.Series(np.arange(40)), seed=1)
    assert beyond(margin, np.full(40, 1e-3), weights[:1], limit=np.zeros(1))[0] == pytest.approx(0.25, abs=1e-6)


def test_a_limit_that_is_moved_moves_the_share() -> None:
    """Of a normal truth known to half its spread the share above each limit is the normal's tail there."""
    draw = np.random.default_rng(2)
    margin = draw.normal(size=20000) + 0.5 * draw.normal(size=20000)
    limits = np.array([-1.0, 0.0, 1.0])
    found = beyond(margin, np.full(20000, 0.5), np.ones((3, 20000)), limit=limits)
    assert found == pytest.approx(norm.sf(limits), abs=0.015)


def test_chances_that_tell_nothing_leave_the_share_open() -> None:
    """Where every landing is as likely with the fault as without, half is as good as any share."""
    assert mixed(np.full(50, 0.5), np.ones((1, 50)))[0] == pytest.approx(0.5)


def test_the_first_draw_is_of_every_session_once() -> None:
    """The first weights are ones; each other draw has as many sessions as there are."""
    session = pl.Series(np.repeat(np.arange(12), 3))
    weights = resampled(session, seed=5)
    assert (weights[0] == 1.0).all()
    assert (weights[:, ::3].sum(axis=1) == 12.0).all()

"""Shares with intervals that know about sessions."""

from datetime import UTC, datetime, timedelta

import numpy as np
import polars as pl
import pytest

from reports.shares import design_effect, jeffreys, share


def test_none_of_a_hundred_means_up_to_two_per_cent():
    """Upper 95 % end of Jeffreys' interval for 0 of 100: 1.9 % (Beta(0.5, 100.5), computed elsewhere)."""
    assert jeffreys(0, 100)[0] == 0.0
    assert jeffreys(0, 100)[1] == pytest.approx(0.019, abs=5e-4)


def test_the_interval_holds_nine_tenths_of_the_posterior():
    """Against the Beta(k + 1/2, n - k + 1/2) density summed on a fine grid, with no tail left out on either side."""
    x = (np.arange(200_000) + 0.5) / 200_000
    density = x**6.5 * (1 - x) ** 12.5
    low, high = jeffreys(7, 20)

    below, above = density[x < low].sum() / density.sum(), density[x > high].sum() / density.sum()

    assert below == pytest.approx(0.05, abs=1e-4)
    assert above == pytest.approx(0.05, abs=1e-4)


def test_sessions_that_agree_with_themselves_are_worth_less():
    """By hand: 4 sessions of 2, two all true and two all false: between 4/3 x 4/64 = 1/12, simple 0.25/8; 8/3."""
    effect = design_effect(np.array([2.0, 2, 0, 0]), np.array([2.0, 2, 2, 2]))

    assert effect == pytest.approx(8 / 3)


def test_all_true_counts_sessions_not_landings():
    """With no spread to learn from, a session of five is worth one landing."""
    assert design_effect(np.array([5.0, 5]), np.array([5.0, 5])) == pytest.approx(5.0)


def test_mixed_sessions_are_worth_their_landings():
    """Sessions no more alike than chance have no design effect."""
    assert design_effect(np.array([1.0, 1, 1, 1]), np.array([2.0, 2, 2, 2])) == 1.0


def test_a_share_leaves_nulls_out_and_says_n():
    """Landings that could not be judged are not counted as false."""
    at = [datetime(2026, 11, day, tzinfo=UTC) for day in (2, 3, 4, 5)]
    rows = pl.DataFrame({"pilot": "A", "aircraft": "X", "flown": at, "met": [True, True, False, None]})

    found = share(rows, "met")

    assert found is not None
    assert (found.n, found.share) == (3, pytest.approx(2 / 3))
    assert found.low < 2 / 3 < found.high
    assert share(rows.filter(pl.col("met").is_null()), "met") is None


def test_the_interval_is_wider_where_sessions_agree():
    """Forty landings in ten sessions, each all true or all false, tell less than forty on days of their own."""
    met = [k // 4 % 2 == 0 for k in range(40)]
    days = [datetime(2026, 9, 1, tzinfo=UTC) + timedelta(days=k) for k in range(40)]
    apart = pl.DataFrame({"pilot": "A", "aircraft": "X", "flown": days, "met": met})
    together = apart.with_columns(flown=pl.Series([days[k // 4] for k in range(40)]))

    one, other = share(apart, "met"), share(together, "met")

    assert one is not None
    assert other is not None
    assert other.high - other.low > 1.5 * (one.high - one.low)

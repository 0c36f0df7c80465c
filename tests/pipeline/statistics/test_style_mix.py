"""The mix of styles by month: shares with honest intervals, and a change that is told only where it is one."""

from datetime import UTC, datetime, timedelta

import numpy as np
import polars as pl
import pytest

from pipeline.statistics.style_mix import SCHEMA, chance_of_no_change, shares_between, style_mix


def frames(styles: list[int | None], *, session: int = 1) -> tuple[pl.DataFrame, pl.DataFrame]:
    """Landing styles and landings of one pilot, a landing a day from 1 January on."""
    n = len(styles)
    ids = [f"L{i:03d}" for i in range(n)]
    first = datetime(2026, 1, 1, 9, tzinfo=UTC)
    placed = pl.DataFrame({"landing_id": ids, "style": styles, "probability": [1.0] * n})
    landings = pl.DataFrame(
        {
            "landing_id": ids,
            "pilot": ["P"] * n,
            "session": [i // session for i in range(n)],
            "contact_at": [first + timedelta(days=i) for i in range(n)],
        }
    )
    return placed, landings


def test_rows_by_month_and_style() -> None:
    """30 placed landings of January, a third in style 1; one in no style does not count; February is too short."""
    styles: list[int | None] = [1 if i % 3 == 0 else 0 for i in range(30)] + [None] + [0] * 5

    found = style_mix(*frames(styles))

    assert found.columns == list(SCHEMA)
    assert found["pilot"].to_list() == ["P", "P", None, None]
    assert found["n"].unique().to_list() == [30]
    assert found["share"].to_list() == pytest.approx([2 / 3, 1 / 3] * 2)
    assert ((found["share_low"] < found["share"]) & (found["share"] < found["share_high"])).all()


def test_sessions_widen_the_interval() -> None:
    """Landings that share sessions are worth fewer."""
    styles: list[int | None] = [1 if i % 3 == 0 else 0 for i in range(30)]
    single, joined = (style_mix(*frames(styles, session=size)).row(0, named=True) for size in (1, 6))

    assert joined["share_high"] - joined["share_low"] > single["share_high"] - single["share_low"]


def test_interval_of_two_styles_is_jeffreys() -> None:
    """0 of 100: the upper end is 1.9 % (Jeffreys); one style alone is always all."""
    low, high = shares_between(np.array([100.0, 0.0]), worth=100.0)

    assert high[1] == pytest.approx(0.019, abs=0.0005)
    assert low[0] == pytest.approx(0.981, abs=0.0005)
    assert shares_between(np.array([9.0]), worth=9.0)[0].tolist() == [1.0]


def test_chance_of_no_change_by_hand() -> None:
    """30 and 10 against 20 and 20 of 40: expected 25 and 15, chi-square 5.333, 2.1 %; worth half, 2.667 and 10.2 %."""
    early, late = np.array([30.0, 10.0]), np.array([20.0, 20.0])

    assert chance_of_no_change(early, late, worth_early=40.0, worth_late=40.0) == pytest.approx(0.0209, abs=0.0002)
    assert chance_of_no_change(early, late, worth_early=20.0, worth_late=20.0) == pytest.approx(0.1025, abs=0.0005)
    assert chance_of_no_change(np.array([5.0, 0.0]), np.array([7.0, 0.0]), worth_early=5.0, worth_late=7.0) == 1.0

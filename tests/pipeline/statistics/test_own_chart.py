"""One pilot's chart: it learns, stays quiet, finds a change, and closes its flag after the pilot is back."""

import numpy as np
import pytest

from pipeline.statistics.own_chart import CLOSE_AFTER, LIMITS, limit, own_chart
from pipeline.statistics.run_length import cusum_limit


def test_limit_is_the_tables_at_its_entries_and_between_them_by_logarithm() -> None:
    """At a table entry the table's value; half way in the logarithm the mean of the two; beyond the ends the ends."""
    (w0, h0), (w1, h1) = LIMITS[2], LIMITS[3]

    assert limit(w1) == pytest.approx(h1)
    assert limit((w0 * w1) ** 0.5) == pytest.approx((h0 + h1) / 2.0)
    assert limit(1.0) == LIMITS[0][1]
    assert limit(1e6) == LIMITS[-1][1]


def test_limit_of_a_long_history_is_the_exact_one() -> None:
    """With mean and spread all but known, the limit for a run length of 2,000 landings a chart holds."""
    assert LIMITS[-1][1] == pytest.approx(cusum_limit(2000.0, k=0.375), abs=0.05)


def test_fewer_than_sixty_landings_are_still_being_learned() -> None:
    """Nothing is judged in 59 landings, however they change."""
    chart = own_chart(np.r_[np.zeros(30), np.full(29, 9.0)] + np.arange(59) * 1e-3, np.arange(59))

    assert np.isnan(chart.standing).all()
    assert chart.signals == []
    assert chart.baseline == 0


def test_sessions_that_agree_are_learned_longer() -> None:
    """Sixty landings of ten days that agree tell less than thirty independent ones, so the chart waits."""
    rng = np.random.default_rng(3)
    code = np.repeat(np.arange(40), 6)
    values = rng.standard_normal(40)[code] + rng.standard_normal(240)

    assert 60 < np.flatnonzero(~np.isnan(own_chart(values, code).standing))[0] < 200
    assert np.flatnonzero(~np.isnan(own_chart(values, np.arange(240)).standing))[0] == 60


@pytest.mark.parametrize("size", [1, 3, 6])
def test_a_lasting_shift_is_found_and_dated(size: int) -> None:
    """Of 60 pilots who shift by 1.5 spreads after 200 landings, 57 and more are flagged within 50, dated within 12."""
    rng = np.random.default_rng(40 + size)
    delay, error = [], []
    for _ in range(60):
        values = rng.standard_normal(300)
        values[200:] += 1.5
        late = [signal for signal in own_chart(values, np.arange(300) // size).signals if signal.at >= 200]
        delay.append(late[0].at - 200 if late else 999)
        error.append(abs(late[0].change - 200) if late else 999)

    assert sum(d < 50 for d in delay) >= 57
    assert np.median(error) <= 12
    assert np.median(delay) < 20


def test_change_away_from_what_is_watched_raises_no_flag() -> None:
    """The chart is one-sided: a shift of 1.5 spreads the other way is not its business."""
    values = np.random.default_rng(7).standard_normal(300)
    values[150:] -= 1.5

    assert own_chart(values, np.arange(300)).signals == []


def test_flag_stays_open_while_the_change_lasts_and_is_one() -> None:
    """A shift of 1 spread that stays is one open flag, however often the chart would signal again."""
    values = np.random.default_rng(8).standard_normal(500)
    values[200:] += 1.0

    signals = own_chart(values, np.arange(500)).signals

    assert [signal.open for signal in signals] == [True]


def test_flag_closes_after_thirty_landings_back_inside() -> None:
    """Back at the usual level, the flag closes and the watch goes on from zero with all landings as baseline."""
    values = np.random.default_rng(9).standard_normal(500)
    values[200:240] += 2.0

    chart = own_chart(values, np.arange(500))

    (signal,) = chart.signals
    assert not signal.open
    assert signal.last >= 239
    assert int(np.flatnonzero(chart.flagged)[-1]) == signal.last + CLOSE_AFTER
    assert chart.baseline > 400


def test_baseline_grows_but_takes_in_no_landing_since_the_chart_left_zero() -> None:
    """An open flag is held against the landings before the change only."""
    values = np.random.default_rng(8).standard_normal(500)
    values[200:] += 1.0

    chart = own_chart(values, np.arange(500))

    assert chart.baseline == chart.signals[0].baseline == chart.signals[0].change
    assert 150 < chart.baseline <= 215


def test_unit_and_origin_do_not_matter() -> None:
    """Feet or metres, from the threshold or the aim point: the same standing."""
    values = np.random.default_rng(10).standard_normal(200)

    plain, moved = own_chart(values, np.arange(200) // 2), own_chart(0.3048 * values + 400.0, np.arange(200) // 2)

    assert moved.standing == pytest.approx(plain.standing, abs=1e-9, nan_ok=True)


def test_the_future_does_not_change_the_past() -> None:
    """The chart of the first 200 landings is the start of the chart of all 300."""
    values = np.random.default_rng(11).standard_normal(300)

    first, whole = own_chart(values[:200], np.arange(200) // 3), own_chart(values, np.arange(300) // 3)

    assert whole.cusum[:200] == pytest.approx(first.cusum, nan_ok=True)


def test_standing_has_mean_0_and_spread_1_when_nothing_changed() -> None:
    """Over 60 skewed streams of 400 the standings have mean 0 and spread 1 within 0.05."""
    rng = np.random.default_rng(12)
    standing = np.concatenate([own_chart(rng.gamma(4.0, size=400), np.arange(400) // 3).standing for _ in range(60)])
    standing = standing[~np.isnan(standing)]

    assert standing.mean() == pytest.approx(0.0, abs=0.05)
    assert standing.std() == pytest.approx(1.0, abs=0.05)


def test_poorly_measured_landings_move_the_chart_less() -> None:
    """A landing with twice the spread counts a quarter toward the baseline and as much toward the chart."""
    values = np.random.default_rng(13).standard_normal(200)
    noise = np.where(np.arange(200) % 2 == 0, 1.0, 2.0)

    chart = own_chart(values * noise, np.arange(200), noise=noise)

    assert chart.worth[1] / chart.worth[0] == pytest.approx(0.25)

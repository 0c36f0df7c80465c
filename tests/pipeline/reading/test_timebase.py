"""Time columns of every form become strictly increasing seconds, or a sentence."""

from datetime import UTC, datetime

import numpy as np
import polars as pl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.errors import LogError
from pipeline.reading.cells import Place
from pipeline.reading.timebase import Timebase, read_timebase, spread_held


def base(cells: list[object] | pl.Series, unit: str = "s") -> Timebase:
    series = cells if isinstance(cells, pl.Series) else pl.Series(cells)
    return read_timebase([series], unit, Place("flight.csv", "Clock"))


@pytest.mark.parametrize(
    ("unit", "cells"),
    [
        ("s", [100.0, 100.5, 101.0, 102.0]),
        ("s", ["100", " 100.5", "101.00", "1.02e2"]),
        ("ms", [7000, 7500, 8000, 9000]),
        ("clock", ["23:59:59", "23:59:59.5", "00:00:00", "00:00:01.000"]),
        ("clock", [" 9:00:01,0", "09:00:01,5", "09:00:02", "09:00:03"]),
        ("iso8601", ["2026-11-25T10:00:00Z", "2026-11-25T10:00:00.5Z", "2026-11-25T10:00:01Z", "2026-11-25T10:00:02Z"]),
        ("iso8601", ["2026-11-25 12:00:00+02:00", "2026-11-25 12:00:00.500+02:00", "2026-11-25 12:00:01+02:00"]),
    ],
)
def test_every_form_of_time_becomes_seconds_from_the_start(unit: str, cells: list[object]) -> None:
    """Seconds, milliseconds, clock time over midnight and ISO 8601 stamps give the same times."""
    found = base(cells, unit)

    assert [0.0, 0.5, 1.0, 2.0][: len(cells)] == pytest.approx(found.t.tolist(), abs=1e-9)
    assert found.notes == ()


def test_iso_stamps_may_have_a_decimal_comma() -> None:
    """The standard allows both marks."""
    found = base(["2026-11-25T10:00:00,25Z", "2026-11-25T10:00:00,75Z", "2026-11-25T10:00:01,25Z"], "iso8601")

    assert found.t.tolist() == [0.0, 0.5, 1.0]
    assert datetime(2026, 11, 25, 10, 0, 0, 250_000, tzinfo=UTC) == found.started_at


def test_native_times_of_a_parquet_log_are_read() -> None:
    """Datetime and time-of-day columns need no text."""
    stamps = pl.Series([datetime(2026, 1, 1, 10, 0, second, tzinfo=UTC) for second in (1, 2)])

    assert base(stamps, "iso8601").t.tolist() == [0.0, 1.0]
    assert datetime(2026, 1, 1, 10, 0, 1, tzinfo=UTC) == base(stamps, "iso8601").started_at
    assert base(stamps.dt.time(), "clock").t.tolist() == [0.0, 1.0]


def test_the_instant_of_the_first_row_is_known_from_iso_stamps_alone() -> None:
    """Offsets are heeded; a stamp without one is taken as UTC, and that is noted."""
    with_offset = base(["", "2026-11-25T12:00:00.25+02:00", "2026-11-25T12:00:01+02:00"], "iso8601")
    naive = base(["2026-11-25 10:00:00.25", "2026-11-25 10:00:01"], "iso8601")

    assert datetime(2026, 11, 25, 10, 0, 0, 250_000, tzinfo=UTC) == with_offset.started_at == naive.started_at
    assert with_offset.notes == ("1 rows without time left out",)
    assert naive.notes == ("the time stamps carry no offset from UTC; taken as UTC",)
    assert base([1.0, 2.0]).started_at is None


def test_rows_that_share_a_stamp_are_spread_up_to_the_next() -> None:
    """A clock of whole seconds on 4 Hz rows: the first second is cut short and ends where the second begins."""
    clock = [10, 10, 11, 11, 11, 11, 12, 12, 12, 12, 13, 13]
    found = base(clock)

    assert np.arange(12) * 0.25 == pytest.approx(found.t)
    assert found.notes == ("8 rows that share the time stamp of the row before spread evenly up to the next stamp",)


def test_the_start_moves_with_the_first_row() -> None:
    """Two rows of 4 Hz left of a second began half a second after its stamp."""
    stamps = [f"2026-11-25T10:00:0{second}Z" for second in (0, 0, 1, 1, 1, 1, 2, 2, 2, 2)]

    assert datetime(2026, 11, 25, 10, 0, 0, 500_000, tzinfo=UTC) == base(stamps, "iso8601").started_at


def test_held_stamps_are_not_spread_over_a_gap() -> None:
    """Rows before a gap of a minute go on at their usual interval."""
    stamps = np.array([0.0, 0, 1, 1, 2, 2, 62, 62, 63, 63])

    assert pytest.approx(spread_held(stamps).tolist()) == [0, 0.5, 1, 1.5, 2, 2.5, 62, 62.5, 63, 63.5]


@given(st.lists(st.integers(0, 3), min_size=2, max_size=60).filter(lambda steps: any(steps[1:])))
def test_spread_times_rise_and_stay_with_their_stamps(steps: list[int]) -> None:
    """Whatever the pattern of held stamps, times rise strictly and no row leaves the interval of its stamp."""
    stamps = np.cumsum(steps).astype(float)
    found = spread_held(stamps)
    after = np.array([min((s for s in stamps if s > stamp), default=np.inf) for stamp in stamps])

    assert (np.diff(found) > 0).all()
    assert (found >= stamps - 1e-9).all()
    assert (found < after).all()


def test_rows_without_time_are_left_out_and_counted() -> None:
    """Blanks in any of their spellings are no time."""
    found = base(["0", None, "1", "NaN", "2", "N/A"])

    assert found.row.tolist() == [0, 2, 4]
    assert "3 rows without time left out" in found.notes


@pytest.mark.parametrize("fault", [5.0, -30.0, 1e9], ids=["a little back", "far back", "far ahead"])
def test_a_short_fault_of_the_clock_is_repaired(fault: float) -> None:
    """One row whose stamp is out of turn is left out, and only that one."""
    seconds = np.arange(40) * 0.5
    seconds[17] = fault
    found = base(seconds.tolist())

    assert [*range(17), *range(18, 40)] == found.row.tolist()
    assert found.notes == ("1 rows whose time runs backward left out",)


def test_time_that_runs_backward_is_refused() -> None:
    """The message says how many rows, the first of them, and by how much time falls there."""
    with pytest.raises(
        LogError, match=r"flight.csv: time column 'Clock' runs backward: 49 of 50 .* at row 2, .* by 0.5 s"
    ):
        base((100 - np.arange(50) * 0.5).tolist())


def test_a_clock_set_back_amid_the_log_is_refused_and_not_half_dropped() -> None:
    """Leaving out every row until the clock catches up would lose landings unseen."""
    seconds = np.concatenate([np.arange(100.0), np.arange(60.0, 120.0)])

    with pytest.raises(LogError, match="at row 101, where it falls by 39 s; split the log there"):
        base(seconds.tolist())


@pytest.mark.parametrize(
    ("cells", "unit", "sentence"),
    [
        ([5.0] * 9, "s", "'Clock' never moves"),
        ([None, None], "s", "'Clock' holds no value"),
        (["", "-"], "clock", "'Clock' holds no value"),
        (["10:00", "10:01"], "clock", "2 of 2 values are not clock time .* row 1 holds '10:00'"),
        (["10:00:00", "25:00:00"], "clock", "row 2 holds '25:00:00'"),
        ([1.0, 2.0], "iso8601", "are not ISO 8601 stamps"),
        (["25/11/2026 10:00"], "iso8601", "row 1 holds '25/11/2026 10:00'"),
        (["09:00:00", "09:00:01"], "s", "'Clock': 2 of 2 values are not numbers"),
    ],
)
def test_a_time_column_that_cannot_be_read_is_refused(cells: list[object], unit: str, sentence: str) -> None:
    """The message names the log, the column and the first cell that is no time."""
    with pytest.raises(LogError, match=sentence) as caught:
        base(cells, unit)

    assert str(caught.value).startswith("flight.csv: ")


def test_a_column_in_pieces_is_one_column() -> None:
    """Midnight and the start are found over all pieces, and rows are counted through."""
    pieces = [pl.Series(["23:59:58", "23:59:59"]), pl.Series(["00:00:00", "00:00:01"])]

    assert read_timebase(pieces, "clock", Place("flight.csv", "Clock")).t.tolist() == [0, 1, 2, 3]
    with pytest.raises(LogError, match="row 3 holds 'x'"):
        read_timebase([pieces[0], pl.Series(["x", "y"])], "clock", Place("flight.csv", "Clock"))

"""A long log is read in stretches that together say what the whole would, without holding it."""

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import numpy as np
import polars as pl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.reading.channel_map import ChannelMap, canonical_map
from pipeline.reading.record import recordings
from pipeline.reading.stretches import row_windows, stretches

SPANS = st.lists(st.tuples(st.integers(0, 50), st.integers(1, 40)), min_size=1, max_size=6)


def table(tmp_path: Path, rows: int, **more: pl.Series) -> Path:
    path = tmp_path / "table.parquet"
    t = np.arange(rows) / 2.0
    pl.DataFrame({"t_s": t, "pitch_deg": np.sin(t / 50.0), **more}).write_parquet(path, row_group_size=700)
    return path


def chosen() -> ChannelMap:
    found = canonical_map(("t_s", "pitch_deg"))
    assert found is not None
    return found


def test_every_instant_belongs_to_one_stretch_and_every_stretch_sees_beyond_it() -> None:
    """Owned intervals abut from the beginning to the end of time; 600 s before and 180 s after are there too."""
    t = np.arange(10_000) / 2.0
    parts = stretches(t, stretch_rows=3000)

    assert len(parts) == 4
    assert (-np.inf, np.inf) == (parts[0].own_from_s, parts[-1].own_to_s)
    for one, following in pairwise(parts):
        assert one.own_to_s == following.own_from_s
        assert following.own_from_s - 600.0 == t[following.first]
        assert one.own_to_s + 180.0 == t[one.end - 1]


@pytest.mark.parametrize("stretch_rows", [900, 2500, 9000])
def test_stretches_hold_the_samples_of_the_whole(tmp_path: Path, stretch_rows: int) -> None:
    """Time counts from the log's start in every stretch, and what each owns is what the whole log has there."""
    path = table(tmp_path, 9000)
    (whole,) = recordings(path, chosen(), log_sha256="00", log_file="flight.csv")
    parts = list(
        recordings(path, chosen(), log_sha256="00", log_file="flight.csv", long_rows=100, stretch_rows=stretch_rows)
    )
    owned = []
    for part in parts:
        t, value = part.channels["pitch_deg"].t, part.channels["pitch_deg"].value
        owned.append(np.column_stack([t, value])[(t >= part.own_from_s) & (t < part.own_to_s)])

    assert -(-9000 // stretch_rows) == len(parts)
    expected = np.column_stack([whole.channels["pitch_deg"].t, whole.channels["pitch_deg"].value])
    assert np.array_equal(expected, np.concatenate(owned))


def test_rows_are_counted_through_a_long_log(tmp_path: Path) -> None:
    """A note about a late stretch gives the row of the log, also where rows without time come before."""
    roll = pl.Series([0.0] * 8000 + [999.0] + [0.0] * 999)
    path = table(tmp_path, 9000, roll_deg=roll)
    frame = pl.read_parquet(path).with_columns(pl.when(pl.int_range(pl.len()) != 5).then("t_s").alias("t_s"))
    frame.write_parquet(path, row_group_size=700)
    found = canonical_map(("t_s", "roll_deg"))
    assert found is not None
    parts = list(recordings(path, found, log_sha256="00", log_file="x", long_rows=100, stretch_rows=3000))

    notes = [note for note in parts[-1].notes if note.startswith("roll")]
    assert notes == ["roll: column roll_deg: 1 values outside -180 to 180 deg set aside; row 8001 gives 999"]
    assert "1 rows without time left out" in parts[0].notes


@given(spans=SPANS)
def test_windows_are_the_rows_asked_for(tmp_path_factory: pytest.TempPathFactory, spans: list[tuple[int, int]]) -> None:
    """Overlapping or apart, every window holds just its rows."""
    path = tmp_path_factory.mktemp("windows") / "table.parquet"
    pl.DataFrame({"n": range(400)}).write_parquet(path, row_group_size=64)
    starts = np.cumsum([step for step, _ in spans])
    ends = np.maximum.accumulate(starts + [length for _, length in spans])
    asked = [(int(a), int(b)) for a, b in zip(starts, ends, strict=True)]

    assert [list(range(a, b)) for a, b in asked] == [w["n"].to_list() for w in row_windows(path, ["n"], asked)]


def test_a_generator_of_stretches_holds_no_file_open(tmp_path: Path, load: Callable[[str], ChannelMap]) -> None:
    """A log may be left half read."""
    path = table(tmp_path, 9000)
    first = next(iter(recordings(path, chosen(), log_sha256="00", log_file="x", long_rows=100, stretch_rows=900)))
    path.unlink()

    assert -np.inf == first.own_from_s

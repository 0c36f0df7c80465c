"""A log read as its map says: the same flight in any convention is the same recording."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import polars as pl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pipeline.channels import BY_KEY
from pipeline.errors import LogError, MapError
from pipeline.reading.channel_map import ChannelMap
from pipeline.reading.record import recordings
from pipeline.recording import Recording

Load = Callable[[str], ChannelMap]
Read = Callable[..., Recording]

METRIC = """time = { column = "Stempel", unit = "iso8601" }
[channels]
radio_height = { column = "Höhe", unit = "m" }
vertical_speed = { column = "Sinken", unit = "m/s", positive = "down" }
pitch = { column = "Nick", unit = "rad" }
normal_accel = { column = "Az", unit = "m/s2", at_rest = 0.0 }
thrust_lever = { columns = ["Hebel 1", "Hebel 2"], unit = "deg", idle = 12.0, full = 64.0 }
glideslope = { column = "GS", unit = "mrad", positive = "below" }
heading_true = { column = "Kurs", unit = "rad" }
main_on_ground = { columns = ["Boden L", "Boden R"], true_when = "GND", combine = "any" }
"""
TERSE = """time = { column = "clk", unit = "clock" }
[channels]
radio_height = { column = "h", unit = "yd", lag_s = 0.25 }
vertical_speed = { column = "v", unit = "kt" }
pitch = { column = "p", unit = "deg", positive = "down" }
normal_accel = { column = "n", unit = "g", at_rest = -1.0, positive = "down" }
thrust_lever = { column = "l", unit = "fraction" }
glideslope = { column = "g", unit = "dots", dot_deg = 0.7 }
heading_true = { column = "hdg", unit = "deg" }
main_on_ground = { column = "air", true_when = false }
"""


def metric(flight: pl.DataFrame) -> pl.DataFrame:
    """Metres, radians, ISO stamps, two levers that differ, two ground switches, turned signs."""
    lever = 12.0 + pl.col("thrust_lever_pct") * 0.52
    on_ground = pl.when(pl.col("main_on_ground") > 0).then(pl.lit("GND")).otherwise(pl.lit("AIR"))
    start = datetime(2026, 11, 25, 23, 59, 30, tzinfo=UTC)
    stamp = pl.lit(start) + pl.duration(milliseconds=(pl.col("t_s") * 1000).cast(pl.Int64))
    return flight.select(
        stamp.dt.strftime("%Y-%m-%dT%H:%M:%S%.3fZ").alias("Stempel"),
        (pl.col("radio_height_ft") * 0.3048).alias("Höhe"),
        (-pl.col("vertical_speed_fpm") * 0.3048 / 60).alias("Sinken"),
        pl.col("pitch_deg").radians().alias("Nick"),
        ((pl.col("normal_accel_g") - 1.0) * 9.80665).alias("Az"),
        (lever - 3.0).alias("Hebel 1"),
        (lever + 3.0).alias("Hebel 2"),
        (-pl.col("glideslope_dots") * 0.35 * np.pi / 180 * 1000).alias("GS"),
        ((pl.col("heading_true_deg") - 360.0).radians()).alias("Kurs"),
        pl.lit("AIR").alias("Boden L"),
        on_ground.alias("Boden R"),
        pl.lit("unused").alias("remark"),
    )


def terse(flight: pl.DataFrame) -> pl.DataFrame:
    """Yards a quarter second late, knots, clock time over midnight, an accelerometer that reads -1 at rest."""
    seconds = (pl.col("t_s") + 86370.0) % 86400.0
    late = flight.select(pl.col("radio_height_ft").shift(1) / 3.0).to_series()
    return flight.select(
        (seconds * 1e9).cast(pl.Int64).cast(pl.Time).dt.strftime("%H:%M:%S%.3f").alias("clk"),
        late.alias("h"),
        (pl.col("vertical_speed_fpm") / (1852 / 60 / 0.3048)).alias("v"),
        (-pl.col("pitch_deg")).alias("p"),
        (-pl.col("normal_accel_g")).alias("n"),
        (pl.col("thrust_lever_pct") / 100.0).alias("l"),
        (pl.col("glideslope_dots") / 2.0).alias("g"),
        (pl.col("heading_true_deg") + 360.0).alias("hdg"),
        (pl.col("main_on_ground") == 0).alias("air"),
    )


def same(one: Recording, other: Recording) -> None:
    """Assert that two recordings hold the same samples to rounding."""
    assert set(one.channels) == set(other.channels)
    for name, samples in one.channels.items():
        n = len(other.channels[name].t)
        assert n >= len(samples.t) - 1  # a shift for the lag leaves one sample less
        assert samples.t[:n] == pytest.approx(other.channels[name].t, abs=1e-6), name
        assert samples.value[:n] == pytest.approx(other.channels[name].value, abs=1e-6), name


def test_one_flight_in_three_conventions_is_one_recording(flight: pl.DataFrame, load: Load, read: Read) -> None:
    """Names, units, signs, rates, lag, several columns and forms of time leave no trace."""
    canonical = read(flight)
    in_metres = read(metric(flight).write_csv(separator=";").encode(), load(METRIC))
    in_short = read(terse(flight), load(TERSE))

    same(canonical, in_metres)
    same(canonical, in_short)
    assert datetime(2026, 11, 25, 23, 59, 30, tzinfo=UTC) == in_metres.started_at
    assert (canonical.started_at, in_short.started_at) == (None, None)
    assert canonical.duration_s == pytest.approx(in_metres.duration_s) == pytest.approx(in_short.duration_s)


def test_a_canonical_log_is_read_as_it_stands(flight: pl.DataFrame, read: Read) -> None:
    """Samples are the rows that are not blank; nothing is changed and nothing noted."""
    found = read(flight)

    assert flight["radio_height_ft"].to_list() == found.channels["radio_height_ft"].value.tolist()
    assert flight.drop_nulls("pitch_deg")["t_s"].to_list() == found.channels["pitch_deg"].t.tolist()
    assert (found.rows, found.duration_s, found.notes) == (240, 59.75, ())
    assert set(found.channels) == {name for name in flight.columns if name != "t_s"}


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25, deadline=None)
@given(
    scale=st.floats(0.01, 100.0),
    key=st.sampled_from(["radio_height", "pitch", "airspeed", "vertical_speed", "gross_weight"]),
    seed=st.integers(0, 2**16),
    blanks=st.integers(0, 30),
)
def test_text_and_native_columns_read_alike(
    read: Read, load: Load, scale: float, key: str, seed: int, blanks: int
) -> None:
    """A CSV written with all digits and a Parquet of the same numbers give the very same samples."""
    random = np.random.default_rng(seed)
    channel = BY_KEY[key]
    values: list[float | None] = list(
        (channel.low + (channel.high - channel.low) * random.random(40)) * min(scale, 1.0)
    )
    for i in random.integers(0, 40, blanks):
        values[i] = None
    values[7] = 0.5 * (channel.low + channel.high)
    frame = pl.DataFrame({"t": np.arange(40) / 8.0, "c": pl.Series(values, dtype=pl.Float64)})
    chosen = load(f'{key} = {{ column = "c", unit = "{channel.unit}" }}')
    native, text = read(frame, chosen), read(frame.write_csv().encode(), chosen)

    assert native.channels[channel.name].t.tolist() == text.channels[channel.name].t.tolist()
    assert native.channels[channel.name].value.tolist() == text.channels[channel.name].value.tolist()


def column(read: Read, load: Load, said: str, cells: list[object], **more: list[object]) -> Recording:
    """Recording of one channel whose column is `c`, one row a second."""
    frame = pl.DataFrame({"t": np.arange(float(len(cells))), "c": cells, **more}, strict=False)
    return read(frame, load(said))


PITCH = 'pitch = { column = "c", unit = "deg" }'


def test_blanks_of_every_spelling_are_no_samples(read: Read, load: Load) -> None:
    """Empty cells, dashes, NaN and the words for nothing are blanks and need no note."""
    found = column(read, load, PITCH, ["1", "", " ", "-", "NaN", "nan", "N/A", "NA", "null", None, "--", "#N/A", "2"])

    assert found.channels["pitch_deg"].value.tolist() == [1.0, 2.0]
    assert found.channels["pitch_deg"].t.tolist() == [0.0, 12.0]
    assert found.notes == ()


def test_nan_and_infinity_never_pass(read: Read, load: Load) -> None:
    """NaN is a blank; infinity is no measurement and is counted; text and native alike."""
    for cells in ([1.0, np.nan, np.inf, -np.inf, 2.0], ["1", "NaN", "inf", "-Infinity", "2"]):
        found = column(read, load, PITCH, list(cells))

        assert found.channels["pitch_deg"].value.tolist() == [1.0, 2.0]
        (note,) = found.notes
        assert note == "pitch: column c: 2 values outside -60 to 60 deg set aside; row 3 gives inf"


def test_a_little_text_among_numbers_is_set_aside_and_counted(read: Read, load: Load) -> None:
    """One value in twenty may be something else; the note says where the first is and what it holds."""
    found = column(read, load, PITCH, [*map(str, range(19)), "FAIL"])

    assert len(found.channels["pitch_deg"].value) == 19
    assert found.notes == ("pitch: column c: 1 values that are not numbers set aside; row 20 holds 'FAIL'",)


def test_text_in_a_number_column_is_refused(read: Read, load: Load) -> None:
    """More than one in twenty is another column: the message names the column, the row and the text."""
    with pytest.raises(LogError, match=r"flight.log: column 'c': 2 of 20 values are not numbers: row 5 holds 'UP'"):
        column(read, load, PITCH, ["1", "2", "3", "4", "UP", "DN", *map(str, range(14))])


def test_a_column_that_is_no_numbers_at_all_is_refused(read: Read, load: Load) -> None:
    """Dates, lists and the like cannot be a channel."""
    with pytest.raises(LogError, match="column 'c' holds List"):
        column(read, load, PITCH, [[1.0], [2.0]])


def test_a_decimal_comma_is_read_in_a_semicolon_log_alone(read: Read, load: Load) -> None:
    """In a comma log a quoted 1,5 might be anything, and is refused."""
    chosen = load(PITCH)

    assert read(b"t;c\n0;1,5\n1,5;-0,25\n", chosen).channels["pitch_deg"].value.tolist() == [1.5, -0.25]
    with pytest.raises(LogError, match="row 1 holds '1,5'"):
        read(b't,c\n0,"1,5"\n1,"2,5"\n', chosen)


def test_values_outside_the_plausible_range_are_set_aside(read: Read, load: Load) -> None:
    """A sample that cannot be is no sample; the range is in the channel's own unit, after conversion."""
    found = column(read, load, 'pitch = { column = "c", unit = "rad" }', [0.1, 2.0, 0.2])

    assert pytest.approx(np.radians(found.channels["pitch_deg"].value).tolist()) == [0.1, 0.2]
    assert "1 values outside -60 to 60 deg set aside; row 2 gives 114.592" in found.notes[0]


def test_an_all_blank_channel_is_left_out_and_said(read: Read, load: Load) -> None:
    """A channel without a value is not there, and the note names its column."""
    found = column(read, load, PITCH, [None, None, None])

    assert dict(found.channels) == {}
    assert found.notes == ("pitch left out: column c holds no value",)


def test_a_localiser_in_degrees_is_left_out_with_what_it_needs(read: Read, load: Load) -> None:
    """The note says which key of the map would make it readable."""
    found = column(read, load, 'localiser = { column = "c", unit = "deg" }', [0.1, 0.2])

    assert "localiser_dots" not in found.channels
    assert "localiser left out: the map must state dot_deg" in found.notes[0]


def test_angles_are_wrapped_and_averaged_on_the_circle(read: Read, load: Load) -> None:
    """Headings run from 0 to below 360; two sensors either side of north average to north."""
    wrapped = column(read, load, 'heading_true = { column = "c", unit = "deg" }', [-10.0, 360.0, 725.0 - 360.0, -1e-15])
    mean = column(read, load, 'heading_true = { columns = ["c", "d"], unit = "deg" }', [358.0, 10.0], d=[2.0, 20.0])

    assert pytest.approx(wrapped.channels["heading_true_deg"].value.tolist()) == [350.0, 0.0, 5.0, 0.0]
    assert (wrapped.channels["heading_true_deg"].value < 360.0).all()
    assert [1.0, np.cos(np.radians(15.0))] == pytest.approx(
        np.cos(np.radians(mean.channels["heading_true_deg"].value)).tolist()
    )


def test_several_columns_are_averaged_over_those_that_have_a_value(read: Read, load: Load) -> None:
    """A sensor that is blank or out of range does not spoil the other."""
    found = column(
        read, load, 'pitch = { columns = ["c", "d"], unit = "deg" }', [1.0, 2.0, 3.0, None], d=[3.0, None, 999.0, None]
    )

    assert found.channels["pitch_deg"].value.tolist() == [2.0, 2.0, 3.0]


@pytest.mark.parametrize(
    ("said", "cells", "other", "expected"),
    [
        ('gear_down = { column = "c" }', [0, 1, 1], None, [0, 1, 1]),
        ('gear_down = { column = "c" }', ["0", "1.0", "1"], None, [0, 1, 1]),
        ('gear_down = { column = "c" }', ["off", "ON", " yes "], None, [0, 1, 1]),
        ('gear_down = { column = "c" }', [False, True, True], None, [0, 1, 1]),
        ('gear_down = { column = "c", true_when = "down" }', ["UP", "DOWN", ""], None, [0, 1]),
        ('gear_down = { column = "c", true_when = ["DN", "LK"] }', ["UP", "DN", "LK"], None, [0, 1, 1]),
        ('gear_down = { column = "c", true_when = 2 }', [0, 2, 1], None, [0, 1, 0]),
        ('gear_down = { column = "c", true_when = "2" }', ["0.0", "2.0", "1"], None, [0, 1, 0]),
        ('gear_down = { column = "c", true_when = false }', [True, False, None], None, [0, 1]),
        ('gear_down = { columns = ["c", "d"] }', [0, 1, 0], [0, 0, 1], [0, 1, 1]),
        ('gear_down = { columns = ["c", "d"], combine = "all" }', [0, 1, 1], [0, 0, 1], [0, 0, 1]),
        ('reverse = { column = "c", true_when = "REV" }', ["FWD", "REV", "-"], None, [0, 100]),
        ('reverse = { columns = ["c", "d"], true_when = 1, combine = "any" }', [0, 1, 0], [0, 0, 1], [0, 100, 100]),
    ],
)
def test_switches_are_0_and_1_and_percent_switches_0_and_100(
    read: Read, load: Load, said: str, cells: list[object], other: list[object] | None, expected: list[float]
) -> None:
    """Numbers, words and stated readings, in one or two columns, mean yes or no."""
    found = column(read, load, said, cells, **({} if other is None else {"d": other}))
    (samples,) = found.channels.values()

    assert expected == samples.value.tolist()
    assert found.notes == ()


def test_a_switch_of_other_values_asks_for_its_state(read: Read, load: Load) -> None:
    """Values that are neither yes nor no are not guessed at."""
    with pytest.raises(
        LogError, match=r"column 'c': 2 of 3 values are not 0 and 1 \(state true_when .* row 1 holds 'GND'"
    ):
        column(read, load, 'main_on_ground = { column = "c" }', ["GND", "AIR", "1"])


def test_a_state_that_never_occurs_is_noted(read: Read, load: Load) -> None:
    """A misspelt reading would silently be no throughout."""
    found = column(read, load, 'main_on_ground = { column = "c", true_when = "GROUND" }', ["GND", "AIR"])

    assert found.channels["main_on_ground"].value.tolist() == [0.0, 0.0]
    assert found.notes == ("main_on_ground: column c never holds 'GROUND' but 'gnd', 'air': read as no throughout",)


def test_a_lag_moves_samples_earlier(read: Read, load: Load) -> None:
    """A reading that is 0.4 s late belongs 0.4 s before its row."""
    found = column(read, load, 'pitch = { column = "c", unit = "deg", lag_s = 0.4 }', [1.0, 2.0])

    assert pytest.approx(found.channels["pitch_deg"].t.tolist()) == [-0.4, 0.6]


def test_at_rest_is_one_g_normal_to_the_aircraft_and_none_along_it(read: Read, load: Load) -> None:
    """An accelerometer's reading at rest is 1 g for the normal axis and 0 for the others."""
    normal = column(read, load, 'normal_accel = { column = "c", unit = "m/s2", at_rest = 9.9 }', [9.9, 9.9 + 9.80665])
    along = column(read, load, 'longitudinal_accel = { column = "c", unit = "g", at_rest = 0.02 }', [0.02, 0.32])

    assert pytest.approx(normal.channels["normal_accel_g"].value.tolist()) == [1.0, 2.0]
    assert pytest.approx(along.channels["longitudinal_accel_g"].value.tolist()) == [0.0, 0.3]


def test_a_map_that_names_a_missing_column_is_refused(read: Read, load: Load) -> None:
    """Reading by a map that does not fit says so by map, key and column."""
    with pytest.raises(MapError, match=r"map recorder.toml: channels.roll names column 'r'"):
        column(read, load, 'roll = { column = "r", unit = "deg" }', [1.0])


def test_a_damaged_table_is_refused(tmp_path: Path, load: Load) -> None:
    """Bytes that rot after the table was written end in a sentence."""
    table = tmp_path / "table.parquet"
    pl.DataFrame({"t": np.arange(4000.0), "c": np.random.default_rng(1).random(4000)}).write_parquet(table)
    content = bytearray(table.read_bytes())
    content[200:2000] = b"\xff" * 1800
    table.write_bytes(bytes(content))

    with pytest.raises(LogError, match=r"flight.csv: its table is damaged"):
        list(recordings(table, load(PITCH), log_sha256="00", log_file="flight.csv"))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25, deadline=None)
@given(untimed=st.sets(st.integers(0, 39), max_size=30))
def test_rows_without_time_take_their_values_with_them(read: Read, load: Load, untimed: set[int]) -> None:
    """Wherever rows without time stand, first and last too, the others keep their own values."""
    frame = pl.DataFrame({"t": np.arange(40) / 4.0, "c": np.sin(np.arange(40.0))})
    lost = pl.int_range(pl.len()).is_in(sorted(untimed))
    found = read(frame.with_columns(pl.when(~lost).then("t").alias("t")), load(PITCH))
    expected = read(frame.filter(~lost), load(PITCH))

    assert expected.channels["pitch_deg"].t.tolist() == found.channels["pitch_deg"].t.tolist()
    assert expected.channels["pitch_deg"].value.tolist() == found.channels["pitch_deg"].value.tolist()


def test_a_line_of_units_below_the_header_moves_nothing(read: Read, load: Load) -> None:
    """The line has no time and is left out; notes of later rows count it, as rows are counted in the file."""
    found = read(b"t,c\ns,deg\n0,1.5\n1,999\n" + b"".join(b"%d,2.5\n" % i for i in range(2, 30)), load(PITCH))

    assert found.channels["pitch_deg"].t[:2].tolist() == [0.0, 2.0]
    assert found.channels["pitch_deg"].value[:2].tolist() == [1.5, 2.5]
    assert "pitch: column c: 1 values outside -60 to 60 deg set aside; row 3 gives 999" in found.notes


def test_only_mapped_columns_are_read(read: Read, load: Load) -> None:
    """Text in a column no channel needs is nobody's business."""
    found = column(read, load, PITCH, [1.0, 2.0], remark=["a", "b"])

    assert list(found.channels) == ["pitch_deg"]
    assert found.notes == ()


def test_a_column_of_words_costs_its_channel_alone(read: Read, load: Load) -> None:
    """Beside a channel that can be read, one that cannot is left out and suspect, with the reason."""
    log = b"t,p,r\n" + b"".join(b"%d,level,%d\n" % (i, i % 3) for i in range(20))
    recording = read(log, load('pitch = { column = "p", unit = "deg" }\nroll = { column = "r", unit = "deg" }'))

    assert list(recording.channels) == ["roll_deg"]
    assert list(recording.suspect) == ["pitch_deg"]
    assert recording.suspect["pitch_deg"].startswith("column 'p': 20 of 20 values are not numbers: row 1 holds 'level'")
    assert any(note.startswith("pitch left out: column 'p'") for note in recording.notes)


def test_values_repeated_on_faster_rows_are_thinned(read: Read, load: Load) -> None:
    """Pitch of 2 Hz repeated on rows of 8 Hz is pitch of 2 Hz; a constant flap keeps every row."""
    pitch = np.round(3.0 * np.sin(np.arange(120) / 3.0), 2)
    frame = pl.DataFrame({"t": np.arange(480) / 8.0, "p": np.repeat(pitch, 4), "f": np.full(480, 30.0)})
    recording = read(frame, load('pitch = { column = "p", unit = "deg" }\nflap = { column = "f", unit = "deg" }'))

    assert recording.channels["pitch_deg"].t.tolist() == (np.arange(120) / 2.0).tolist()
    assert recording.channels["pitch_deg"].value.tolist() == pitch.tolist()
    assert len(recording.channels["flap_deg"].t) == 480
    assert recording.repairs["pitch_deg"].repeats == 360
    assert "pitch: 360 values repeated on rows faster than the channel left out" in recording.notes


def test_spikes_are_dropped_and_counted(read: Read, load: Load) -> None:
    """Three altitudes of another aircraft go, and are said."""
    altitude = 3000.0 - 10.0 * np.arange(100.0)
    altitude[40:43] = 31000.0
    frame = pl.DataFrame({"t": np.arange(100.0), "a": altitude})
    recording = read(frame, load('pressure_altitude = { column = "a", unit = "ft" }'))

    assert recording.channels["pressure_altitude_ft"].value.max() == 3000.0
    assert len(recording.channels["pressure_altitude_ft"].t) == 97
    assert recording.repairs["pressure_altitude_ft"].spikes == 3


@pytest.mark.parametrize("times", [2, 3])
def test_rows_written_twice_are_one_row(read: Read, load: Load, times: int) -> None:
    """Copies of whole rows are dropped, not spread in time."""
    rows = [f"{i / 2},{i * i % 7 + i / 10}\n" for i in range(40)]
    log = "t,p\n" + "".join(row * times for row in rows)
    recording = read(log.encode(), load('pitch = { column = "p", unit = "deg" }'))

    assert recording.channels["pitch_deg"].t.tolist() == [i / 2 for i in range(40)]
    assert recording.notes == (f"{40 * (times - 1)} rows that repeat the row before in every column left out",)


def test_held_stamps_are_spread_though_some_rows_are_alike(read: Read, load: Load) -> None:
    """Eight rows a stamp are eight samples a second, also while nothing moves."""
    pitch = np.where(np.arange(160) < 80, 1.0, np.round(np.sin(np.arange(160) / 5.0), 3))
    frame = pl.DataFrame({"t": np.arange(160) // 8, "p": pitch})
    recording = read(frame, load('pitch = { column = "p", unit = "deg" }'))

    assert np.allclose(recording.channels["pitch_deg"].t, np.arange(160) / 8.0)


def test_uneven_rows_are_said(read: Read, load: Load) -> None:
    """Frames of 0.1 to 0.4 s are named; a recorder's jitter of a tenth is not."""
    rng = np.random.default_rng(1)
    told = []
    for low, high in ((0.1, 0.4), (0.19, 0.21)):
        t = np.cumsum(rng.uniform(low, high, 300))
        log = pl.DataFrame({"t": t, "p": np.sin(t)})
        told.append(read(log, load('pitch = { column = "p", unit = "deg" }')).notes)

    assert [note.startswith("rows come unevenly: one step in ten is under 0.1") for note in told[0]] == [True]
    assert told[1] == ()


def test_a_gap_in_time_is_said(read: Read, load: Load) -> None:
    """A jump of the clock is no fault, but it is named."""
    t = np.concatenate([np.arange(30.0), np.arange(95.0, 120.0)])
    frame = pl.DataFrame({"t": t, "p": np.sin(t)})
    recording = read(frame, load('pitch = { column = "p", unit = "deg" }'))

    assert recording.notes == ("time jumps ahead once, by 66 s at most: a gap in the log",)

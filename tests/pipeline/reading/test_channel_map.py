"""Channel maps: what they may say, which one fits a log, and the sentence when they are wrong."""

from collections.abc import Callable
from pathlib import Path

import pytest

from pipeline.channels import CHANNELS
from pipeline.errors import LogError, MapError
from pipeline.reading.channel_map import ChannelMap, canonical_map, choose_map, load_map, require_columns

Load = Callable[[str], ChannelMap]
WHOLE = """time = { column = "Clock", unit = "clock" }
[channels]
radio_height   = { column = "HtRadio", unit = "yd" }
vertical_speed = { column = "Vert", unit = "kt", positive = "down", lag_s = 0.4 }
normal_accel   = { column = "AccN", unit = "m/s2", at_rest = 9.80665 }
thrust_lever   = { columns = ["Lever1", "Lever2"], unit = "deg", idle = 12.0, full = 64.0 }
main_on_ground = { columns = ["AirGndL", "AirGndR"], true_when = "GND", combine = "all" }
flap           = { column = "Flap", unit = "fraction", full_deg = 40 }
"""


def test_a_map_tells_the_columns_it_needs_and_the_line_each_channel_follows(load: Load) -> None:
    """Scale and offset follow from unit, sign and readings; worked by hand."""
    found = load(WHOLE)

    assert found.columns == ("Clock", "HtRadio", "Vert", "AccN", "Lever1", "Lever2", "AirGndL", "AirGndR", "Flap")
    lines = {key: (line.scale, line.offset) for key, line in found.scalings.items()}
    assert pytest.approx(lines["radio_height"]) == (3.0, 0.0)
    assert pytest.approx(lines["vertical_speed"]) == (-1852 / 60 / 0.3048, 0.0)
    assert pytest.approx(lines["normal_accel"]) == (1 / 9.80665, 0.0)  # at rest it reads just 1 g
    assert pytest.approx(lines["thrust_lever"]) == (100 / 52, -1200 / 52)
    assert pytest.approx(lines["flap"]) == (40.0, 0.0)


def test_the_hash_is_of_what_a_map_says_not_of_how_it_is_laid_out(load: Load) -> None:
    """Order, spaces and remarks do not change a map; a sign does."""
    one = load('pitch = { column = "p", unit = "deg" }\nroll = { column = "r", unit = "deg" }')
    same = load('# mine\nroll = {unit="deg", column="r"}\npitch = { column = "p", unit = "deg" }')
    other = load('pitch = { column = "p", unit = "deg", positive = "down" }\nroll = { column = "r", unit = "deg" }')

    assert one.sha256 == same.sha256 != other.sha256


@pytest.mark.parametrize(
    ("said", "scale"),
    [
        ('glideslope = { column = "c", unit = "dots" }', 1.0),
        ('glideslope = { column = "c", unit = "dots", positive = "below" }', -1.0),
        ('glideslope = { column = "c", unit = "dots", dot_deg = 0.07 }', 0.2),  # ten dots full scale
        ('glideslope = { column = "c", unit = "deg" }', 1 / 0.35),
        ('glideslope = { column = "c", unit = "mrad" }', 57.29577951308232e-3 / 0.35),
        ('localiser = { column = "c", unit = "dots", positive = "left" }', -1.0),
        ('localiser = { column = "c", unit = "deg", dot_deg = 1.25 }', 0.8),
    ],
)
def test_deviations_become_dots_of_a_two_dot_scale(load: Load, said: str, scale: float) -> None:
    """One glideslope dot is 0.35 deg; a localiser's width is a matter of the runway, so the map must say it."""
    (line,) = load(said).scalings.values()

    assert (pytest.approx(scale), 0.0, None) == (line.scale, line.offset, line.missing)


@pytest.mark.parametrize("said", ['unit = "deg"', 'unit = "dots", dot_deg = 0.5'])
def test_a_localiser_whose_dot_cannot_be_known_says_what_it_needs(load: Load, said: str) -> None:
    """Without the angle of half the runway's full scale an angle is no number of dots."""
    (line,) = load(f'localiser = {{ column = "c", {said} }}').scalings.values()

    assert line.missing is not None
    assert "dot_deg" in line.missing


WRONG = {
    "no TOML": ("x ==", "not a TOML file"),
    "no channel": ("", "channels = {}"),
    "no time": ('time = { unit = "s" }\n[channels]\npitch = { column = "p", unit = "deg" }', "time.column is missing"),
    "time unit": (WHOLE.replace('"clock"', '"hours"'), "time.unit = 'hours'"),
    "unknown channel": ('pich = { column = "p", unit = "deg" }', "channels.pich is no channel; did you mean pitch?"),
    "with its unit": ('pitch_deg = { column = "p", unit = "deg" }', "did you mean pitch?"),
    "unknown key": ('pitch = { colum = "p", unit = "deg" }', "channels.pitch.colum is no key .* did you mean column?"),
    "no table": ("pitch = 3", "channels.pitch = 3: needs a table"),
    "no unit": ('pitch = { column = "p" }', "channels.pitch: unit is missing"),
    "unknown unit": ('pitch = { column = "p", unit = "grue" }', "channels.pitch: unit 'grue' is not known"),
    "wrong dimension": ('pitch = { column = "p", unit = "ft" }', "channels.pitch: unit 'ft' found where an angle"),
    "no column": ('pitch = { unit = "deg" }', "needs one of column"),
    "both": ('pitch = { column = "p", columns = ["q"], unit = "deg" }', "needs one of column"),
    "column twice": ('pitch = { columns = ["q", "q"], unit = "deg" }', "names a column twice"),
    "sideways": ('pitch = { column = "p", unit = "deg", positive = "sideways" }', "pitch.positive = 'sideways'"),
    "wrong way": ('pitch = { column = "p", unit = "deg", positive = "left" }', "use 'up' or 'down'"),
    "no way": ('airspeed = { column = "p", unit = "kt", positive = "up" }', "means nothing for airspeed"),
    "idle alone": ('thrust_lever = { column = "p", unit = "deg", idle = 3 }', "idle and full belong together"),
    "idle is full": ('thrust_lever = { column = "p", idle = 3, full = 3 }', "must differ"),
    "at rest": ('pitch = { column = "p", unit = "deg", at_rest = 3 }', "at_rest does not go with pitch"),
    "states": ('pitch = { column = "p", true_when = "UP" }', "true_when does not go with pitch"),
    "mean of switches": ('gear_down = { columns = ["a", "b"], combine = "mean" }', "use 'any' or 'all'"),
    "any of numbers": ('pitch = { columns = ["a", "b"], unit = "deg", combine = "any" }', "numbers are averaged"),
    "not finite": ('pitch = { column = "a", unit = "deg", lag_s = nan }', "pitch.lag_s = nan"),
    "dot of an angle": ('glideslope = { column = "a", unit = "deg", dot_deg = 0.3 }', "dot_deg belongs to unit"),
}


@pytest.mark.parametrize(("said", "sentence"), WRONG.values(), ids=WRONG)
def test_a_wrong_map_is_refused_by_file_and_key(load: Load, said: str, sentence: str) -> None:
    """The message names the file, the key, what was found and how to mend it."""
    with pytest.raises(MapError, match=sentence) as caught:
        load(said)

    assert str(caught.value).startswith("map recorder.toml: ")


def test_a_map_that_is_not_there_is_said(tmp_path: Path) -> None:
    """A path that is no file is said with its name."""
    with pytest.raises(MapError, match=r"map none.toml: there is no such file"):
        load_map(tmp_path / "none.toml")


def test_canonical_names_are_taken_as_they_are() -> None:
    """A log that bears `t_s` and canonical names needs no map; other columns are passed over."""
    found = canonical_map(("gear_down", "t_s", "pitch_deg", "cabin"))

    assert found is not None
    assert found.columns == ("t_s", "pitch_deg", "gear_down")
    assert canonical_map(("pitch_deg",)) is None
    assert canonical_map(("t_s", "cabin")) is None


def test_every_canonical_channel_has_a_rule_of_its_own() -> None:
    """No channel of the table is out of a canonical log's reach, and none is scaled."""
    found = canonical_map(("t_s", *CHANNELS))

    assert found is not None
    assert len(CHANNELS) == len(found.rules)
    assert {(1.0, 0.0, None)} == {(line.scale, line.offset, line.missing) for line in found.scalings.values()}


def test_the_one_map_whose_columns_all_exist_is_chosen(load: Load) -> None:
    """A map that fits goes before canonical names; one that does not fit is passed over."""
    fits = load('pitch = { column = "p", unit = "deg" }')
    other = load('pitch = { column = "q", unit = "deg" }')

    assert fits is choose_map(["t", "p", "t_s", "pitch_deg"], [other, fits], log_file="flight.csv")
    assert choose_map(["t", "t_s", "pitch_deg"], [other, fits], log_file="flight.csv").name == "canonical names"


def test_two_maps_that_fit_are_refused_by_name(load: Load) -> None:
    """Which of two is meant is for a person to say."""
    one, two = load('pitch = { column = "p", unit = "deg" }'), load('roll = { column = "p", unit = "deg" }')

    with pytest.raises(MapError, match=r"flight.csv: recorder.toml and recorder.toml both fit .* --map"):
        choose_map(["t", "p"], [one, two], log_file="flight.csv")


def test_where_no_map_fits_the_nearest_is_named_with_what_it_misses(load: Load) -> None:
    """The message says which column is missing from the nearest map and which the log has."""
    near = load('pitch = { column = "p", unit = "deg" }\nroll = { column = "r", unit = "deg" }')

    with pytest.raises(
        LogError, match=r"recorder.toml, needs 'r', which the log does not have; its columns are 't', 'p'"
    ):
        choose_map(["t", "p"], [near], log_file="flight.csv")


def test_without_maps_the_missing_time_column_is_named() -> None:
    """A log of canonical names without its time is told so; long lists of columns are cut."""
    columns = ["pitch_deg", *(f"c{i}" for i in range(40))]

    with pytest.raises(LogError, match=r"it has no column t_s; .* 'c10' and 29 more"):
        choose_map(columns, [], log_file="flight.csv")


def test_a_map_that_names_a_missing_column_is_refused(load: Load) -> None:
    """The message names the map, the key, the column, and the columns there are."""
    found = load('pitch = { columns = ["p", "q"], unit = "deg" }')

    require_columns(found, ["t", "p", "q"], log_file="flight.csv")
    with pytest.raises(MapError, match=r"recorder.toml: channels.pitch names column 'q', which flight.csv .* 't', 'p'"):
        require_columns(found, ["t", "p"], log_file="flight.csv")
    with pytest.raises(MapError, match="time names column 't'"):
        require_columns(found, ["p", "q"], log_file="flight.csv")

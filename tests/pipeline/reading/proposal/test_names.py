"""What names of columns say, in several languages and in none."""

import pytest

from pipeline.reading.proposal.names import name_says, unit_of


@pytest.mark.parametrize(
    ("name", "channel", "unit"),
    [
        ("Funkhöhe [m]", "radio_height", "m"),
        ("HauteurRadio", "radio_height", None),
        ("Radioaltura (m)", "radio_height", "m"),
        ("RALT", "radio_height", None),
        ("Sinkrate [m/s]", "vertical_speed", "m/s"),
        ("vertical_speed_fpm", "vertical_speed", "ft/min"),
        ("vertical rate", "vertical_speed", None),
        ("Fahrt über Grund [km/h]", "ground_speed", "km/h"),
        ("GndSpd", "ground_speed", None),
        ("KIAS", "airspeed", None),
        ("Nickwinkel [Grad]", "pitch", "deg"),
        ("roll_deg", "roll", "deg"),
        ("HDGTRU", "heading_true", None),
        ("HDGMAG", "heading_magnetic", None),
        ("AccelX", "longitudinal_accel", None),
        ("longitudinal_accel_g", "longitudinal_accel", "g"),
        ("n_z", "normal_accel", None),
        ("N11", "engine_speed", None),
        ("TLA2", "thrust_lever", None),
        ("WOWL", "main_on_ground", None),
        ("wow_nose", "nose_on_ground", None),
        ("Landeklappen [Grad]", "flap", "deg"),
        ("glideslope", "glideslope", None),
        ("Länge", "longitude", None),
    ],
)
def test_a_name_speaks_for_its_channel(name: str, channel: str, unit: str | None) -> None:
    """Words, compounds and abbreviations speak most for the channel they mean, and state their unit."""
    said = name_says(name)

    assert max(said.points, key=lambda key: said.points[key]) == channel
    assert said.points[channel] >= 5.0
    assert said.unit == unit


@pytest.mark.parametrize("name", ["c7", "x", "", "Spalte 12", "P_0042", "data"])
def test_a_name_without_meaning_says_nothing(name: str) -> None:
    """Numbered columns are left to their values."""
    assert max(name_says(name).points.values(), default=0.0) < 3.0


@pytest.mark.parametrize(
    "name", ["Selected altitude", "PITCHRATE", "ViConsigne", "Vorwahl Höhe", "CapSel", "TAS", "pitch trim"]
)
def test_what_is_set_or_aimed_at_is_not_what_is_flown(name: str) -> None:
    """A word such as selected, target, rate or trim makes a name speak of something else."""
    assert name_says(name).elsewhere is not None


def test_sides_share_a_stem() -> None:
    """Left and right, 1 and 2, gauche and droite are one thing on two sides."""
    pairs = (
        ("LeverL", "LeverR"),
        ("n1_1", "n1_2"),
        ("ManetteG", "ManetteD"),
        ("Leistungshebel links", "Leistungshebel rechts"),
    )

    assert all(name_says(left).stem == name_says(right).stem for left, right in pairs)
    assert name_says("Roll").stem == "roll"


def test_units_no_channel_has_are_known_as_such() -> None:
    """A temperature or a pressure is no height, whatever its name says."""
    assert unit_of("°C") == "other"
    assert unit_of("(hPa)") == "other"
    assert unit_of("AGL") is None

"""Which channel is blamed, in which words."""

import pytest

from pipeline.quality.check import Check
from pipeline.quality.factors import factor_words
from pipeline.quality.verdict import agreeing, suspects

RADIO, PRESSURE, CLIMB = "radio_height_ft", "pressure_altitude_ft", "vertical_speed_fpm"


def _pair(first: str, second: str, ratio: float, *, passed: bool | None) -> Check:
    return Check(f"{first} against {second}", (first, second), ratio, 0.75, 1.33, passed)


def test_the_third_names_the_guilty() -> None:
    """Of three heights the one that disagrees with two that agree is guilty, and both are named."""
    checks = [
        _pair(RADIO, PRESSURE, 0.305, passed=False),
        _pair(RADIO, CLIMB, 0.3, passed=False),
        _pair(PRESSURE, CLIMB, 1.01, passed=True),
    ]

    assert list(suspects(checks)) == [RADIO]
    assert suspects(checks)[RADIO].startswith("reads 0.30 of what pressure altitude and vertical speed say: metres")


def test_without_a_third_both_are_suspect_and_it_is_said() -> None:
    """Two that disagree, and nothing else: neither is believed."""
    found = suspects([_pair(PRESSURE, CLIMB, -1.0, passed=False)])

    assert set(found) == {PRESSURE, CLIMB}
    assert all(why.endswith("which of them is wrong nothing in the log tells") for why in found.values())


def test_other_evidence_and_earlier_agreement_name_the_guilty() -> None:
    """A path no aircraft flies, or a partner that agreed with others before, decides between two."""
    wrong = _pair(PRESSURE, CLIMB, 0.3, passed=False)

    assert list(suspects([wrong], blamed={PRESSURE: "too flat"})) == [PRESSURE]
    assert list(suspects([wrong], trusted=agreeing([_pair(RADIO, CLIMB, 1.0, passed=True)]))) == [PRESSURE]


def test_a_check_that_rests_on_a_suspect_blames_nobody() -> None:
    """Gear on the ground is judged by a ground switch that is itself turned round: only the switch is guilty."""
    switch = Check("switch", ("main_on_ground",), 1.0, 0.0, 0.5, passed=False, wrong="says yes aloft")
    gear = Check("gear", ("gear_down",), 1.0, 0.0, 0.9, False, "says up", ("main_on_ground",))  # noqa: FBT003

    assert list(suspects([gear, switch])) == ["main_on_ground"]


def test_a_position_is_two_channels() -> None:
    """Where latitude is not believed, longitude is not."""
    found = suspects([Check("place", ("latitude_deg",), 1.0, 0.0, 0.5, passed=False, wrong="swapped?")])

    assert found == {"latitude_deg": "swapped?", "longitude_deg": "swapped?"}


@pytest.mark.parametrize(
    ("channel", "ratio", "words"),
    [
        (RADIO, 0.3048, "metres read as feet"),
        (CLIMB, 0.00508, "metres a second read as feet a minute"),
        (CLIMB, -1.02, "sign turned"),
        (CLIMB, -196.85, "sign turned and feet a minute read as metres a second"),
        ("ground_speed_kt", 1.151, "statute miles an hour read as knots"),
        ("pitch_deg", 0.0175, "radians read as degrees"),
        ("normal_accel_g", 9.8, "metres a second squared read as g"),
        ("gross_weight_kg", 2.205, "pounds read as kilograms"),
    ],
)
def test_usual_mistakes_are_guessed(channel: str, ratio: float, words: str) -> None:
    """A factor that a mistaken unit or sign makes is said, as a question."""
    said = factor_words(channel, ratio, "another")

    assert said.endswith(f"{words}?") or f": {words}, or " in said


@pytest.mark.parametrize("ratio", [1.02, 0.55, 1.5])
def test_no_mistake_is_made_up(ratio: float) -> None:
    """A height off by a factor that no unit makes is only said to be off."""
    assert "?" not in factor_words(RADIO, ratio, "another")


def test_a_channel_that_stands_still_is_said() -> None:
    """Nothing is guessed of a channel that does not move."""
    assert factor_words(RADIO, 0.0, "positions") == "does not move as positions say"

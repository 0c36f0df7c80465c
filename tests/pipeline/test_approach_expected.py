"""What an approach is expected to show, and how it differed."""

import polars as pl
import pytest

from pipeline.approach_expected import SCHEMA, approach_expected, at_flap_and_weight
from pipeline.policy import AircraftType, Expected, Policy

ROWS = (
    Expected(30.0, 4000.0, pitch_deg=1.0, thrust_pct=20.0),
    Expected(30.0, 5000.0, pitch_deg=2.0),
    Expected(15.0, 4000.0, pitch_deg=4.0),
)
KNOWN = Policy(types={"Tovik L2": AircraftType(landing_flap_deg=30.0, expected=ROWS)})


def landings(**changes: object) -> pl.DataFrame:
    """One approach at 4,500 kg, pitch 2.1 and lever 26 measured, engine speed not recorded."""
    usual = {
        "landing_id": "x",
        "aircraft_type": "Tovik L2",
        "landing_flap": "30",
        "weight_kg": 4500.0,
        "approach_pitch_deg": 2.1,
        "approach_pitch_deg_u": 0.2,
        "approach_pitch_deg_reason": None,
        "approach_thrust_pct": 26.0,
        "approach_thrust_pct_u": 1.5,
        "approach_thrust_pct_reason": None,
        "approach_engine_speed_pct": None,
        "approach_engine_speed_pct_u": None,
        "approach_engine_speed_pct_reason": "no_channel",
    }
    kinds = {name: pl.Float64 for name in usual if name.endswith(("_deg", "_pct", "_u"))}
    texts = {name: pl.String for name in usual if name.endswith(("_reason", "_flap"))}
    return pl.DataFrame([usual | changes], schema_overrides={**kinds, **texts})


def told(policy: Policy = KNOWN, **changes: object) -> dict[str, object]:
    """What is said of it."""
    return approach_expected(landings(**changes), policy).row(0, named=True)


def test_measured_less_expected_between_two_weights() -> None:
    """Half way from 1.0 deg at 4,000 kg to 2.0 deg at 5,000 kg: 2.1 - 1.5 = 0.6, as sure as the measure."""
    found = told()
    assert found["approach_pitch_over_expected_deg"] == pytest.approx(0.6)
    assert found["approach_pitch_over_expected_deg_u"] == pytest.approx(0.2)
    assert found["approach_pitch_over_expected_deg_reason"] is None


def test_a_part_given_at_one_weight_is_expected_there_only() -> None:
    """Thrust is given at 4,000 kg alone: nothing at 4,500 kg, 26 - 20 = 6 at 4,000 kg."""
    assert told()["approach_thrust_over_expected_pct_reason"] == "no_reference"
    assert told(weight_kg=4000.0)["approach_thrust_over_expected_pct"] == pytest.approx(6.0)


def test_what_was_not_measured_keeps_its_own_reason() -> None:
    """The log has no engine speed; that no value is expected of it comes second."""
    found = told()
    assert found["approach_engine_speed_over_expected_pct"] is None
    assert found["approach_engine_speed_over_expected_pct_u"] is None
    assert found["approach_engine_speed_over_expected_pct_reason"] == "no_channel"


@pytest.mark.parametrize(
    ("changes", "pitch"),
    [
        ({"landing_flap": None}, 0.6),
        ({"landing_flap": "15", "weight_kg": 4000.0}, -1.9),
        ({"landing_flap": "full"}, 0.6),
        ({"landing_flap": "20"}, None),
        ({"weight_kg": None}, None),
        ({"weight_kg": 5200.0}, None),
        ({"aircraft_type": "Heron 4"}, None),
        ({"aircraft_type": None}, None),
    ],
)
def test_flap_weight_and_type_choose_what_is_expected(changes: dict[str, object], pitch: float | None) -> None:
    """The type's usual flap where none is stated in degrees; no value without weight, beyond the weights, of no type."""
    found = told(**changes)
    assert found["approach_pitch_over_expected_deg"] == (None if pitch is None else pytest.approx(pitch))
    assert found["approach_pitch_over_expected_deg_reason"] == ("no_reference" if pitch is None else None)


def test_nothing_measured_is_an_empty_frame() -> None:
    """No approach gives no row, with every column."""
    assert approach_expected(landings().clear(), KNOWN).schema == pl.Schema(SCHEMA)


def test_the_order_of_the_rows_does_not_matter() -> None:
    """Weights are sorted before they are interpolated."""
    given = {"flap_deg": 30.0, "weight_kg": 4200.0}
    assert at_flap_and_weight(ROWS[::-1], "pitch_deg", **given) == pytest.approx(1.2)

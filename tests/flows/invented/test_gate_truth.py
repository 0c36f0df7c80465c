"""Truth at the gates told from a straight descent drawn by hand."""

from dataclasses import replace

import numpy as np
import pytest

from flows.invented.airfields import RUNWAYS
from flows.invented.gate_truth import gate_truth
from flows.invented.lane import COLUMN, HISTORY, Lane
from flows.invented.units import FT, KT


@pytest.fixture
def runway():
    """A level runway with a three-degree path that crosses the threshold at 50 ft."""
    return replace(
        RUNWAYS[0], slope_pct=0.0, glidepath_deg=3.0, threshold_crossing_height_ft=50.0, localiser_antenna_ft=9000.0
    )


@pytest.fixture
def lane() -> Lane:
    """12 ft/s down from 700 ft, 200 ft/s along, 10 deg of bank at 17 s, contact far below the gate."""
    t = np.arange(0.0, 60.0, 1.0 / 64.0)
    values = np.zeros((len(t), len(HISTORY)))
    drawn = {
        "x": FT * (-10000.0 + 200.0 * t),
        "y": np.full_like(t, 100.0 * FT),
        "h": FT * np.maximum(700.0 - 12.0 * t, 0.0),
        "w": np.full_like(t, -12.0 * FT),
        "airspeed": np.full_like(t, 125.0 * KT),
        "phi": np.radians(np.where(np.abs(t - 16.0) < 0.2, -10.0, 1.0)),
    }
    for name, value in drawn.items():
        values[:, COLUMN[name]] = value
    return Lane(t, values.astype(np.float32), 58.33, 56.0, 57.0, np.nan, 12.0 * FT)


def test_a_gate_is_what_was_flown_in_the_two_seconds_before_it(lane: Lane, runway) -> None:
    """500 ft is reached at 16.67 s: 12 ft/s are 720 ft/min, 125 kt read as 96 %, the bank of 16 s is its largest."""
    found = gate_truth(lane, runway, read_share=0.96)

    assert found["gate_500_sink_fpm"] == pytest.approx(720.0, abs=0.5)
    assert found["gate_500_airspeed_kt"] == pytest.approx(120.0, abs=0.01)
    assert found["gate_500_bank_deg"] == pytest.approx(10.0, abs=0.01)


def test_deviations_are_those_an_instrument_would_read(lane: Lane, runway) -> None:
    """Half-way through the 2 s, at 15.67 s: 2.28 dots high, 0.32 dots right.

    512 ft up and 6,867 ft from the threshold, the beam's origin 954 ft beyond it, its aerial 7.2 ft above the wheels:
    atan(519.2 / 7821) = 3.798 deg; 100 ft right at 15,867 ft from the antenna is 0.361 deg of 2.227 deg full scale.
    """
    found = gate_truth(lane, runway, read_share=1.0)

    assert found["gate_500_glideslope_dots"] == pytest.approx(2.28, abs=0.02)
    assert found["gate_500_localiser_dots"] == pytest.approx(0.324, abs=0.005)


def test_a_gate_above_where_the_lane_begins_is_absent(lane: Lane, runway) -> None:
    """The lane begins at 700 ft."""
    assert not [name for name in gate_truth(lane, runway, read_share=1.0) if name.startswith("gate_1000")]

"""The air and the runway, and the threshold against its design."""

import numpy as np
import pytest
from ambiance import Atmosphere

from pipeline.measures.air import density_ratio

SEA_LEVEL = 1.225
FT = 0.3048


@pytest.mark.parametrize("height_ft", [-1000.0, 0.0, 1000.0, 5000.0, 8000.0, 14000.0])
def test_density_is_that_of_the_standard_atmosphere(height_ft):
    """As an atmosphere library has it; it takes geometric height, so it is given the one of this geopotential."""
    geometric_m = height_ft * FT / (1.0 - height_ft * FT / 6356766.0)

    assert density_ratio(np.array([height_ft]))[0] == pytest.approx(
        Atmosphere(geometric_m).density[0] / SEA_LEVEL, rel=1e-5
    )


def test_density_at_the_runway_comes_from_the_surest_height(flown, close):
    """Pressure altitude first, then the runway's elevation, then the geometric altitude (300 ft there)."""
    high = flown({"pressure_altitude_ft": lambda tau: np.full(len(tau), 5000.0)}, runway={"elevation_ft": 4800.0})
    listed = flown(runway={"elevation_ft": 4800.0})
    neither = flown(runway={"elevation_ft": None})

    assert high["density_ratio"] == pytest.approx(0.86167, abs=1e-5)  # ISA table
    assert listed["density_ratio"] == pytest.approx(0.8669, abs=5e-4)
    assert neither["density_ratio"] == pytest.approx(0.9912, abs=5e-4)
    assert high["density_ratio_u"] < listed["density_ratio_u"]


def test_runway_and_weight_are_told_as_they_are_known(flown):
    """Weight from the log before the manifest; what nobody says is null."""
    known = flown(runway={"elevation_ft": 620.0, "slope_pct": -0.8}, known={"weight_kg": 6100.0})
    logged = flown({"gross_weight_kg": lambda tau: 6250.0 - tau}, known={"weight_kg": 6100.0})

    assert (known["runway_elevation_ft"], known["runway_slope_pct"]) == (620.0, -0.8)
    assert known["gross_weight_kg"] == 6100.0
    assert logged["gross_weight_kg"] == pytest.approx(6250.0, abs=5.0)
    assert flown(runway={"slope_pct": None})["runway_slope_pct_reason"] == "no_reference"
    assert flown()["gross_weight_kg_reason"] == "no_channel"


def test_height_over_the_designs_crossing_height(flown, close):
    """50 ft at the threshold, on a path built for 56 ft."""
    found = flown(runway={"threshold_crossing_height_ft": 56.0})

    assert close(found, "threshold_height_over_design_ft", -6.0)
    unknown = flown(runway={"threshold_crossing_height_ft": None})
    assert unknown["threshold_height_over_design_ft_reason"] == "no_reference"
    assert unknown["threshold_height_ft"] is not None


def test_energy_counts_speed_beyond_vref_as_height(flown, close):
    """50 ft + (140^2 - 132^2) kt^2 1.68781^2 / (2 x 32.174 ft/s2) = 50 + 96.3 ft; 0.86167 of the density: 50 + 111.8."""
    assert close(flown(), "threshold_energy_ft", 146.3)
    assert flown()["threshold_energy_ft"] == pytest.approx(146.3, abs=5.0)
    high = flown({"pressure_altitude_ft": lambda tau: np.full(len(tau), 5000.0)})
    assert high["threshold_energy_ft"] - flown()["threshold_energy_ft"] == pytest.approx(15.5, abs=0.3)
    assert flown(known={"vref_kt": None})["threshold_energy_ft_reason"] == "no_reference"


def test_wind_at_the_threshold_is_the_one_recorded_there(flown, close):
    """20 kt from 30 deg right of the runway is 17.32 kt along and 10 kt across; earlier it was another."""
    found = flown(
        {
            "wind_speed_kt": lambda tau: np.where(tau > -12.0, 20.0, 5.0),
            "wind_from_true_deg": lambda tau: np.full(len(tau), 120.0),
        }
    )

    assert close(found, "threshold_headwind_kt", 17.32)
    assert found["threshold_headwind_kt"] == pytest.approx(17.32, abs=0.1)
    assert found["threshold_crosswind_kt"] == pytest.approx(10.0, abs=0.1)


def test_without_recorded_wind_speeds_tell_the_headwind(flown, close):
    """140 kt through the air and 128 kt over the ground: 12 kt; across the runway only the stated wind can tell."""
    found = flown(
        {"airspeed_kt": lambda tau: np.where(tau < 0.0, 140.0, np.maximum(140.0 - 5.0 * tau, 20.0))}, speed_kt=128.0
    )

    assert close(found, "threshold_headwind_kt", 12.0)
    assert found["threshold_crosswind_kt_reason"] == "no_channel"
    stated = flown(known={"wind_from_true_deg": 180.0, "wind_speed_kt": 9.0})
    assert close(stated, "threshold_crosswind_kt", 9.0)

"""Magnetic directions become true ones by place and date, or are left out with the reason."""

from datetime import UTC, datetime

import numpy as np
import pytest

from pipeline.reading.magnetic import declination, true_directions
from pipeline.recording import Samples

START_2025 = datetime(2025, 1, 1, tzinfo=UTC)


def channels(lat: float, lon: float, **others: float) -> dict[str, Samples]:
    """Ten minutes at one place, a sample a second, each other channel at one value."""
    t = np.arange(0.0, 600.0)
    values = {"latitude_deg": lat, "longitude_deg": lon, **others}
    return {name: Samples(t, np.full(len(t), value)) for name, value in values.items()}


@pytest.mark.parametrize(("lat", "lon", "deg"), [(80.0, 0.0, 1.28), (0.0, 120.0, -0.16), (-80.0, -120.0, 68.78)])
def test_declination_is_that_of_the_published_test_values(lat, lon, deg):
    """World Magnetic Model 2025, test values at 2025.0 and sea level (NOAA NCEI and British Geological Survey)."""
    found = declination(lat, lon, START_2025)

    assert found is not None
    assert found[0] == pytest.approx(deg, abs=0.006)  # printed to a hundredth


def test_the_uncertainty_is_the_models_own():
    """At 0 N 120 E the horizontal field is 39,677.9 nT: sqrt(0.26^2 + (5417 / 39677.9)^2) = 0.2937 deg (WMM2025)."""
    found = declination(0.0, 120.0, START_2025)

    assert found is not None
    assert found[1] == pytest.approx(0.2937, abs=1e-3)


@pytest.mark.parametrize("year", [2010, 2013, 2015, 2019, 2020, 2024, 2025, 2029])
def test_there_is_a_model_of_every_date_from_2010_to_2029(year):
    """Each date has the model of its own five years: from one year to the next the declination moves by little."""
    now, later = (declination(50.0, 5.0, datetime(year, month, 1, tzinfo=UTC)) for month in (1, 12))

    assert now is not None
    assert later is not None
    assert 0.0 < later[0] - now[0] < 0.3
    assert 0.2 < now[1] < 0.6


@pytest.mark.parametrize("year", [2009, 2030])
def test_a_date_without_a_model_has_no_declination(year):
    """No model is stretched beyond its years."""
    assert declination(50.0, 5.0, datetime(year, 6, 1, tzinfo=UTC)) is None


def test_a_compass_near_the_magnetic_pole_is_not_believed():
    """Where the horizontal field is below 2,000 nT."""
    assert declination(86.0, 140.0, START_2025) is None


@pytest.mark.parametrize("key", ["heading", "track", "wind_from"])
def test_a_magnetic_direction_becomes_the_true_one(key):
    """350 deg magnetic where north is 68.78 deg east is 58.78 deg true; the magnetic channel is gone.

    The horizontal field there is 16,898 nT: sqrt(0.26^2 + (5417 / 16898)^2) = 0.41 deg.
    """
    found, notes = true_directions(channels(-80.0, -120.0, **{f"{key}_magnetic_deg": 350.0}), START_2025)

    assert f"{key}_magnetic_deg" not in found
    assert found[f"{key}_true_deg"].value == pytest.approx(58.78, abs=0.006)
    assert notes == (f"{key}_magnetic turned to true: declination +68.8 deg, 0.4 deg uncertain",)


def test_the_declination_follows_the_aircraft():
    """From 0 N 120 E to 80 N 0 E in a log: each sample by its own place, over the north of the circle too."""
    t = np.arange(0.0, 7200.0)
    share = t / t[-1]
    log = {
        "latitude_deg": Samples(t, 80.0 * share),
        "longitude_deg": Samples(t, 120.0 * (1.0 - share)),
        "heading_magnetic_deg": Samples(t[::4], np.full(len(t[::4]), 0.0)),
    }
    value = true_directions(log, START_2025)[0]["heading_true_deg"].value

    assert value[0] == pytest.approx(359.84, abs=0.01)
    assert value[-1] == pytest.approx(1.28, abs=0.05)
    assert np.abs((np.diff(value) + 180.0) % 360.0 - 180.0).max() < 0.2


@pytest.mark.parametrize(
    ("lacking", "flown_at", "said"),
    [
        ("latitude_deg", START_2025, "without position"),
        ("", None, "without a date"),
        ("", datetime(2031, 1, 1, tzinfo=UTC), "no magnetic model for 2031"),
    ],
)
def test_a_direction_that_cannot_be_turned_is_left_out_and_said(lacking, flown_at, said):
    """No position, no date, no model: no heading, rather than one that is off by the declination."""
    log = channels(50.0, 5.0, heading_magnetic_deg=90.0)
    found, (note,) = true_directions({n: s for n, s in log.items() if n != lacking}, flown_at)

    assert not {"heading_true_deg", "heading_magnetic_deg"} & set(found)
    assert "heading_magnetic left out" in note
    assert said in note


def test_a_true_direction_that_is_there_stands():
    """A log with both needs no turning; other channels are as they were."""
    log = channels(50.0, 5.0, heading_magnetic_deg=90.0, heading_true_deg=93.0)
    found, notes = true_directions(log, None)

    assert found["heading_true_deg"] is log["heading_true_deg"]
    assert set(found) == set(log) - {"heading_magnetic_deg"}
    assert notes == ("heading_magnetic left out: the log has heading_true itself",)


def test_a_log_without_magnetic_directions_is_left_alone():
    """Nothing is done and nothing is said."""
    log = channels(50.0, 5.0, heading_true_deg=93.0)

    assert true_directions(log, None) == (log, ())

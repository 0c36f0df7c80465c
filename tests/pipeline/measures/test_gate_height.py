"""Heights on the approach without radio height: tied to the rollout, or to the reported pressure and the runway."""

import numpy as np
import pytest
from ambiance import Atmosphere

from pipeline.measures.gate_height import altitude_of

RADIO = ("radio_height_ft",)
BOARD = ("pitch_deg", "roll_deg", "normal_accel_g", "thrust_lever_pct", "airspeed_kt", "gear_down", "flap_deg")
DOTS = ("localiser_dots", "glideslope_dots", "autopilot_on")
CONTACT_FT = 1358.8
"""Where the ideal landing touches, ft from the threshold, which it crosses 50 ft high."""


def pressure(ideal, *, offset_ft: float, step_ft: float = 25.0):
    """Pressure altitude of the ideal landing in steps, read off by an offset."""
    return lambda tau: np.round((ideal().height(tau) + offset_ft) / step_ft) * step_ft


@pytest.mark.parametrize(("hpa", "standard_ft"), [(1013.25, 0), (977.17, 1000), (942.13, 2000), (1050.0, None)])
def test_pressure_and_altitude_are_those_of_the_standard_atmosphere(hpa, standard_ft):
    """The table of ISO 2533 at 0, 1,000 and 2,000 ft; above sea-level pressure, an atmosphere library."""
    found = float(altitude_of(np.array([hpa]))[0])
    geometric_m = found * 0.3048 / (1.0 - found * 0.3048 / 6356766.0)

    assert Atmosphere(geometric_m).pressure[0] == pytest.approx(hpa * 100.0, rel=1e-5)
    if standard_ft is not None:
        assert found == pytest.approx(standard_ft, abs=0.5)


@pytest.mark.parametrize("offset_ft", [-310.0, 0.0, 4480.0])
def test_an_altitude_needs_no_reference_where_the_log_rolls_out(flown, ideal, close, offset_ft):
    """Whatever the pressure of the day: gates and threshold height come from the difference to the rollout."""
    row = flown(
        {"pressure_altitude_ft": pressure(ideal, offset_ft=offset_ft)}, without=(*RADIO, "geometric_altitude_ft")
    )

    assert close(row, "threshold_height_ft", 50.0)
    assert row["threshold_height_ft_u"] > 10.0
    assert row["gate_500_sink_fpm"] == pytest.approx(743.0, abs=5.0)  # 140 kt on 3 deg


@pytest.mark.parametrize("slope_pct", [-2.0, 0.0, 2.0])
def test_a_rollout_higher_or_lower_than_the_threshold_is_taken_into_account(flown, ideal, close, slope_pct):
    """The runway climbs 2 ft in 100: the rollout stands up to 60 ft above the threshold."""

    def altitude(tau: np.ndarray) -> np.ndarray:
        flown_at = ideal()
        along = flown_at.along(tau)
        ground = slope_pct / 100.0 * np.maximum(along, CONTACT_FT)
        air = slope_pct / 100.0 * CONTACT_FT
        return np.where(tau < 0.0, flown_at.height(tau) + air, ground) + 700.0

    row = flown(
        {"pressure_altitude_ft": altitude}, without=(*RADIO, "geometric_altitude_ft"), runway={"slope_pct": slope_pct}
    )

    assert close(row, "threshold_height_ft", 50.0 + slope_pct / 100.0 * CONTACT_FT)


def test_an_air_ground_flag_that_is_late_ties_the_height_all_the_same(flown, ideal, close):
    """Position, ground speed, altitude in 25 ft steps once a second, a flag at 100 kt: a broadcast.

    Path, gates and threshold are told; no contact is invented, and nothing that follows from one.
    """
    flag = {"main_on_ground": lambda tau: tau > 8.0}
    altitude = {"pressure_altitude_ft": pressure(ideal, offset_ft=310.0)}
    row = flown(altitude | flag, rate_hz=1.0, without=(*RADIO, "geometric_altitude_ft", *BOARD, *DOTS))

    assert (row["outcome"], row["contact_t_s"], row["runway_found"]) == ("full_stop", None, "matched")
    assert close(row, "threshold_height_ft", 50.0)
    assert close(row, "approach_path_deg", 3.0)
    assert row["gate_500_stable"] is not None
    for name in (
        "flare_height_ft",
        "touchdown_distance_ft",
        "vertical_speed_at_contact_fpm",
        "float_time_s",
        "bounces",
    ):
        assert row[name] is None, name


@pytest.mark.parametrize(
    ("elevation_ft", "hpa", "shown"), [(620.0, 1009, True), (None, 1009, False), (620.0, None, False)]
)
def test_a_go_around_has_its_gates_by_the_reported_pressure(flown, ideal, elevation_ft, hpa, shown):
    """No rollout, no radio height: pressure altitude, the report's pressure and the runway's elevation, or null.

    At 1,009 hPa the standard atmosphere reads 116 ft at sea level, so a pressure altitude is 736 ft on a runway at 620.
    """

    def away(tau: np.ndarray) -> np.ndarray:
        height = np.maximum(ideal().height(np.minimum(tau, -12.0)), 0.0) + np.maximum(tau + 12.0, 0.0) * 20.0
        return height + 736.0

    def steady(tau: np.ndarray) -> np.ndarray:
        return np.full(len(tau), 140.0)

    report = f"METAR XXAA 200950Z 09005KT 9999 12/07{f' Q{hpa}' if hpa else ''}"
    row = flown(
        {"pressure_altitude_ft": away, "ground_speed_kt": steady, "airspeed_kt": steady},
        without=(*RADIO, "geometric_altitude_ft", "main_on_ground", "normal_accel_g"),
        known={"weather_report": report, "runway": "Testfield 09"},
        runway={"elevation_ft": elevation_ft},
    )

    assert row["outcome"] == "go_around"
    assert (row["gate_500_sink_fpm"] is not None) is shown
    if shown:
        assert row["gate_500_sink_fpm"] == pytest.approx(743.0, abs=5.0)
    else:
        assert row["gate_500_sink_fpm_reason"] == "no_channel"

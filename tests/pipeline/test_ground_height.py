"""Height above the ground from radio height, an altitude, or none at all."""

from datetime import UTC, datetime

import numpy as np
import pytest

from pipeline.ground_height import ground_height
from pipeline.landings import find_approaches
from pipeline.recording import Recording, Samples

FIELD_FT, OTHER_FIELD_FT = 1200.0, 300.0


def recording(t: np.ndarray, **values: np.ndarray) -> Recording:
    channels = {name: Samples(t, np.asarray(value, dtype=float)) for name, value in values.items()}
    return Recording("a" * 64, "log", "m", channels, datetime(2026, 11, 20, tzinfo=UTC), len(t), float(t[-1]))


def flight() -> dict[str, np.ndarray]:
    """From one field to another 900 ft lower, a sample a second: climb, a cruise that wanders by 200 ft, descent, taxi.

    On the ground to 100 s and from 2,400 s; the altitude is in steps of 25 ft.
    """
    t = np.arange(0.0, 2600.0)
    at = np.array([0.0, 100.0, 700.0, 1700.0, 2400.0, 2600.0])
    altitude = np.interp(t, at, [FIELD_FT, FIELD_FT, 9000.0, 9000.0, OTHER_FIELD_FT, OTHER_FIELD_FT])
    cruise = (t > 700.0) & (t < 1700.0)
    altitude = altitude + np.where(cruise, 200.0 * np.sin((t - 700.0) * 2.0 * np.pi / 250.0), 0.0)
    speed = np.interp(t, [0, 70, 100, 700, 1700, 2400, 2440, 2600], [0, 0, 120, 250, 250, 120, 20, 10])
    on_ground = (t <= 100.0) | (t >= 2402.0)
    return {"t": t, "altitude": np.round(altitude / 25.0) * 25.0, "speed": speed, "on_ground": on_ground}


@pytest.mark.parametrize("tells", ["switch", "speed"])
def test_an_altitude_is_tied_to_the_nearest_ground_in_time(tells):
    """Each field has its own level; in cruise the height is thousands of feet, not the wandering of the altitude."""
    f = flight()
    told = {"main_on_ground": f["on_ground"]} if tells == "switch" else {"ground_speed_kt": f["speed"]}
    height = ground_height(recording(f["t"], pressure_altitude_ft=f["altitude"], **told))

    assert height is not None
    above = dict(zip(height.t, height.above_ground, strict=True))
    assert above[50.0] == above[2500.0] == 0.0
    assert above[400.0] == pytest.approx(3900.0, abs=50.0)  # half way up from 1,200 to 9,000 ft
    assert above[2050.0] == pytest.approx(4350.0, abs=50.0)  # half way down from 9,000 to 300 ft
    assert height.above_ground[750:1650].min() > 7000.0


def test_a_cruise_that_wanders_is_no_approach():
    """One flight, one landing: what the altitude does in cruise is neither low pass nor landing."""
    f = flight()
    log = recording(
        f["t"], pressure_altitude_ft=f["altitude"], ground_speed_kt=f["speed"], main_on_ground=f["on_ground"]
    )
    (found,) = find_approaches(log)

    assert found.grounded
    assert found.anchor_s == pytest.approx(2400.0, abs=15.0)


def test_a_flag_that_flickers_in_the_air_is_no_ground():
    """One sample of an air/ground flag in cruise does not bring the ground up to the aircraft."""
    f = flight()
    flag = f["on_ground"].copy()
    flag[1200] = True
    height = ground_height(recording(f["t"], pressure_altitude_ft=f["altitude"], main_on_ground=flag))

    assert height is not None
    assert height.above_ground[1200] > 7000.0


def test_without_anything_that_tells_the_ground_the_lowest_altitude_near_is_taken():
    """A log of altitude alone: the last minutes stand at zero."""
    f = flight()
    height = ground_height(recording(f["t"][2000:], pressure_altitude_ft=f["altitude"][2000:]))

    assert height is not None
    assert height.above_ground[-100:] == pytest.approx(0.0)
    assert height.above_ground[0] == pytest.approx(8700.0 / 700.0 * 240.0, abs=50.0)  # the descent of four minutes


def test_a_log_without_height_tells_air_from_ground_by_the_switch():
    """A bounce of 2 s does not part a landing in two; the flight before it does not count as ground."""
    f = flight()
    switch = f["on_ground"].copy()
    switch[2410:2412] = False
    height = ground_height(recording(f["t"], main_on_ground=switch))

    assert height is not None
    assert height.source == "main_on_ground"
    assert (height.above_ground[2402:] == 0.0).all()
    assert (height.above_ground[101:2402] > 1000.0).all()


def test_nothing_tells_the_ground():
    """Position and attitude alone, or three samples of an altitude, are no height."""
    t = np.arange(0.0, 3.0)

    assert ground_height(recording(t, pitch_deg=t)) is None
    assert ground_height(recording(t, pressure_altitude_ft=t)) is None

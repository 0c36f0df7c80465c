"""Samples apart from their course are found; what aircraft and simulators do is left."""

import numpy as np
import pytest

from pipeline.quality.spikes import apart, lone

T = np.arange(0.0, 300.0, 1.0)
DESCENT = 4000.0 - 12.0 * T


def _with(places: slice | list[int], value: float) -> np.ndarray:
    height = DESCENT.copy()
    height[places] = value
    return height


@pytest.mark.parametrize("places", [[100], [100, 150, 151], slice(100, 108), slice(100, 125), slice(40, 90, 2)])
@pytest.mark.parametrize("other", [33000.0, 150.0])
def test_another_aircrafts_altitudes_go(places: slice | list[int], other: float) -> None:
    """One message, several in a row, or every second one of another aircraft's are found, and only they."""
    height = _with(places, other)

    spikes = apart("pressure_altitude_ft", T, height)

    assert spikes is not None
    assert np.flatnonzero(spikes).tolist() == np.flatnonzero(height != DESCENT).tolist()


def test_one_at_the_end_goes() -> None:
    """The last message may be another's too."""
    spikes = apart("pressure_altitude_ft", T, _with([299], 28175.0))

    assert spikes is not None
    assert np.flatnonzero(spikes).tolist() == [299]


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("pressure_altitude_ft", DESCENT),
        ("pressure_altitude_ft", np.where(T < 120.0, DESCENT, DESCENT + 5000.0)),
        ("pressure_altitude_ft", np.where((T > 100.0) & (T < 200.0), DESCENT + 5000.0, DESCENT)),
        ("pressure_altitude_ft", np.where(np.arange(300) % 2, DESCENT, DESCENT + 5000.0)),
        ("radio_height_ft", np.where(T > 150.0, 800.0, 950.0)),
        ("heading_true_deg", (340.0 + T / 3.0) % 360.0),
        ("normal_accel_g", np.where(T == 150.0, 2.6, 1.0)),
    ],
    ids=["clean", "reposition", "long away", "half of them", "terrain", "through north", "firm landing"],
)
def test_what_is_no_spike_stays(name: str, value: np.ndarray) -> None:
    """Repositions, terrain, headings through north and the firmest landing are no spikes."""
    assert apart(name, T, value) is None


def test_single_samples_that_leave_a_radio_height_are_lone():
    """Every seventh sample a zero, as some recorders write what is missing."""
    value = 400.0 - 1.2 * np.arange(300.0)
    value[7::7] = 0.0

    found = lone("radio_height_ft", value)

    assert found is not None
    assert found[7 : 7 * 40 : 7].all()
    assert found.sum() <= 43


def test_a_quick_descent_and_a_bounce_hold_no_lone_samples():
    descent = 400.0 - 25.0 * np.arange(16.0)
    bounce = np.concatenate([20.0 - 2.0 * np.arange(10.0), [0.0, 1.5, 3.0, 4.0, 3.0, 1.5, 0.0, 0.0, 0.0]])

    assert lone("radio_height_ft", descent) is None
    assert lone("radio_height_ft", bounce) is None

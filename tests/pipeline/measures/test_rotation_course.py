"""A rotation followed from a given onset: where it stands above the line, where it ends, how much it is."""

import numpy as np
import pytest

from pipeline.measures.rotation_course import TAU, course


def test_a_straight_ramp_stands_three_tenths_after_its_rate_says():
    """1 deg/s from -6 s for 2 s: 0.3 deg after 0.3 s, 2 deg in all, ended when the rate has fallen (2 s later)."""
    pitch = 2.0 + np.clip(TAU + 6.0, 0.0, 2.0)
    found = course(pitch[None], np.array([[-6.0]]))

    assert found.stands_s[0, 0] == pytest.approx(-5.7, abs=0.03)
    assert found.line_deg[0, 0] == pytest.approx(2.0, abs=0.01)
    assert found.rise_deg[0, 0] == pytest.approx(2.0, abs=0.05)
    assert found.end_s[0, 0] == pytest.approx(-4.0, abs=0.3)


def test_the_line_before_it_may_slope():
    """Pitch that rises at 0.1 deg/s before the rotation: the line is drawn on, most of its slope believed."""
    pitch = 0.1 * TAU + np.clip(TAU + 6.0, 0.0, 2.0)
    found = course(pitch[None], np.array([[-6.0]]))

    assert found.stands_s[0, 0] == pytest.approx(-5.7, abs=0.05)
    assert found.rise_deg[0, 0] == pytest.approx(2.0 + 0.1 * 1.7, abs=0.08)


def test_the_first_of_two_stages_is_measured():
    """1 deg, held for 2 s, then 2 deg: the change is the first stage's."""
    pitch = np.clip(TAU + 8.0, 0.0, 1.0) + np.clip(TAU + 5.0, 0.0, 2.0)
    found = course(pitch[None], np.array([[-8.0, -5.0]]))

    assert found.rise_deg[0, 0] == pytest.approx(1.0, abs=0.06)
    assert found.end_s[0, 0] == pytest.approx(-7.0, abs=0.3)


def test_no_ramp_is_drawn_on_past_contact():
    """A rotation cut short by contact ends there with what the nose had risen."""
    pitch = np.clip(TAU + 1.5, 0.0, None)
    found = course(pitch[None], np.array([[-1.5]]))

    assert found.end_s[0, 0] == TAU[-1]
    assert found.rise_deg[0, 0] == pytest.approx(1.5, abs=0.15)


def test_a_nose_that_does_not_rise_has_no_course():
    """A fall, and a rise of 0.2 deg."""
    pitch = np.stack([-np.clip(TAU + 5.0, 0.0, 2.0), 0.1 * np.clip(TAU + 5.0, 0.0, 2.0)])
    found = course(pitch, np.full((2, 1), -5.0))

    assert np.isnan(found.stands_s).all()
    assert np.isnan(found.rise_deg).all()


def test_an_end_that_is_not_sharp_says_so():
    """A rate that dies away slowly leaves the size less certain than one that stops."""
    stops = np.clip(TAU + 8.0, 0.0, 2.0)
    fades = 2.0 * (1.0 - np.exp(-np.clip(TAU + 8.0, 0.0, None) / 1.5))
    found = course(np.stack([stops, fades]), np.full((2, 1), -8.0))

    assert found.rise_u_deg[1, 0] > 3.0 * found.rise_u_deg[0, 0]

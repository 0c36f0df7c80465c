"""Where the automatics were let go."""

import numpy as np
import pytest


@pytest.mark.parametrize("rate_hz", [8.0, 1.0])
@pytest.mark.parametrize(
    ("switch", "measure"), [("autopilot_on", "autopilot_off_ft"), ("autothrottle_on", "autothrottle_off_ft")]
)
def test_disengaging_is_put_at_its_height(flown, close, rate_hz, switch, measure):
    """60 s before contact: 28.87 ft + 12.384 ft/s (60 s - 4.044 s) = 721.8 ft."""
    found = flown({switch: lambda tau: (tau < -60.0).astype(float)}, rate_hz=rate_hz)

    assert close(found, measure, 721.8)


def test_the_last_of_several_counts(flown, close):
    """Engaged again and let go at 30 s before contact: 350.3 ft."""
    found = flown({"autopilot_on": lambda tau: ((tau < -80.0) | ((tau > -60.0) & (tau < -30.0))).astype(float)})

    assert close(found, "autopilot_off_ft", 350.3)


def test_engaged_to_contact_or_never(flown):
    """Engaged at contact is the automatics' landing; never engaged is no letting go."""
    assert flown({"autopilot_on": lambda tau: np.ones(len(tau))})["autopilot_off_ft_reason"] == "automation"
    assert flown()["autopilot_off_ft_reason"] == "not_reached"
    assert flown()["autothrottle_off_ft_reason"] == "no_channel"

"""Circuits between approaches: time, place, height and heading go over without a jump."""

from collections.abc import Callable

import numpy as np
import pytest

from flows.invented.airframes import JET, LIGHT, Airframe
from flows.invented.circuit import join
from flows.invented.flight import fly
from flows.invented.lane import COLUMN
from flows.invented.plan import TOUCH_AND_GO, Plan


@pytest.mark.parametrize("a", [JET, LIGHT])
def test_three_approaches_join_without_a_jump(calm: Callable[..., Plan], a: Airframe) -> None:
    """No faster than the aeroplane flies, no steeper than it climbs, turned by a whole circle a circuit."""
    lanes = list(fly(calm(lanes=3, a=a, kind=float(TOUCH_AND_GO), start_m=400.0), np.random.default_rng(0)))

    t, values, zeros = join(lanes)

    gap = np.diff(t)
    x, y, h, psi = (values[:, COLUMN[name]].astype(float) for name in ("x", "y", "h", "psi"))
    speed = np.hypot(np.diff(x), np.diff(y)) / gap
    assert np.all(gap > 0.0)
    assert speed.max() < 1.35 * a.vref_kt * 0.5144
    assert np.max(np.abs(np.diff(h)) / gap) < 14.0
    assert np.max(np.abs(np.diff(psi)) / gap) < np.radians(20.0)
    assert psi[-1] == pytest.approx(-4.0 * np.pi, abs=0.2)
    assert list(zeros) == sorted(zeros)
    assert values[np.searchsorted(t, zeros[1] + lanes[1].contact_s), COLUMN["wheels"]] == 1.0

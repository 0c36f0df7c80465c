"""A small invented scenario written once, and a plan of a calm day to alter."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from flows.invented.airframes import JET, Airframe
from flows.invented.plan import Plan
from flows.invented.scenario import write_scenario
from flows.invented.truth import Truth
from flows.invented.units import FPM, FT, KT

SMALL = 0.03


@pytest.fixture(scope="session")
def small(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Truth]:
    """Inbox and truth of about 90 landings."""
    inbox = tmp_path_factory.mktemp("invented") / "inbox"
    return inbox, write_scenario(inbox, landings=SMALL, seed=7)


@pytest.fixture
def calm() -> Callable[..., Plan]:
    """Return a maker of plans: some lanes of one type in still air with a steady hand, any value replaced by name."""

    def make(lanes: int = 2, a: Airframe = JET, **values: float) -> Plan:
        usual = {
            "kind": 0.0, "mass_kg": a.mass_kg, "density_kg_m3": 1.225, "slope": 0.0, "path": np.tan(np.radians(3.0)),
            "aim_m": 50.0 * FT, "start_m": 1500.0 * FT, "target_ms": a.vref_kt * KT, "vref_ms": a.vref_kt * KT,
            "head_ms": 0.0, "cross_ms": 0.0, "gust_ms": 0.0, "offset_m": 0.0, "offset_ms": 0.0, "offset_until_m": 0.0,
            "rough": 0.0, "path_gain": 0.15, "flare_m": 25.0 * FT, "sink_ms": 150.0 * FPM, "stage_m": 0.0,
            "stage_sink_ms": 0.0, "lag_s": 0.2, "close_lag_s": 0.5, "close_s": 2.0, "after_close": 0.0,
            "decrab_m": 5.0, "decrab": 0.8, "derotate_s": 1.0, "derotate_rate": 0.03, "brake": 0.5, "ground_s": 4.0,
            "go_m": 0.0, "vs_lag_s": 0.3,
        }  # fmt: skip
        usual.update(values)
        return Plan(a=a, **{name: np.full(lanes, value) for name, value in usual.items()})

    return make

"""Margins of the criteria of a gate."""

from types import SimpleNamespace

import numpy as np
import pytest

from pipeline.measures.criteria import VALUES, margins
from pipeline.policy import Gate

NONE = np.array([np.nan])


def sink_margin(sink_fpm: float, *, glidepath_deg: float, path_deg: float) -> float:
    """Margin of one sink, limits 1,000 ft/min and, steeper than 4.5 deg, 1,300 ft/min."""
    reference = SimpleNamespace(
        glidepath_deg=np.array([glidepath_deg]), vref_kt=NONE, flap_deg=NONE, idle_at_gate_pct=NONE
    )
    values = dict.fromkeys(VALUES.values(), NONE) | {"sink_fpm": np.array([sink_fpm])}
    found = margins(values, Gate(500.0), target=NONE, path_deg=np.array([path_deg]), reference=reference)
    return float(found["sink"][0])


@pytest.mark.parametrize(
    ("glidepath_deg", "path_deg", "margin"),
    [(3.0, 3.0, -200.0), (5.5, 5.5, 100.0), (3.0, 5.5, -200.0), (5.5, 3.0, 100.0), (np.nan, 3.0, -200.0)],
)
def test_a_known_glide_path_settles_the_limit_of_sink(glidepath_deg: float, path_deg: float, margin: float) -> None:
    """1,200 ft/min is 200 beyond the usual limit and 100 inside the steep one; diving at a flat path earns no more."""
    assert sink_margin(1200.0, glidepath_deg=glidepath_deg, path_deg=path_deg) == pytest.approx(margin)


@pytest.mark.parametrize(("sink_fpm", "margin"), [(900.0, 100.0), (1200.0, np.nan), (1400.0, -100.0)])
def test_a_steep_descent_to_an_unknown_glide_path_is_judged_only_where_both_limits_agree(
    sink_fpm: float, margin: float
) -> None:
    """Inside both limits met, beyond both not met; between them it may be a steep approach or a dive."""
    assert sink_margin(sink_fpm, glidepath_deg=np.nan, path_deg=5.5) == pytest.approx(margin, nan_ok=True)


@pytest.mark.parametrize("sink_fpm", [900.0, 1200.0])
def test_an_unknown_path_has_the_usual_limit(sink_fpm: float) -> None:
    """Without glide path and track nothing speaks for a steep approach."""
    assert sink_margin(sink_fpm, glidepath_deg=np.nan, path_deg=np.nan) == pytest.approx(1000.0 - sink_fpm)


def test_a_criterion_that_is_not_asked_for_has_no_margin() -> None:
    """The gate asks for speed alone."""
    reference = SimpleNamespace(glidepath_deg=NONE, vref_kt=NONE, flap_deg=NONE, idle_at_gate_pct=NONE)
    values = dict.fromkeys(VALUES.values(), np.array([0.0]))
    rule = Gate(500.0, criteria=("speed",))
    found = margins(values, rule, target=np.array([120.0]), path_deg=NONE, reference=reference)
    assert found["speed"][0] == pytest.approx(5.0)
    assert all(np.isnan(margin[0]) for name, margin in found.items() if name != "speed")

"""A handful of landings flown by a flight dynamics library: their truth holds together, and measuring recovers it.

The whole table is printed by the script beside; limits here are some three times what it shows, for eight landings.
"""

import importlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import polars as pl
import pytest

from pipeline.measuring import measure_batch

pytest.importorskip(
    "jsbsim", reason="the flight dynamics library is in the extra `dev`; install it to fly these landings"
)

pytestmark = pytest.mark.slow

FLIGHTS, SEED, FAST = 8, 5, "8 Hz and more"
MEDIAN_ERROR = {
    "contact_t_s": 0.15,
    "vertical_speed_at_contact_fpm": 30.0,
    "peak_g": 0.08,
    "flare_height_ft": 4.0,
    "pitch_change_deg": 0.5,
    "distance_from_50ft_ft": 30.0,
    "touchdown_distance_ft": 45.0,
    "threshold_height_ft": 4.0,
    "threshold_airspeed_kt": 2.4,
    "float_time_s": 0.15,
}


@pytest.fixture(scope="module")
def rig() -> Iterator[SimpleNamespace]:
    """The rig's modules, which are beside this file and no package of the project."""
    sys.path.insert(0, str(Path(__file__).parent))
    names = ("cases", "drawing", "figures", "findings", "recorders")
    yield SimpleNamespace(**{name: importlib.import_module(f"flight_dynamics.{name}") for name in names})
    sys.path.remove(str(Path(__file__).parent))


@pytest.fixture(scope="module")
def landings(rig, tmp_path_factory):
    kept = os.environ.get("FLIGHT_DYNAMICS_CACHE")
    os.environ["FLIGHT_DYNAMICS_CACHE"] = str(tmp_path_factory.mktemp("flights"))
    yield rig.cases.landings("report", count=FLIGHTS, seed=SEED, processes=1)
    os.environ.pop("FLIGHT_DYNAMICS_CACHE")
    if kept is not None:
        os.environ["FLIGHT_DYNAMICS_CACHE"] = kept


@pytest.fixture(scope="module")
def batch(rig, landings):
    return rig.cases.recorded(landings, band=FAST)


@pytest.fixture(scope="module")
def both(rig, landings, batch) -> pl.DataFrame:
    found = measure_batch(batch.recordings, batch.context, runways=batch.runways, policy=batch.policy)
    return rig.figures.joined(found.landings, batch.index, rig.cases.truth_frame(landings))


def touching(landings):
    return [one for one in landings if one.truth.contacts]


def upward_g(trace, inside):
    """Specific force along the earth's vertical, g."""
    pitch, roll = np.radians(trace["pitch_deg"][inside]), np.radians(trace["roll_deg"][inside])
    up = trace["normal_g"][inside] * np.cos(pitch) * np.cos(roll) + trace["long_g"][inside] * np.sin(pitch)
    return up - trace["lat_g"][inside] * np.sin(roll) * np.cos(pitch)


def test_wheels_bear_where_truth_says_they_touch(landings):
    """Up to first contact both main wheels are clear of the runway; a hundredth of a second later one is pressed in."""
    for one in touching(landings):
        t = one.trace.t
        lower = np.minimum(one.trace["left_ft"], one.trace["right_ft"])
        first = one.truth.values["contact_t_s"]

        assert lower[t < first].min() >= 0.0
        assert np.interp(first + 0.01, t, lower) < 0.0


def test_closure_is_earth_speed_less_the_slope_climbed(landings):
    """On a slope s, closure with the surface is vertical speed to earth minus s times ground speed (to 1 ft/min)."""
    for one in touching(landings):
        values, first = one.truth.values, one.truth.values["contact_t_s"]
        along = np.interp(first, one.trace.t, np.gradient(one.trace["x_ft"], one.trace.t)) * 60.0
        climbed = np.arctan(one.plan.slope_pct / 100.0) * along

        assert values["vertical_speed_at_contact_fpm"] == pytest.approx(
            values["earth_vertical_speed_at_contact_fpm"] - climbed, abs=1.0
        )


def test_vertical_speed_is_what_acceleration_integrates_to(landings):
    """Specific force less gravity, over the last 2 s of flight, gives the change of vertical speed to earth.

    0.15 ft/s is left for float32 columns and the turning earth.
    """
    for one in touching(landings):
        t, first = one.trace.t, one.truth.values["contact_t_s"]
        inside = (t >= first - 2.0) & (t <= first)
        gained = np.trapezoid((upward_g(one.trace, inside) - 1.0) * 32.174, t[inside])
        climb = one.trace["climb_fps"][inside]

        assert gained == pytest.approx(climb[-1] - climb[0], abs=0.15)


def test_on_the_ground_the_accelerometer_shows_one_g(landings):
    """In the last second of a full stop the mean along the vertical is 1 g to a hundredth, braking, on any slope."""
    for one in landings:
        if one.truth.outcome == "full_stop":
            assert upward_g(one.trace, slice(-240, None)).mean() == pytest.approx(1.0, abs=0.01)


def test_halves_and_recorders_do_not_share_their_numbers(rig):
    """The half that is reported on was not seen in tuning; a recorder is the same each time it is asked for."""
    tuning, report = (rig.drawing.draw(half, 20, 1) for half in ("tuning", "report"))

    assert tuning.seed != report.seed
    assert tuning.flare_ft != report.flare_ft
    assert rig.recorders.recorder("A", FAST, 0) == rig.recorders.recorder("A", FAST, 0)
    assert rig.recorders.recorder("A", FAST, 0) != rig.recorders.recorder("A", FAST, 1)


@pytest.mark.parametrize("name", MEDIAN_ERROR)
def test_median_error_is_small(both, name):
    """The median error of eight landings recorded at 8 Hz and more stays within some three times the table's."""
    held = both.drop_nulls([name, f"true_{name}"])

    assert held.height >= 4
    assert (held[name] - held[f"true_{name}"]).abs().median() <= MEDIAN_ERROR[name]


def test_outcomes_are_right(both):
    """Full stops, the touch-and-go and the go-around are told apart."""
    assert both["outcome"].to_list() == both["true_outcome"].to_list()


def test_nothing_is_told_without_its_channel(rig, batch):
    """A measure whose every channel was taken from the logs is null, with a reason."""
    told = rig.findings.told_without_channel(batch)

    assert told.filter(pl.col("told") > 0).is_empty()
    assert told.filter(pl.col("null_without_reason") != "").is_empty()

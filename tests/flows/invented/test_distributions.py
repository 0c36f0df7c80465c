"""A seventh of the operator's landings, flown but not written: such as a training captain has seen.

The bands are common practice for light jets and light singles flown by mixed crews; no source gives them.
"""

from collections.abc import Iterator

import numpy as np
import polars as pl
import pytest

from flows.invented.flight import fly
from flows.invented.lanes import plan_lanes
from flows.invented.pilots import invent_pilots
from flows.invented.plan import FULL_STOP
from flows.invented.roster import invent_flights
from flows.invented.scenario import LAST_DAY
from flows.invented.truth import lane_truth


def _rows(profile: str) -> Iterator[dict[str, object]]:
    pilots = invent_pilots(np.random.default_rng([7, 0]), scale=1.0, solo=False)
    flights = [
        flight
        for flight in invent_flights(pilots, last_day=LAST_DAY, seed=7)
        if flight.profile == profile and len(flight.approaches) == 1 and flight.approaches[0].kind == FULL_STOP
    ][::7]
    lanes = fly(plan_lanes(flights, seed=1), np.random.default_rng(1))
    for flight, lane in zip(flights, lanes, strict=True):
        if not flight.automatic:
            yield {"style": flight.approaches[0].technique.style, **lane_truth(lane)}


@pytest.fixture(scope="module", params=["jet", "light"])
def landings(request: pytest.FixtureRequest) -> pl.DataFrame:
    """One row a manual landing of one type."""
    return pl.DataFrame(list(_rows(request.param)), infer_schema_length=None)


def test_sink_at_contact_is_firm_on_the_average_and_skewed(landings: pl.DataFrame) -> None:
    """Mean 100 to 200 ft/min, spread 40 to 90, the long tail to the firm side, a few per cent past 6 ft/s at most."""
    sink = -landings["vertical_speed_at_contact_fpm"]

    assert 100.0 < sink.mean() < 200.0
    assert 40.0 < sink.std() < 90.0
    assert sink.skew() > 0.2
    assert (sink > 360.0).mean() < 0.04
    assert sink.min() > 0.0


def test_touchdown_lies_where_pilots_touch_down(landings: pl.DataFrame) -> None:
    """Mean 850 to 1,700 ft past the threshold, spread 150 to 450, within 30 ft of the centreline."""
    distance = landings["touchdown_distance_ft"]

    assert 850.0 < distance.mean() < 1700.0
    assert 150.0 < distance.std() < 450.0
    assert landings["touchdown_lateral_ft"].abs().max() < 30.0


def test_flare_and_contact_are_of_the_usual_size(landings: pl.DataFrame) -> None:
    """Rotation 2 to 4 deg, 25 to 55 ft over the threshold, low-passed peak 1.1 to 1.45 g, nose above level."""
    assert 2.0 < landings["pitch_change_deg"].mean() < 4.0
    assert 25.0 < landings["threshold_height_ft"].mean() < 55.0
    assert 1.1 < landings["peak_g"].mean() < 1.45
    assert (landings["pitch_at_contact_deg"] > 0.0).mean() > 0.95


def test_three_styles_stand_apart(landings: pl.DataFrame) -> None:
    """Neighbouring styles differ by 2 spreads and more in when the lever closes; the late one also flares lowest."""
    stats = landings.group_by("style").agg(
        lag=pl.col("thrust_close_lag_s").mean(),
        spread=pl.col("thrust_close_lag_s").std(),
        height=pl.col("flare_height_ft").mean(),
    )
    lag = dict(zip(stats["style"], stats["lag"], strict=True))
    spread = stats["spread"].mean()

    assert lag[0] + 1.5 * spread < lag[1]
    assert lag[1] + 1.5 * spread < lag[2]
    assert stats.sort("height")["style"][0] == 1

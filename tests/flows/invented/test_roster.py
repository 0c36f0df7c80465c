"""Who lands when: sessions, aircraft, weather and the calendar."""

from collections import defaultdict
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
import pytest

from flows.invented.flights import Flight, crosswind_kt, headwind_kt
from flows.invented.pilots import invent_pilots
from flows.invented.plan import FULL_STOP, GO_AROUND, REJECTED, TOUCH_AND_GO
from flows.invented.roster import CROSSWIND_KT, WIND_KT, invent_flights

LAST_DAY = date(2026, 11, 22)


@pytest.fixture(scope="module")
def flights() -> list[Flight]:
    """The whole operator's flights; nothing is flown yet."""
    return invent_flights(invent_pilots(np.random.default_rng(1), scale=1.0, solo=False), last_day=LAST_DAY, seed=5)


def test_three_thousand_landings_in_forty_weeks_to_the_last_day(flights: list[Flight]) -> None:
    """Every pilot lands as often as meant; all in the 280 days to a Sunday, some in its week."""
    landings = sum(a.kind in (FULL_STOP, TOUCH_AND_GO) for flight in flights for a in flight.approaches)
    days = [flight.started_at.date() for flight in flights]

    assert landings == 3000
    assert LAST_DAY - timedelta(days=280) < min(days)
    assert max(days) <= LAST_DAY
    assert sum(day > LAST_DAY - timedelta(days=7) for day in days) > 25


def test_a_pilots_landings_are_numbered_in_order_of_time(flights: list[Flight]) -> None:
    """So that a drift that begins at a landing begins at a date."""
    numbers = defaultdict(list)
    for flight in flights:
        numbers[flight.pilot.pilot] += [a.number for a in flight.approaches if a.kind in (FULL_STOP, TOUCH_AND_GO)]

    assert all(sequence == list(range(1, len(sequence) + 1)) for sequence in numbers.values())


def test_no_aircraft_flies_two_flights_at_once(flights: list[Flight]) -> None:
    """Flights of one aircraft begin at least 20 minutes apart."""
    starts = defaultdict(list)
    for flight in flights:
        starts[flight.aircraft].append(flight.started_at)

    gaps = [later - earlier for times in starts.values() for earlier, later in pairwise(times)]
    assert min(gaps) >= timedelta(minutes=20)


def test_all_kinds_of_ends_occur_and_wind_stays_within_limits(flights: list[Flight]) -> None:
    """Go-arounds after unstable approaches and others, rejected landings, several in a log; no wild crosswinds."""
    kinds = [a.kind for flight in flights for a in flight.approaches]

    assert all(kinds.count(kind) > 1 for kind in (TOUCH_AND_GO, GO_AROUND, REJECTED))
    assert any(a.unstable and a.kind != GO_AROUND for flight in flights for a in flight.approaches)
    assert any(len(flight.approaches) > 3 for flight in flights)
    for flight in flights:
        wind = max(flight.weather.speed_kt, flight.weather.gust_kt or 0.0)
        assert wind <= WIND_KT[flight.profile]
        if flight.runway.field != "Undry":
            assert abs(crosswind_kt(flight.runway, flight.weather)) <= CROSSWIND_KT[flight.profile]


def test_wind_parts_have_the_usual_signs(flights: list[Flight]) -> None:
    """Head- and crosswind recompose to the wind; from ahead and from the right are positive."""
    for flight in flights[:50]:
        parts = headwind_kt(flight.runway, flight.weather), crosswind_kt(flight.runway, flight.weather)
        turn = np.radians(flight.weather.from_deg - flight.runway.true_heading_deg)
        assert flight.weather.speed_kt == pytest.approx(float(np.hypot(*parts)))
        assert parts[1] == pytest.approx(flight.weather.speed_kt * float(np.sin(turn)), abs=1e-9)


def test_the_windy_season_is_windy(flights: list[Flight]) -> None:
    """Mean wind of June to August is at least a third above that of the rest."""
    windy = [f.weather.speed_kt for f in flights if f.started_at.month in (6, 7, 8)]
    rest = [f.weather.speed_kt for f in flights if f.started_at.month in (2, 3, 4, 10, 11)]

    assert np.mean(windy) > 1.33 * np.mean(rest)

"""Who lands when, where, in what: pilots and a season go in, the logs to be flown come out, in order of time."""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta

import numpy as np

from flows.invented.airfields import RUNWAYS, Runway
from flows.invented.approaches import invent_approaches
from flows.invented.conventions import FLEET, RECORDERS
from flows.invented.flights import Flight, crosswind_kt, headwind_kt
from flows.invented.pilots import Pilot
from flows.invented.plan import FULL_STOP
from flows.invented.weather import Day, early, invent_day

WEEKS = 40
FIELD_SHARE = {"Undry": 0.5, "Quorle": 0.22, "Vessing": 0.28}
TAILWIND_KT = 6.0
"""Most tailwind flown; with more, the field with two ends is used."""
CROSSWIND_KT = {"jet": 22.0, "light": 13.0}
WIND_KT = {"jet": 45.0, "light": 24.0}
"""Most wind or gust flown in; the light type then flies early in the day."""
SESSION_SIZES = {"jet": (0.34, 0.34, 0.20, 0.12), "light": (0.10, 0.20, 0.25, 0.20, 0.15, 0.10)}
CIRCUIT_SHARE = {"jet": 0.06, "light": 0.42}
"""Share of sessions of two and more that are flown as one log of touch-and-goes."""


@dataclass
class _Book:
    """When each aircraft is free again, and the weather already invented."""

    seed: int
    free: dict[str, datetime] = field(default_factory=dict)
    days: dict[tuple[str, date], Day] = field(default_factory=dict)

    def weather(self, place: str, day: date) -> Day:
        """Weather of a field on a day, the same whoever asks."""
        if (place, day) not in self.days:
            rng = np.random.default_rng([self.seed, 11, day.toordinal(), sorted(FIELD_SHARE).index(place)])
            self.days[place, day] = invent_day(day, rng)
        return self.days[place, day]


def invent_flights(pilots: list[Pilot], *, last_day: date, seed: int) -> list[Flight]:
    """All flights of the `WEEKS` weeks that end on `last_day`, in order of time, with their logs named."""
    rng = np.random.default_rng([seed, 1])
    sessions = [session for pilot in pilots for session in _sessions(pilot, last_day=last_day, rng=rng)]
    sessions.sort(key=lambda session: (session[0], session[1].pilot))
    book = _Book(seed)
    solo = len(pilots) == 1
    flights = [
        flight
        for day, pilot, numbers in sessions
        for flight in _session(pilot, day, numbers, book=book, solo=solo, rng=rng)
    ]
    flights.sort(key=lambda flight: (flight.started_at, flight.aircraft))
    return [_named(flight, number, rng=rng) for number, flight in enumerate(flights)]


def _sessions(pilot: Pilot, *, last_day: date, rng: np.random.Generator) -> list[tuple[date, Pilot, range]]:
    """A pilot's days, with the landings of each."""
    share = SESSION_SIZES[pilot.profile]
    sizes: list[int] = []
    while sum(sizes) < pilot.landings:
        sizes.append(min(int(rng.choice(len(share), p=share)) + 1, pilot.landings - sum(sizes)))
    days = np.sort(rng.choice(WEEKS * 7, size=len(sizes), replace=len(sizes) > WEEKS * 7))
    first = last_day - timedelta(days=WEEKS * 7 - 1)
    starts = np.concatenate([[1], 1 + np.cumsum(sizes)])
    return [
        (first + timedelta(days=int(day)), pilot, range(int(starts[i]), int(starts[i + 1])))
        for i, day in enumerate(days)
    ]


def _session(
    pilot: Pilot, day: date, numbers: range, *, book: _Book, solo: bool, rng: np.random.Generator
) -> list[Flight]:
    """One day's flights of one pilot in one aircraft."""
    aircraft, recorder = _aircraft(pilot.profile, day, book=book, solo=solo, rng=rng)
    mood = float(rng.standard_normal())
    start = book.free.get(aircraft, datetime.min.replace(tzinfo=UTC))
    start = max(
        start, datetime(day.year, day.month, day.day, 8, tzinfo=UTC) + timedelta(minutes=float(rng.uniform(0, 300)))
    )
    groups = [[number] for number in numbers]
    if len(numbers) > 1 and rng.random() < CIRCUIT_SHARE[pilot.profile]:
        groups = [list(numbers)]
    runway, weather = _runway(pilot.profile, day, book=book, solo=solo, rng=rng)
    flights = []
    for group in groups:
        if pilot.profile == "jet":
            runway, weather = _runway(pilot.profile, day, book=book, solo=solo, rng=rng)
        for approaches in invent_approaches(pilot, group, mood=mood, rng=rng):
            mass = float(rng.uniform(0.88, 1.02))
            flights.append(Flight(pilot, aircraft, recorder, runway, weather, start, approaches, mass))
            start += timedelta(minutes=6.0 * len(approaches) + float(rng.uniform(24.0, 50.0)))
    book.free[aircraft] = start
    return flights


def _aircraft(profile: str, day: date, *, book: _Book, solo: bool, rng: np.random.Generator) -> tuple[str, str]:
    """An aircraft of the type that is free that afternoon, and its recorder."""
    fleet = FLEET[profile][:1] if solo else FLEET[profile]
    evening = datetime(day.year, day.month, day.day, 16, tzinfo=UTC)
    idle = [entry for entry in fleet if entry[0] not in book.free or book.free[entry[0]] < evening] or list(fleet)
    share = np.array([entry[2] for entry in idle])
    name, recorder, _ = idle[int(rng.choice(len(idle), p=share / share.sum()))]
    return name, recorder


def _runway(profile: str, day: date, *, book: _Book, solo: bool, rng: np.random.Generator) -> tuple[Runway, Day]:
    """A field, and the end of it that suits the wind."""
    place = "Undry" if solo else str(rng.choice(list(FIELD_SHARE), p=list(FIELD_SHARE.values())))
    weather = book.weather(place, day)
    best = max((r for r in RUNWAYS if r.field == place), key=lambda r: headwind_kt(r, weather))
    if headwind_kt(best, weather) < -TAILWIND_KT or abs(crosswind_kt(best, weather)) > CROSSWIND_KT[profile]:
        weather = book.weather("Undry", day)
        best = max((r for r in RUNWAYS if r.field == "Undry"), key=lambda r: headwind_kt(r, weather))
    too_windy = max(weather.speed_kt, weather.gust_kt or 0.0) > WIND_KT[profile]
    return best, early(weather) if too_windy else weather


def _named(flight: Flight, number: int, *, rng: np.random.Generator) -> Flight:
    """Name the log; make a few automatic, a few exercises and simulator sessions, a few that end early or unnamed."""
    jet, single = flight.profile == "jet", len(flight.approaches) == 1
    draw, ends, aided, unnamed = rng.random(), rng.random(), rng.random(), rng.random()
    plain = not jet or flight.approaches[0].kind != FULL_STOP or not single
    values = dict(vars(flight))
    values["log_file"] = f"{flight.aircraft}-{number:05d}{RECORDERS[flight.recorder].suffix}"
    values["autothrottle"] = jet and aided < 0.12
    values["started_at"] = flight.started_at.replace(microsecond=0)
    values["unnamed"] = unnamed < 0.004
    if draw < 0.012 and not plain:
        values["automatic"] = values["autothrottle"] = True
    elif draw < 0.020:
        values["device"] = "qualified_simulator"
    elif draw < 0.032:
        values["exercise"] = ("demonstration", "short_field")[number % 2]
    if ends < 0.008 and not plain:
        values["ends"] = "approach" if number % 2 else "rollout"
    return Flight(**values)

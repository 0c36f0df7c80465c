"""Landings flown as asked, each recorded by several recorders: the same truth, as different logs show it.

Goes in: by how much each landing differs from an ordinary one. Comes out: its truth, and what was judged by recorder.
"""

import tempfile
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import polars as pl
from numpy.typing import NDArray

import flows  # noqa: F401 - sets the threads of the linear algebra library first
from flows.invented.airfields import RUNWAYS, Runway
from flows.invented.airframes import AIRFRAMES
from flows.invented.conventions import RECORDERS
from flows.invented.flight import fly
from flows.invented.flights import Approach, Flight
from flows.invented.flown import Flown
from flows.invented.lane import Lane
from flows.invented.lanes import air_density, plan_lanes, vref_kt
from flows.invented.logs import record, write_log
from flows.invented.pilots import Pilot
from flows.invented.plan import FULL_STOP
from flows.invented.recorders import Recorder
from flows.invented.technique import Technique
from flows.invented.truth import lane_truth
from flows.invented.units import FPM, FT, KT, RHO_0
from flows.invented.weather import Day
from pipeline.measuring import measure_batch
from pipeline.policy import AircraftType, FaultRule, Policy
from pipeline.reading.channel_map import choose_map, load_map
from pipeline.reading.record import recordings
from pipeline.reading.tabulate import content_sha256, tabulate
from pipeline.recording import Recording

Floats = NDArray[np.float64]
Values = dict[str, float | None]

STARTED_AT = datetime(2026, 11, 20, 10, tzinfo=UTC)
ORDINARY = {
    "jet": Technique(0, 27.0, 150.0, 0.0, 0.0, 0.15, 0.6, 1.6, 0.0, 3.0, 0.0, np.radians(0.12)),
    "light": Technique(0, 16.0, 110.0, 0.0, 0.0, 0.12, 0.6, 1.6, 0.0, 2.0, 0.0, np.radians(0.12)),
}
"""How a landing is flown where nothing else is asked for; our own choice."""


@dataclass(frozen=True)
class Made:
    """`truth` one row a landing; `faults` and `landings` one row a landing and recorder, with `made`, its place."""

    truth: pl.DataFrame
    faults: pl.DataFrame
    landings: pl.DataFrame


def made(
    profile: str,
    rules: Policy,
    *,
    seed: int,
    recorders: tuple[str, ...],
    crosswind_kt: Floats,
    changes: dict[str, Floats],
    aircraft: NDArray[np.int64] | None = None,
) -> Made:
    """Fly one landing a row of `changes` (fields of the simulation's plan, SI), record and judge it.

    `crosswind_kt` (n,) from the right, steady; `aircraft` (n,) it is flown in, whose instruments keep their errors,
    each its own where None.
    """
    runway = max(RUNWAYS, key=lambda r: r.length_ft)
    flights = [_flight(profile, runway, float(wind)) for wind in crosswind_kt]
    plan = replace(plan_lanes(flights, seed=seed), **changes)
    lanes = list(fly(plan, np.random.default_rng([seed, 2])))
    rng = np.random.default_rng([seed, 3])
    truth = pl.DataFrame(
        [{"made": i, **_truth(lane, flight)} for i, (lane, flight) in enumerate(zip(lanes, flights, strict=True))]
    )
    which = np.arange(len(lanes)) if aircraft is None else aircraft
    parts = [_judged(lanes, flights, RECORDERS[name], rules, which, rng) for name in recorders]
    return Made(truth, *(pl.concat([part[k] for part in parts]) for k in range(2)))


def _flight(profile: str, runway: Runway, crosswind_kt: float) -> Flight:
    wind = float(np.hypot(crosswind_kt, 4.0))
    from_deg = (runway.true_heading_deg + float(np.degrees(np.arctan2(crosswind_kt, 4.0)))) % 360.0
    return Flight(
        pilot=Pilot("Pilot 01", profile, "steady", 1, 0, 1.0, 1.0, 0.0, 1.0, 0.0, 0.0, 0.0),
        aircraft="TJ-1",
        recorder="mixed-16",
        runway=runway,
        weather=Day(from_deg, wind, None, 0.0, 1013.25, wet=False),
        started_at=STARTED_AT,
        approaches=(Approach(FULL_STOP, 1, ORDINARY[profile]),),
        mass_share=1.0,
    )


def _truth(lane: Lane, flight: Flight) -> Values:
    """What faults judge, told from the simulation; null where it did not happen."""
    at, t = lane.contact_s, lane.t

    def now(name: str, when: float = at) -> float:
        return float(np.interp(when, t, lane.column(name)))

    told = lane_truth(lane)
    pitch = np.degrees(lane.column("theta"))
    bank = np.abs(np.degrees(lane.column("phi")))
    h = lane.column("h") / FT
    nose = np.flatnonzero((t > at) & (lane.column("nose") > 0.5))
    touch = float(t[nose[0]]) if len(nose) else np.nan
    fall = (np.interp(touch - 0.1, t, pitch) - np.interp(touch - 0.6, t, pitch)) / 0.5
    idle = at - (told.get("idle_before_contact_s") or 0.0)
    turned = (
        at - (told.get("flare_time_s") or 0.0) + _quotient(told.get("pitch_change_deg"), told.get("pitch_rate_dps"))
    )
    settled = max(idle, turned)
    read = np.sqrt(air_density(flight) / RHO_0) / KT
    steady = (h > 100.0) & (h < 300.0) & (t < at)
    low = (h < 500.0) & (h > 50.0) & (t < at)
    speed = np.convolve(lane.column("airspeed")[low], np.ones(17) / 17.0, mode="valid") * read
    right = now("right")
    return told | {
        "thrust_at_contact_pct": 100.0 * now("lever"),
        "pitch_after_close_deg": float(np.interp(at, t, pitch) - np.interp(settled, t, pitch))
        if settled < at
        else None,
        "nose_lag_s": touch - at,
        "nose_rate_dps": float(fall),
        "crab_at_contact_deg": abs(float(np.degrees(now("psi") - np.arctan2(now("v"), now("u"))))),
        "lateral_drift_kt": abs(now("v") / KT),
        "roll_into_wind_at_contact_deg": float(np.sign(right) * np.degrees(now("phi"))),
        "threshold_speed_over_vref_kt": float(np.interp(0.0, lane.column("x"), lane.column("airspeed"))) * read
        - vref_kt(flight),
        "abs_touchdown_lateral_ft": abs(now("y") / FT),
        "bank_100_to_20ft_deg": _most(bank, (h <= 100.0) & (h >= 20.0) & (t < at)),
        "bank_below_20ft_deg": _most(bank, (h <= 20.0) & (t <= at)),
        "height_regained_ft": _regained(h, t, lane),
        "sink_kept_pct": 100.0 * (lane.sink_at_contact_ms / FPM) / float(-lane.column("w")[steady].mean() / FPM),
        "lowest_speed_over_vref_kt": float(speed.min() - vref_kt(flight)) if len(speed) else None,
    }


def _quotient(change: float | None, rate: float | None) -> float:
    return change / rate if change is not None and rate else 0.0


def _most(x: Floats, where: NDArray[np.bool_]) -> float | None:
    return float(x[where].max()) if where.any() else None


def _regained(h: Floats, t: Floats, lane: Lane) -> float:
    after = (t >= lane.flare_s) & (t <= lane.contact_s)
    flown = h[after]
    return float((flown - np.minimum.accumulate(flown)).max()) if len(flown) else 0.0


def _judged(
    lanes: list[Lane],
    flights: list[Flight],
    recorder: Recorder,
    rules: Policy,
    aircraft: NDArray[np.int64],
    rng: np.random.Generator,
) -> tuple[pl.DataFrame, pl.DataFrame]:
    """Every landing as one recorder shows it: fault rows and landing rows."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        (folder / "map.toml").write_text(recorder.map_text())
        maps = [load_map(folder / "map.toml")] if recorder.needs_map else []
        logs: list[Recording] = []
        own = rng.standard_normal((int(aircraft.max()) + 1, len(recorder.columns)))
        for i, (lane, flight) in enumerate(zip(lanes, flights, strict=True)):
            file = folder / f"{i}{recorder.suffix}"
            biases = own[aircraft[i]]
            write_log(record(_flown(lane, flight), recorder, started_at=STARTED_AT, biases=biases, rng=rng), file)
            sha = content_sha256(file)
            raw = tabulate(file, folder / f"{sha}.raw.parquet")
            logs += recordings(
                raw.path, choose_map(raw.columns, maps, log_file=file.name), log_sha256=sha, log_file=file.name
            )
        context = pl.DataFrame([_context(log, flights) for log in logs])
        found = measure_batch(logs, context, runways=_runways(flights[0].runway), policy=rules)
    place_of = pl.col("log_file").str.split(".").list.first().cast(pl.Int64).alias("made")
    own = found.landings.with_columns(place_of, recorder=pl.lit(recorder.name))
    return found.faults.join(own.select("landing_id", "made", "recorder"), on="landing_id"), own


def _flown(lane: Lane, flight: Flight) -> Flown:
    a = AIRFRAMES[flight.profile]
    return Flown(
        t=lane.t,
        values=lane.values,
        runway=flight.runway,
        a=a,
        density_kg_m3=air_density(flight),
        pressure_hpa=flight.weather.pressure_hpa,
        mass_kg=a.mass_kg,
        autopilot_off_m=np.inf,
        autothrottle_off_m=np.inf,
    )


def _context(log: Recording, flights: list[Flight]) -> dict[str, object]:
    flight = flights[int(log.log_file.split(".")[0])]
    return {
        "log_sha256": log.log_sha256,
        "landing_index": None,
        "aircraft_type": AIRFRAMES[flight.profile].name,
        "runway": flight.runway.runway,
        "vref_kt": vref_kt(flight),
        "wind_from_true_deg": flight.weather.from_deg,
        "wind_speed_kt": flight.weather.speed_kt,
    }


def _runways(runway: Runway) -> pl.DataFrame:
    names = [name for name in vars(runway) if name not in ("field", "dip_ft")]
    return pl.DataFrame([{name: getattr(runway, name) for name in names}])


def policy(profile: str, faults: dict[str, FaultRule] | None = None) -> Policy:
    """A policy that knows the invented type as an operator would state it, with changes to its fault rules."""
    a = AIRFRAMES[profile]
    names = ("landing_flap_deg", "wheel_track_ft", "tail_pitch_deg", "pod_roll_deg", "tip_roll_deg")
    limits = ("crosswind_max_kt", "tailwind_max_kt", "crab_max_deg")
    known = {name: getattr(a, name) for name in (*names, *limits)}
    return Policy(types={a.name: AircraftType(profile=profile, vref_kt=a.vref_kt, **known)}, faults=faults or {})

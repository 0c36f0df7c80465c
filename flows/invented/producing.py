"""Some flights of one type go in; their logs are written, and what truly happened comes out, one row an approach."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import polars as pl
from numpy.typing import NDArray

from flows.invented.airframes import AIRFRAMES
from flows.invented.circuit import join
from flows.invented.conventions import RECORDERS
from flows.invented.flight import fly
from flows.invented.flights import Approach, Flight, type_name
from flows.invented.flown import Flown
from flows.invented.gate_truth import gate_truth
from flows.invented.lane import Lane
from flows.invented.lanes import air_density, plan_lanes, target_kt, vref_kt
from flows.invented.logs import record, write_log
from flows.invented.plan import FULL_STOP, GO_AROUND
from flows.invented.truth import Values, lane_truth
from flows.invented.units import FT, KT, RHO_0

ROLLED_S = 3.0
"""Time on the main wheels from which a landing flown on is a touch-and-go, and before which it is a rejected one."""
TAXI_KT = {"jet": 30.0, "light": 22.0}
"""Ground speed at which a log of a full stop ends."""
CLIMB_AWAY_FT = {"jet": 900.0, "light": 500.0}
"""Height at which a lane that went ends."""
EARLY_ROLLOUT_S, EARLY_HEIGHT_FT = 2.0, 240.0
"""Where logs that end early end: after contact, or on the approach."""
AUTOPILOT_OFF_FT, AUTOTHROTTLE_OFF_FT = 420.0, 45.0


@dataclass(frozen=True)
class Job:
    """Work of one process: flights of one type, the folder their logs go to, and the seed of their flying."""

    flights: list[Flight]
    inbox: Path
    seed: int


def produce(job: Job) -> list[dict[str, object]]:
    """Fly and write every flight of the job; the truth, one row an approach."""
    plan = plan_lanes(job.flights, seed=job.seed)
    lanes = fly(plan, np.random.default_rng([job.seed, 2]))
    rng = np.random.default_rng([job.seed, 3])
    rows: list[dict[str, object]] = []
    for flight in job.flights:
        flown = [_cut(next(lanes), flight, kind=approach.kind) for approach in flight.approaches]
        t, values, zeros = join(flown)
        write_log(_table(flight, t, values, rng), job.inbox / flight.log_file)
        rows += _truth_rows(flight, flown, zeros - t[0])
    return rows


def _cut(lane: Lane, flight: Flight, *, kind: int) -> Lane:
    """Keep of a lane what its log holds."""
    h, speed = lane.column("h"), lane.column("u")
    if flight.ends == "approach":
        end = h < EARLY_HEIGHT_FT * FT
    elif flight.ends == "rollout":
        end = lane.t > lane.contact_s + EARLY_ROLLOUT_S
    elif kind == FULL_STOP:
        end = (lane.t > lane.contact_s + 2.0) & (speed < TAXI_KT[flight.profile] * KT)
    else:
        end = (lane.t > lane.go_s + 3.0) & (h > CLIMB_AWAY_FT[flight.profile] * FT)
    last = int(np.argmax(end)) if end.any() else len(lane.t)
    values = {**vars(lane), "t": lane.t[:last], "values": lane.values[:last]}
    if last and lane.contact_s > lane.t[last - 1]:
        values["contact_s"] = np.inf
    return Lane(**values)


def _table(
    flight: Flight, t: NDArray[np.float64], values: NDArray[np.float32], rng: np.random.Generator
) -> pl.DataFrame:
    """What the aircraft's recorder makes of the flight."""
    recorder = RECORDERS[flight.recorder]
    off = {"autopilot_off_m": AUTOPILOT_OFF_FT * FT, "autothrottle_off_m": np.inf}
    if flight.autothrottle:
        off["autothrottle_off_m"] = AUTOTHROTTLE_OFF_FT * FT
    if flight.automatic:
        off = {"autopilot_off_m": -np.inf, "autothrottle_off_m": -np.inf}
    flown = Flown(
        t=t,
        values=values,
        runway=flight.runway,
        a=AIRFRAMES[flight.profile],
        density_kg_m3=air_density(flight),
        pressure_hpa=flight.weather.pressure_hpa,
        mass_kg=AIRFRAMES[flight.profile].mass_kg * flight.mass_share,
        **off,
    )
    own = np.random.default_rng([sum(flight.aircraft.encode()), 5])
    biases = own.standard_normal(len(recorder.columns))
    return record(flown, recorder, started_at=flight.started_at, biases=biases, rng=rng)


def _truth_rows(flight: Flight, flown: list[Lane], zeros: NDArray[np.float64]) -> list[dict[str, object]]:
    """One row an approach of one log."""
    rows: list[dict[str, object]] = []
    landings = 0
    read_share = float(np.sqrt(air_density(flight) / RHO_0))
    for index, (lane, approach) in enumerate(zip(flown, flight.approaches, strict=True)):
        values = lane_truth(lane)
        touched = values["contact_t_s"] is not None
        outcome = "unfinished" if flight.ends else _outcome(lane, approach)
        rows.append(
            {
                "log_file": flight.log_file,
                "approach_index": index,
                "landing_index": landings if touched else None,
                "outcome": outcome,
                **_who(flight, approach),
                **_on_log_clock(values, float(zeros[index])),
                **_speeds(flight, values),
                **gate_truth(lane, flight.runway, read_share=read_share),
            }
        )
        landings += touched
    return rows


def _outcome(lane: Lane, approach: Approach) -> str:
    """How the approach ended: what was meant, and for landings flown on the time on the wheels."""
    if approach.kind == FULL_STOP:
        return "full_stop"
    if approach.kind == GO_AROUND:
        return "go_around"
    on = lane.column("wheels")[1:] * np.diff(lane.t)
    return "touch_and_go" if float(on.sum()) >= ROLLED_S else "rejected"


def _who(flight: Flight, approach: Approach) -> dict[str, object]:
    """What the scenario knows of an approach besides its measures."""
    return {
        "pilot": flight.pilot.pilot,
        "pilot_in_manifest": None if flight.unnamed else flight.pilot.pilot,
        "number": approach.number,
        "style": None if flight.automatic else approach.technique.style,
        "unstable": approach.unstable,
        "automatic": flight.automatic,
        "device": flight.device,
        "exercise": flight.exercise,
        "aircraft": flight.aircraft,
        "aircraft_type": type_name(flight),
        "recorder": flight.recorder,
        "runway": flight.runway.runway,
        "started_at": flight.started_at,
    }


def _on_log_clock(values: Values, zero: float) -> Values:
    """The same with the contact's instant told from the log's first row."""
    contact = values["contact_t_s"]
    return values if contact is None else {**values, "contact_t_s": contact + zero}


def _speeds(flight: Flight, values: Values) -> Values:
    """Airspeed at the threshold as the pilot reads it, and over the reference."""
    true = values["threshold_true_airspeed_kt"]
    if true is None:
        return {"threshold_airspeed_kt": None, "threshold_speed_over_vref_kt": None}
    read = float(true * np.sqrt(air_density(flight) / RHO_0))
    return {
        "threshold_airspeed_kt": read,
        "threshold_speed_over_vref_kt": read - vref_kt(flight),
        "vref_kt": vref_kt(flight),
        "target_speed_kt": target_kt(flight),
    }

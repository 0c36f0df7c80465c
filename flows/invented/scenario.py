"""An inbox to fill goes in; logs, maps, runways, manifest and exposure are written there, and the truth comes out."""

import gzip
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor, as_completed
from datetime import date
from itertools import groupby
from multiprocessing import get_context
from pathlib import Path

import numpy as np
import polars as pl

from flows.invented.airfields import runway_table
from flows.invented.conventions import RECORDERS
from flows.invented.flights import Flight
from flows.invented.pilots import Pilot, invent_pilots
from flows.invented.producing import Job, produce
from flows.invented.roster import invent_flights
from flows.invented.tables import exposure, manifest
from flows.invented.truth import Truth

LAST_DAY = date(2026, 11, 22)
"""Sunday of ISO week 47 of 2026."""
LANES_A_JOB = 600
WORKERS = 2
POOL_FROM_LANES = 500
"""Below this many approaches another process costs more than it saves."""

Progress = Callable[[int, int], None]


def write_scenario(
    inbox: Path,
    *,
    seed: int = 7,
    solo: bool = False,
    landings: float = 1.0,
    last_day: date = LAST_DAY,
    progress: Progress | None = None,
) -> Truth:
    """Invent an operator's 40 weeks of landings and write all it would bring into `inbox`.

    Parameters
    ----------
    inbox : folder, made where it is missing.
    seed : the same seed gives the same files and truth.
    solo : one owner with one aircraft of the light type and about 200 landings, instead of 24 pilots and 3,000.
    landings : scales how many landings each pilot brings.
    last_day : last day of the 40 weeks.
    progress : called with approaches written and approaches in all.

    Returns
    -------
    Truth
        True values of every approach, and the pilots.
    """
    (inbox / "maps").mkdir(parents=True, exist_ok=True)
    pilots = invent_pilots(np.random.default_rng([seed, 0]), scale=landings, solo=solo)
    flights = invent_flights(pilots, last_day=last_day, seed=seed)
    truth = _produced(list(_jobs(flights, inbox, seed)), progress)
    _write_tables(inbox, flights, truth, seed=seed)
    if not solo:
        _write_broken(inbox, flights)
    return Truth(truth, pl.DataFrame([_pilot_row(pilot) for pilot in pilots]))


def _jobs(flights: list[Flight], inbox: Path, seed: int) -> Iterator[Job]:
    """Flights of one type in portions of about `LANES_A_JOB` approaches, however many processes there are."""
    number = 0
    for _, group in groupby(sorted(flights, key=lambda flight: flight.profile), key=lambda flight: flight.profile):
        portion: list[Flight] = []
        lanes = 0
        for flight in group:
            portion.append(flight)
            lanes += len(flight.approaches)
            if lanes >= LANES_A_JOB:
                yield Job(portion, inbox, seed * 1000 + number)
                number, portion, lanes = number + 1, [], 0
        if portion:
            yield Job(portion, inbox, seed * 1000 + number)
            number += 1


def _produced(jobs: list[Job], progress: Progress | None) -> pl.DataFrame:
    """Run the jobs, in processes where there is enough to do; truth in order of time."""
    total = sum(len(flight.approaches) for job in jobs for flight in job.flights)
    rows: list[dict[str, object]] = []
    if total < POOL_FROM_LANES:
        for job in jobs:
            rows += produce(job)
            if progress is not None:
                progress(len(rows), total)
    else:
        with ProcessPoolExecutor(WORKERS, mp_context=get_context("spawn")) as pool:
            for done in as_completed([pool.submit(produce, job) for job in jobs]):
                rows += done.result()
                if progress is not None:
                    progress(len(rows), total)
    return pl.DataFrame(rows, infer_schema_length=None).sort("started_at", "log_file", "approach_index")


def _write_tables(inbox: Path, flights: list[Flight], truth: pl.DataFrame, *, seed: int) -> None:
    """Maps, runways, manifest, exposure."""
    for name in {flight.recorder for flight in flights}:
        if RECORDERS[name].needs_map:
            (inbox / "maps" / f"{name}.toml").write_text(RECORDERS[name].map_text(), encoding="utf-8")
    runway_table().write_csv(inbox / "runways.csv")
    manifest(flights, rng=np.random.default_rng([seed, 8])).write_csv(inbox / "manifest.csv")
    exposure(truth, rng=np.random.default_rng([seed, 9])).write_csv(inbox / "exposure.csv")


def _write_broken(inbox: Path, flights: list[Flight]) -> None:
    """Five logs no one can read, as they turn up: empty, cut short, text for times, not a table, a note."""
    good = next(flight for flight in flights if flight.recorder == "slow-1")
    text = gzip.decompress((inbox / good.log_file).read_bytes())
    (inbox / "TL-5-empty.csv").write_bytes(b"")
    packed = gzip.compress(text, mtime=0)
    (inbox / "TL-5-cut-short.csv.gz").write_bytes(packed[: len(packed) // 2])
    header, *lines = text.decode().splitlines()
    spoiled = [line.replace(line.split(",")[0], "see note", 1) for line in lines]
    (inbox / "TL-5-words.csv").write_text("\n".join([header, *spoiled]) + "\n", encoding="utf-8")
    (inbox / "SJ-2-not-a-table.parquet").write_bytes(bytes(range(256)) * 40)
    (inbox / "SJ-3-no-data.csv").write_text("The recorder was not fitted on this flight.\n", encoding="utf-8")


def _pilot_row(pilot: Pilot) -> dict[str, object]:
    return {
        "pilot": pilot.pilot,
        "profile": pilot.profile,
        "kind": pilot.kind,
        "landings": pilot.landings,
        "style": pilot.style,
        "change_landing": pilot.change_landing,
    }

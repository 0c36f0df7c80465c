"""Flights flown once and kept in a folder outside the project, one file a flight."""

import os
import tempfile
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

import numpy as np
from flight_dynamics.drawing import draw
from flight_dynamics.flight import fly
from flight_dynamics.models import edited_models
from flight_dynamics.scenario import RIG_VERSION, Scenario
from flight_dynamics.traces import Trace, trace

_EXACT = {"left_ft", "right_ft", "nose_ft", "mid_ft", "altitude_ft", "x_ft"}
"""Columns kept in double precision, because rates are taken of them."""


def folder() -> Path:
    """Where flights are kept: FLIGHT_DYNAMICS_CACHE, else a folder of the system's temporary one."""
    given = os.environ.get("FLIGHT_DYNAMICS_CACHE")
    return Path(given) if given else Path(tempfile.gettempdir()) / "flight_dynamics_cache"


def fill(half: str, *, count: int, seed: int = 1, processes: int = 2) -> None:
    """Fly what is not kept of the first `count` landings of a half."""
    plans = [draw(half, number, seed) for number in range(count)]
    folder().mkdir(parents=True, exist_ok=True)
    missing = [plan for plan in plans if not _file(plan, seed).exists()]
    if len(missing) > 3 and processes > 1:
        with ProcessPoolExecutor(processes, mp_context=get_context("spawn")) as pool:
            list(pool.map(_keep, missing, [seed] * len(missing), chunksize=4))
    else:
        for plan in missing:
            _keep(plan, seed)


def kept(plan: Scenario, seed: int) -> Trace:
    """The trace of a flight that was filled in."""
    with np.load(_file(plan, seed)) as held:
        columns = {k: held[k].astype(float) for k in held.files if not k.startswith("_")}
        events = dict(zip(held["_names"].tolist(), held["_events"].tolist(), strict=True))
    return Trace(columns, events)


def _file(plan: Scenario, seed: int) -> Path:
    return folder() / f"v{RIG_VERSION}-{plan.half}-{seed}-{plan.number:04d}.npz"


def _keep(plan: Scenario, seed: int) -> None:
    flown = trace(fly(plan, edited_models()), plan)
    columns = {k: v if k in _EXACT else v.astype(np.float32) for k, v in flown.columns.items()}
    target = _file(plan, seed)
    part = target.with_suffix(f".{os.getpid()}.npz")
    np.savez(part, **columns, _events=np.array(list(flown.events.values())), _names=np.array(list(flown.events)))
    part.replace(target)

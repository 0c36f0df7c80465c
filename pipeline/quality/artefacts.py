"""What no flight does: jumps of place, frozen time, time that runs faster than the motion."""

import numpy as np

from pipeline.quality.courses import KT_FPS, Bools, Courses, Floats
from pipeline.quality.grid import STEP_S, change, gained
from pipeline.recording import Artefact

_JUMP_FT, _JUMP_TIMES = 1500.0, 4.0
"""A step in place is a reposition beyond this distance and this many times what the speed allows (our own choice)."""
_FROZEN_S, _FEWEST_WATCHED = 6.0, 4
_FROZEN_ABOVE_KT = 30.0
_WATCHED = (
    "latitude_deg",
    "longitude_deg",
    "pressure_altitude_ft",
    "geometric_altitude_ft",
    "radio_height_ft",
    "pitch_deg",
)
_FASTER = 1.6
_FASTER_S = 10.0


def find_artefacts(courses: Courses) -> tuple[Artefact, ...]:
    """Repositions, freezes and stretches of accelerated time, in order of time."""
    found = [*_repositions(courses), *_freezes(courses), *_accelerations(courses)]
    return tuple(sorted(found, key=lambda artefact: (artefact.start_s, artefact.kind)))


def _repositions(courses: Courses) -> list[Artefact]:
    """Steps of position that no speed explains."""
    grid = courses.grid
    jumped = np.zeros(max(len(grid.t) - 1, 0), dtype=bool)
    if grid.has("latitude_deg") and grid.has("longitude_deg"):
        jumped |= _jumps(courses)
    return _artefacts(courses, _runs(jumped), "reposition")


def _jumps(courses: Courses) -> Bools:
    lat, lon = (courses.grid.recording.channels[name] for name in ("latitude_deg", "longitude_deg"))
    step = np.zeros(max(len(courses.grid.t) - 1, 0), dtype=bool)
    if len(lat.t) != len(lon.t) or len(lat.t) < 8:
        return step
    north = np.diff(lat.value) * 60.0 * 1852.0 / 0.3048
    east = np.diff(lon.value) * 60.0 * 1852.0 / 0.3048 * np.cos(np.radians(lat.value[1:]))
    far = np.hypot(north, east)
    speed = courses.grid.recording.channels.get("ground_speed_kt") or courses.grid.recording.channels.get("airspeed_kt")
    fastest = (float(speed.value.max()) if speed is not None else 700.0) * KT_FPS
    at = np.flatnonzero((far > _JUMP_FT) & (far > _JUMP_TIMES * fastest * np.diff(lat.t)))
    step[np.clip(np.searchsorted(courses.grid.t, lat.t[at], "right") - 1, 0, len(step) - 1)] = True
    return step


def _freezes(courses: Courses) -> list[Artefact]:
    """Stretches in which everything stands still while the speed says that it moves."""
    grid = courses.grid
    watched = [grid.of(name) for name in _WATCHED if grid.has(name)]
    if len(watched) < _FEWEST_WATCHED:
        return []
    still = np.all([np.abs(np.diff(x)) < 1e-12 for x in watched], axis=0)
    still &= np.fmax(grid.of("ground_speed_kt"), grid.of("airspeed_kt"))[1:] > _FROZEN_ABOVE_KT
    return _artefacts(courses, [(a, b) for a, b in _runs(still) if grid.t[b] - grid.t[a] >= _FROZEN_S], "freeze")


def _artefacts(courses: Courses, runs: list[tuple[int, int]], kind: str) -> list[Artefact]:
    t = courses.grid.t
    return [Artefact(float(t[a]), float(t[b]), kind) for a, b in runs]


def _accelerations(courses: Courses) -> list[Artefact]:
    """Stretches in which positions and heights both run ahead of ground speed and vertical speed."""
    grid = courses.grid
    span = int(_FASTER_S / STEP_S)
    if len(grid.t) <= span or not grid.has("ground_speed_kt") or not grid.has("latitude_deg"):
        return []
    moved = _over(courses.moved_ft, gained(grid.of("ground_speed_kt") * KT_FPS, len(grid.t) - len(courses.moved_ft)))
    fast = moved > _FASTER
    runs = [(a, b) for a, b in _runs(fast) if grid.t[b] - grid.t[a] >= _FASTER_S]
    if np.nansum(fast) > 0.5 * np.isfinite(moved).sum():
        return []
    return _artefacts(courses, [(a, b) for a, b in runs if _climbs_too(courses, a, b)], "time_acceleration")


def _climbs_too(courses: Courses, a: int, b: int) -> bool:
    """Whether a height runs ahead of vertical speed too, or nothing climbs that could tell."""
    rate = gained(courses.grid.of("vertical_speed_fpm") / 60.0, b - a)[a]
    for name in ("pressure_altitude_ft", "geometric_altitude_ft"):
        if courses.grid.has(name) and abs(rate) > 100.0:
            return bool(change(courses.grid.of(name), b - a)[a] / rate > _FASTER)
    return True


def _over(a: Floats, b: Floats) -> Floats:
    return np.where(b > 100.0, a / np.where(b > 100.0, b, 1.0), np.nan)


def _runs(true: Bools) -> list[tuple[int, int]]:
    """First and last-plus-one index of every run of true values."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], true, [False]]).astype(int)))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))

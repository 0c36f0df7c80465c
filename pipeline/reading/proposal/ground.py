"""Heights above the lowest ground in; when the wheels were down, and which kind of height each column is, out."""

from dataclasses import replace

import numpy as np

from pipeline.reading.proposal.finding import Finding
from pipeline.reading.proposal.grid import Grid, Series, line
from pipeline.recording import Floats

HEIGHTS = ("radio_height", "pressure_altitude", "geometric_altitude")
_M = {"ft": 0.3048, "m": 1.0, "yd": 0.9144}
_HIGH_M, _LEVEL_MS, _BEARS_MS, _SLOW_MS = 45.0, 0.6, 0.4, 8.0
_OVER_FIELD_M = 35.0
_LENGTH_FIT = 0.15
"""How far a height's scale near the ground may stand off its unit (delays, an antenna that tilts); metres and yards
lie closer, so that one of them is taken only where another height of the log is in it."""
_ZERO_FT, _ELEVATED_FT = 15.0, 40.0
_ZERO, _BESIDE = 5.0, 2.0
"""What zero on the ground says for a radio height, and how much more beside an altitude that is not zero there."""


def contacts_of(t: Floats, above_m: Floats, climb_ms: Floats, speed_ms: Floats | None) -> tuple[float, ...]:
    """About when the aircraft came down to the lowest ground and stayed on it, s.

    A low pass does not stay: its climb is not level there.
    """
    near = max(0.004 * float(np.nanmax(above_m)), 1.5)
    found: list[float] = []
    high = False
    for i in np.flatnonzero(np.isfinite(above_m)):
        if above_m[i] > _HIGH_M:
            high = True
        elif high and above_m[i] < near and not (speed_ms is not None and speed_ms[i] < _SLOW_MS):
            after = climb_ms[i + 4 : i + 16]
            if np.isfinite(after).sum() >= 6 and np.nanmedian(np.abs(after)) < _LEVEL_MS:
                found.append(float(t[i + _levels_off(climb_ms[i : i + 16])]))
            high = False
    return tuple(found)


def _levels_off(climb_ms: Floats) -> int:
    """Place where the sink has ended: the wheels bear."""
    level = np.flatnonzero(np.abs(climb_ms) < _BEARS_MS)
    return int(level[0]) if len(level) else 0


def height_findings(
    grid: Grid,
    heights: list[Series],
    known: tuple[Series, str | None, str],
    above_m: Floats,
    contacts: tuple[float, ...],
    *,
    findings: list[Finding],
) -> None:
    """Add what each height is: the known one (with its unit and what says so), and those that come down as it does."""
    ground = _on_ground(grid.t, contacts)
    kinds: list[list[Finding]] = []
    field = _near(grid.t, contacts) & (above_m < _OVER_FIELD_M)
    for series in heights:
        if series is known[0]:
            _, unit, says = known
        else:
            fit = line(above_m[field], series.even[field]) if field.any() else None
            if fit is None or fit.r < 0.93:
                continue
            fitting = [u for u, size in _M.items() if abs(fit.slope * size - 1.0) < _LENGTH_FIT]
            if not fitting:
                continue
            unit = known[1] if known[1] in fitting else "ft" if known[1] and fitting == ["ft"] else None
            says = f"comes down as {known[0].name!r} does"
        kinds.append(_kind(series, unit, says, float(np.nanmedian(series.even[ground])) if ground.any() else None))
    elevated = any(one.channel == "radio_height" and one.points < -5.0 for kind in kinds for one in kind)
    for kind in kinds:
        findings += [
            replace(one, points=one.points + _BESIDE) if elevated and one.points == _ZERO else one for one in kind
        ]


def _on_ground(t: Floats, contacts: tuple[float, ...]) -> np.ndarray:
    return np.any([(t > c + 2.0) & (t < c + 10.0) for c in contacts], axis=0) if contacts else np.zeros(len(t), bool)


def _near(t: Floats, contacts: tuple[float, ...]) -> np.ndarray:
    return np.any([(t > c - 20.0) & (t < c + 10.0) for c in contacts], axis=0) if contacts else np.zeros(len(t), bool)


def _kind(series: Series, unit: str | None, says: str, reads: float | None) -> list[Finding]:
    """Zero on the ground, or the field's elevation; a field near sea level leaves both open."""
    if reads is None or not np.isfinite(reads):
        return [Finding(series.name, key, 2.0, says, unit, reversed_sign=False) for key in HEIGHTS]
    ground_ft = reads * _M.get(unit or "ft", 1.0) / 0.3048
    words = f"{says}; reads {reads:.3g} on the ground"
    if abs(ground_ft) < _ZERO_FT:
        points = {"radio_height": _ZERO, "pressure_altitude": 0.5, "geometric_altitude": 0.5}
    elif abs(ground_ft) < _ELEVATED_FT:
        points = {"radio_height": -1.0, "pressure_altitude": 3.0, "geometric_altitude": 3.0}
    else:
        points = {"radio_height": -9.0, "pressure_altitude": 4.0, "geometric_altitude": 4.0}
    return [Finding(series.name, key, value, words, unit, reversed_sign=False) for key, value in points.items()]

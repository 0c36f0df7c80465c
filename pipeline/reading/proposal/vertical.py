"""The grid in; which columns are heights and which one is their rate, with units and sign, out.

The rate of a height is the vertical speed: the factor between them is that of their units, which names both.
"""

from dataclasses import dataclass

import numpy as np

from pipeline.reading.proposal.finding import Finding
from pipeline.reading.proposal.grid import Grid, Line, Series, line, meaned, rate, wraps
from pipeline.reading.proposal.ground import contacts_of, height_findings
from pipeline.reading.proposal.names import name_says
from pipeline.recording import Floats

M = {"ft": 0.3048, "m": 1.0, "yd": 0.9144}
MS = {"ft/min": 0.00508, "m/s": 1.0, "ft/s": 0.3048, "kt": 1852.0 / 3600.0, "km/h": 1.0 / 3.6}
_PAIRS = (
    ("ft", "ft/min"), ("m", "m/s"), ("ft", "m/s"), ("m", "ft/min"), ("ft", "ft/s"), ("ft", "kt"), ("m", "kt"),
    ("m", "km/h"), ("yd", "kt"), ("yd", "m/s"), ("yd", "ft/min"),
)  # fmt: skip
"""Pairs of units that logs use."""
_FIT, _LONG_S = 0.05, 16.0
"""How far the ratio of the two may stand off that of their units: warm or cold air stretches an altitude; and the time
over which it is taken, long against any delay."""
_LOW_PART = 0.3
"""A radio height follows the ground below; the lowest part of the way down lies over the field."""
_STEEPEST_DEG, _FLATTEST_DEG = 9.0, 1.5
_LEAST_SINK_MS, _MOST_SINK_MS = 1.0, 15.0


@dataclass(frozen=True)
class Vertical:
    """`climb_ms` (m,) positive up; `above_m` (m,) above where the log came lowest; `contacts_s`: about when."""

    climb_ms: Floats
    above_m: Floats
    contacts_s: tuple[float, ...]


@dataclass(frozen=True)
class _Pair:
    """A height and a column that is its rate, (`height` a second) = `fit.slope` x `speed`; units that would fit."""

    height: Series
    speed: Series
    fit: Line
    units: tuple[tuple[str, str], ...]


def find_vertical(grid: Grid, speed_ms: Floats | None, findings: list[Finding]) -> Vertical | None:
    """Add what is found of heights and vertical speed to `findings`; return the vertical motion where it is known."""
    speeds = {f.column for f in findings if f.channel in ("ground_speed", "airspeed") and f.points > 2.0}
    heights = [s for s in grid.series.values() if s.name not in speeds and _may_be_height(s)]
    found = (
        _pair(h, v, speed_ms) for h in heights for v in grid.series.values() if v is not h and v.name not in speeds
    )
    pairs = [pair for pair in found if pair is not None]
    if not pairs:
        return _without_rate(grid, heights, speed_ms, findings)
    worth = {pair.speed.name: 0.0 for pair in pairs}
    for pair in pairs:
        worth[pair.speed.name] += abs(pair.fit.r)
    for name in worth:
        worth[name] += 0.1 * name_says(name).points.get("vertical_speed", 0.0)
    chosen = max(worth, key=lambda name: worth[name])
    mine = sorted((p for p in pairs if p.speed.name == chosen), key=lambda p: -abs(p.fit.r))
    best, units = mine[0], _units(mine[0])
    turned = best.fit.slope < 0
    length, speed_unit = units[0]
    sure = len(units) == 1
    words = f"it is the rate of {', '.join(repr(p.height.name) for p in mine[:3])}"
    findings.append(Finding(chosen, "vertical_speed", 9.0, words, speed_unit if sure else None, turned))
    climb = best.speed.even * (MS[speed_unit] * (-1.0 if turned else 1.0))
    above = best.height.even * M[length]
    above -= float(np.nanquantile(above, 0.01))
    contacts = contacts_of(grid.t, above, climb, speed_ms)
    says = f"its rate is {abs(best.fit.slope):.3g} of {chosen!r}"
    height_findings(grid, heights, (best.height, length if sure else None, says), above, contacts, findings=findings)
    return Vertical(climb, above, contacts)


def _may_be_height(series: Series) -> bool:
    x = series.even[np.isfinite(series.even)]
    if series.column.kind != "number" or len(x) < 40 or wraps(series.value):
        return False
    low, high = np.quantile(x, [0.002, 0.998])
    return bool(low > -2500.0 and high < 61_000.0 and high - low > 40.0)


def _pair(h: Series, v: Series, speed_ms: Floats | None) -> _Pair | None:
    if v.column.kind != "number" or np.nanmax(np.abs(v.even)) > 15_000.0:
        return None
    bottom, top = float(np.nanmin(h.even)), float(np.nanmax(h.even))
    moving = np.where(h.even < top - 0.004 * (top - bottom), rate(h.even), np.nan)
    low = np.where(h.even < bottom + _LOW_PART * (top - bottom), moving, np.nan)
    part = next((x for x in (moving, low) if _follows(line(meaned(v.even), x), x)), None)
    if part is None:
        return None
    fit = line(meaned(v.even, _LONG_S), np.where(np.isfinite(part), rate(h.even, _LONG_S), np.nan))
    if fit is None or abs(fit.r) < 0.95:
        return None
    units = tuple(
        (a, b)
        for a, b in _PAIRS
        if abs(abs(fit.slope) * M[a] / MS[b] - 1.0) < 2.0 * _FIT and _sinks(h, v, MS[b], speed_ms)
    )
    return _Pair(h, v, fit, units) if units else None


def _follows(fit: Line | None, moving: Floats) -> bool:
    return fit is not None and abs(fit.r) > 0.9 and abs(fit.level) < 0.3 * float(np.nanstd(moving))


def _sinks(h: Series, v: Series, size: float, speed_ms: Floats | None) -> bool:
    """Whether a column in units of `size` m/s would be the usual sink of an aircraft while the height falls."""
    falling = rate(h.even)
    down = falling < 0.4 * np.nanquantile(falling, 0.05)
    sink = np.abs(v.even[down]) * size
    if speed_ms is None:
        return bool(_LEAST_SINK_MS < np.nanmedian(sink) < _MOST_SINK_MS)
    return _FLATTEST_DEG < slope_deg(sink, speed_ms[down]) < _STEEPEST_DEG


def slope_deg(climb_ms: Floats, speed_ms: Floats) -> float:
    """Usual steepness of a path, deg; NaN where there is none."""
    both = np.isfinite(climb_ms) & np.isfinite(speed_ms)
    return float(np.median(np.degrees(np.arctan2(np.abs(climb_ms[both]), speed_ms[both])))) if both.any() else np.nan


def _units(pair: _Pair) -> list[tuple[str, str]]:
    """Units of the pair, the likeliest first; one where they are beyond doubt.

    What the names state is taken where it fits. Else the nearest ratio, as long as no other lies near enough to be
    meant: over sloping ground a radio height alone cannot tell metres from yards.
    """
    stated = (_stated(pair.height), _stated(pair.speed))
    agreeing = [
        u for u in pair.units if all(s is None or s == x or s not in (*M, *MS) for s, x in zip(stated, u, strict=True))
    ]
    offs = {u: abs(abs(pair.fit.slope) * M[u[0]] / MS[u[1]] - 1.0) for u in agreeing or pair.units}
    ranked = sorted(offs, key=lambda u: offs[u])
    if agreeing and any(stated) and len({u for u in agreeing if offs[u] < _FIT}) == 1:
        return ranked[:1]
    doubtful = [u for u in ranked[1:] if offs[u] < _FIT or (offs[ranked[0]] > 0.6 * _FIT)]
    return [ranked[0], *doubtful] if offs[ranked[0]] < _FIT else [ranked[0], ranked[0]]


def _stated(series: Series) -> str | None:
    return name_says(series.name).unit or series.column.unit_below


def _without_rate(
    grid: Grid, heights: list[Series], speed_ms: Floats | None, findings: list[Finding]
) -> Vertical | None:
    """No vertical speed: a height that its name tells, with the unit it states, gives the motion."""
    keys = ("geometric_altitude", "pressure_altitude", "radio_height")
    named = [s for s in heights if any(name_says(s.name).points.get(key, 0.0) >= 5.0 for key in keys)]
    series = next((s for s in named if _stated(s) in M), None)
    if series is None:
        return None
    unit = _stated(series) or ""
    climb = rate(series.even, 4.0) * M[unit]
    above = series.even * M[unit]
    above -= float(np.nanquantile(above, 0.01))
    contacts = contacts_of(grid.t, above, climb, speed_ms)
    height_findings(grid, heights, (series, unit, "it comes down"), above, contacts, findings=findings)
    return Vertical(climb, above, contacts)

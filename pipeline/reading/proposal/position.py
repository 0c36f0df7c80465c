"""The grid in; which two columns are the position, and which speed is the one over the ground, out.

A position moves by as much as the ground speed says: only the right pair in the right order fits a speed in a known
unit.
"""

from dataclasses import dataclass
from itertools import permutations

import numpy as np

from pipeline.reading.proposal.finding import Finding
from pipeline.reading.proposal.grid import Grid, Line, Series, line, meaned, rate
from pipeline.reading.proposal.names import name_says
from pipeline.recording import Floats

M_A_DEG = 111_194.9
"""Metres in a degree of a great circle of the mean Earth radius, 6,371,008.8 m."""
OF_MS = {"kt": 3600.0 / 1852.0, "m/s": 1.0, "km/h": 3.6, "mph": 3600.0 / 1609.344}
_OVERS_S = (4.0, 12.0)
"""Times the movement is taken over: the longer one for positions that are held between updates."""
_FASTEST_MS, _SLOWEST_MS = 350.0, 8.0
_GROUND_FIT, _AIR_FIT = 0.03, 0.30
_SCATTER_MS, _RARE_UNIT = 0.2, 1.5
"""Scatter of a true ground speed about the positions' own; and what speaks against miles an hour, which at 30 deg of
latitude fits a swapped position as well as knots fit the right one."""
_STRONGEST_WIND_MS, _GUSTS_MS = 20.0, 3.0
_MOST = 12
"""Columns tried as positions, and as speeds; the pairs grow with their square."""


@dataclass(frozen=True)
class Position:
    """`speed_ms` (m,) and `course_deg` (m,) as the position moves; None where no column can be one."""

    speed_ms: Floats
    course_deg: Floats


def find_position(grid: Grid, findings: list[Finding]) -> Position | None:
    """Add what is found of position and speeds to `findings`; return the movement of the best pair."""
    for over_s in _OVERS_S:
        position = _placed(grid, over_s, findings)
        if position is not None:
            return position
    return _by_name([series for series in grid.series.values() if series.column.kind == "number"])


def _placed(grid: Grid, over_s: float, findings: list[Finding]) -> Position | None:
    """The best pair with the movement taken over `over_s`; None where none moves as a speed says."""
    movers = [series for series in grid.series.values() if _may_be_position(series, over_s)][:_MOST]
    speeds = [series for series in grid.series.values() if _may_be_speed(series)][:_MOST]
    fits: list[tuple[float, Series, Series, Series, str, Line]] = []
    for a, b in permutations(movers, 2):
        if np.nanmax(np.abs(a.even)) > 90.0:
            continue
        over_ground = _speed(a, b, over_s)
        for c in speeds:
            if c in (a, b):
                continue
            fit = line(over_ground, meaned(c.even, over_s))
            if fit is None or fit.r < 0.97 or abs(fit.level) > 0.08 * float(np.nanmax(np.abs(c.even))):
                continue
            unit, off = min(((u, abs(fit.slope / k - 1.0)) for u, k in OF_MS.items()), key=lambda found: found[1])
            if off < _GROUND_FIT:
                score = off / _GROUND_FIT + fit.off / OF_MS[unit] / _SCATTER_MS + _RARE_UNIT * (unit == "mph")
                fits.append((score, a, b, c, unit, fit))
    if not fits:
        return None
    fits.sort(key=lambda found: found[0])
    _, a, b, c, unit, fit = fits[0]
    swapped = min((score for score, x, y, *_ in fits if (x, y) == (b, a)), default=np.inf)
    sure = swapped > 2.0 * fits[0][0] + 0.3
    both = f"together they move as {c.name!r} says, {fit.slope:.3g} {unit} a m/s"
    if sure:
        findings += [Finding(a.name, "latitude", 8.0, both, "deg"), Finding(b.name, "longitude", 8.0, both, "deg")]
    else:
        both += "; which of the two is which the values do not tell"
        findings += [Finding(s.name, key, 3.0, both, "deg") for s in (a, b) for key in ("latitude", "longitude")]
    over = _speed(a, b, over_s)
    rivals = {
        id(z): (z, u) for score, x, y, z, u, _ in fits if (x, y, u) == (a, b, unit) and score < 2.0 * fits[0][0] + 0.3
    }
    if len(rivals) > 1:
        _calm(list(rivals.values()), findings)
    else:
        _speeds(speeds, over, over_s, ground=(c, unit), findings=findings)
    return Position(over, _course(a, b, over_s))


def _may_be_position(series: Series, over_s: float) -> bool:
    x = series.even[np.isfinite(series.even)]
    if series.column.kind != "number" or len(x) < 40 or np.abs(x).max() > 180.0:
        return False
    spread = float(np.ptp(x))
    moved, bent = rate(series.even, over_s), rate(rate(series.even, over_s), over_s)
    smooth = np.nanmedian(np.abs(bent)) * over_s < 0.3 * np.nanmedian(np.abs(moved)) + 1e-7
    return bool(1e-4 < spread < 8.0 and smooth and np.nanmedian(np.abs(moved)) < _FASTEST_MS / M_A_DEG * 3.0)


def _may_be_speed(series: Series) -> bool:
    x = series.even[np.isfinite(series.even)]
    if series.column.kind != "number" or len(x) < 40:
        return False
    low, high = float(x.min()), float(np.quantile(x, 0.98))
    return low > -3.0 and 15.0 < high < 1300.0 and high > 1.2 * max(low, 1.0)


def _speed(a: Series, b: Series, over_s: float) -> Floats:
    east = rate(b.even, over_s) * np.cos(np.radians(a.even))
    speed = np.hypot(rate(a.even, over_s), east) * M_A_DEG
    return np.where(speed < _FASTEST_MS, speed, np.nan)


def _course(a: Series, b: Series, over_s: float) -> Floats:
    north, east = rate(a.even, over_s), rate(b.even, over_s) * np.cos(np.radians(a.even))
    course = np.degrees(np.arctan2(east, north))
    course[~(np.hypot(north, east) * M_A_DEG > _SLOWEST_MS)] = np.nan
    return course


def _by_name(movers: list[Series]) -> Position | None:
    """The pair its names call latitude and longitude, where no speed confirms it."""
    named = {
        key: [s for s in movers if name_says(s.name).points.get(key, 0.0) >= 5.0] for key in ("latitude", "longitude")
    }
    if len(named["latitude"]) == len(named["longitude"]) == 1:
        (a,), (b,) = named.values()
        return Position(_speed(a, b, _OVERS_S[0]), _course(a, b, _OVERS_S[0]))
    return None


def _calm(rivals: list[tuple[Series, str]], findings: list[Finding]) -> None:
    """In calm air speed over the ground and through the air are one; only names can tell them apart."""
    for series, unit in rivals:
        words = f"follows the position in {unit}, as another does: calm air?"
        findings += [Finding(series.name, key, 3.0, words, unit) for key in ("ground_speed", "airspeed")]


def _speeds(
    speeds: list[Series], over: Floats, over_s: float, *, ground: tuple[Series, str], findings: list[Finding]
) -> None:
    """The ground speed, and the speeds that follow it but for wind."""
    best, unit = ground
    findings.append(Finding(best.name, "ground_speed", 9.0, f"follows the position in {unit}", unit))
    findings.append(Finding(best.name, "airspeed", -9.0, "follows the position exactly"))
    beside: list[tuple[Series, str, Line]] = []
    for series in speeds:
        fit = None if series is best else line(over, meaned(series.even, over_s))
        if fit is None or fit.r < 0.9:
            continue
        near = min(OF_MS, key=lambda u: abs(fit.slope / OF_MS[u] - 1.0))
        if abs(fit.slope / OF_MS[near] - 1.0) < _GROUND_FIT and fit.r > 0.9995 and abs(fit.level) < 0.5 * fit.slope:
            findings.append(Finding(series.name, "ground_speed", 7.0, f"follows the position in {near}", near))
            findings.append(Finding(series.name, "airspeed", -4.0, "follows the position exactly"))
            continue
        near = unit if abs(fit.slope / OF_MS[unit] - 1.0) < _AIR_FIT else near
        if abs(fit.slope / OF_MS[near] - 1.0) < _AIR_FIT and _windy(fit):
            beside.append((series, near, fit))
    _airspeeds(beside, unit, findings)


def _windy(fit: Line) -> bool:
    """Whether a speed differs from the ground speed by no more than a wind, and scatters no more than gusts do."""
    return abs(fit.level) < _STRONGEST_WIND_MS * abs(fit.slope) and fit.off < _GUSTS_MS * abs(fit.slope)


def _airspeeds(beside: list[tuple[Series, str, Line]], ground_unit: str, findings: list[Finding]) -> None:
    """Speeds beside the ground speed; of two, one indicated and one true, the values do not tell which is which."""
    for series, unit, fit in beside:
        words = f"follows the ground speed but for wind, {fit.slope:.3g} a m/s"
        points = 6.0 if len(beside) == 1 else 3.0
        words += "" if len(beside) == 1 else "; so do others (indicated or true airspeed?)"
        told = unit == ground_unit or abs(fit.slope / OF_MS[unit] - 1.0) < 0.12
        findings.append(Finding(series.name, "airspeed", points, words, unit if told else None))
        findings.append(Finding(series.name, "ground_speed", -8.0, "does not follow the position"))

"""The grid and how the position moves in; which columns are track, heading and roll out.

The track is the course the position moves on; the heading differs from it by the crab, which ends on the ground; the
roll is what turns it: tan(roll) = speed x rate of turn / gravity.
"""

import numpy as np

from pipeline.reading.proposal.finding import Finding
from pipeline.reading.proposal.grid import Grid, Series, line, meaned, rate, wraps
from pipeline.reading.proposal.names import name_says
from pipeline.recording import Floats

_G = 9.80665
_LEAST_COURSE = 40
_TRACK_DEG, _CRAB_DEG, _GROUND_DEG = 1.5, 25.0, 1.5
_MOST_SHAKY_DEG = 0.35
"""Heavy things turn smoothly; a wind direction does not."""
_STILL_DEG, _MOVES_WITH, _ENDS_DEG, _SEEN = 0.05, 0.3, 0.8, 5
_LEAST_TURN_DEG = 0.3
"""A log that never banks this much (standard deviation) tells nothing of the roll."""


def find_directions(
    grid: Grid, course_deg: Floats | None, contacts: tuple[float, ...], findings: list[Finding]
) -> Floats | None:
    """Add track and heading to `findings`; return the best direction (m,) in deg, unwrapped, for the rate of turn."""
    placed = {
        f.column
        for f in findings
        if f.channel in ("latitude", "longitude", "airspeed", "ground_speed") and f.points > 2.0
    }
    around = [s for s in grid.series.values() if s.name not in placed and _may_be_direction(s)]
    if course_deg is None or np.isfinite(course_deg).sum() < _LEAST_COURSE:
        named = [s for s in around if _called(s)]
        return named[0].even if named else None
    rolling = np.any([(grid.t > c + 6.0) & (grid.t < c + 25.0) for c in contacts], axis=0) if contacts else None
    close: list[tuple[float, float, Series]] = []
    for series in around:
        apart = _apart(series.even, course_deg)
        there = np.isfinite(apart)
        if there.sum() < _LEAST_COURSE or np.median(np.abs(apart[there])) > _CRAB_DEG:
            continue
        off = float(np.quantile(np.abs(apart[there]), 0.75))
        seen = rolling is not None and np.isfinite(apart[rolling]).sum() > _SEEN
        on_ground = float(np.nanmedian(apart[rolling])) if seen else np.nan
        crab_ends = off - abs(on_ground) > _ENDS_DEG
        if _called(series) or crab_ends or _moves_with(series.even, apart, course_deg):
            close.append((off, on_ground, series))
    close.sort(key=lambda found: found[0])
    _directions(close, findings)
    return close[0][2].even if close else None


def _may_be_direction(series: Series) -> bool:
    x = series.value
    if series.column.kind != "number" or x.min() < -181.0 or x.max() > 361.0:
        return False
    shaky = np.nanmedian(np.abs(np.diff(series.even, 2))) > _MOST_SHAKY_DEG
    return bool((wraps(x) or x.max() > 20.0 or x.min() < -20.0) and not shaky)


def _moves_with(x: Floats, apart: Floats, course: Floats) -> bool:
    """Whether a column moves as the course does, more than a temperature that happens to be as large."""
    there = np.isfinite(apart)
    turned = np.unwrap(course[there], period=360.0)
    if x[there].std() < _STILL_DEG or turned.std() < 1e-9:
        return False
    return float(np.corrcoef(x[there], turned)[0, 1]) > _MOVES_WITH


def _apart(x: Floats, course: Floats) -> Floats:
    return np.mod(x - course + 180.0, 360.0) - 180.0


def _directions(close: list[tuple[float, float, Series]], findings: list[Finding]) -> None:
    """The one on the course is the track; others are headings, true where they agree with it on the ground."""
    for place, (off, on_ground, series) in enumerate(close):
        words = f"within {off:.1f} deg of where the position moves"
        alone = len(close) == 1
        clear = place == 0 and off < _TRACK_DEG and (alone or close[1][0] > 2.0 * off + 0.4)
        if clear and not alone:
            findings.append(Finding(series.name, "track_true", 6.0, words, "deg"))
            findings.append(Finding(series.name, "heading_true", -2.0, words, "deg"))
        elif off < _TRACK_DEG:
            findings.append(
                Finding(series.name, "track_true", 3.0, f"{words}, as a heading in calm air would be", "deg")
            )
            findings.append(Finding(series.name, "heading_true", 3.0, f"{words}, as a track would be", "deg"))
        elif np.isfinite(on_ground) and abs(on_ground) < _GROUND_DEG:
            words = f"{off:.1f} deg off the course in the air, {abs(on_ground):.1f} deg on the ground"
            findings.append(Finding(series.name, "heading_true", 6.0, words, "deg"))
            findings += [Finding(series.name, key, -6.0, words) for key in ("track_true", "heading_magnetic")]
        else:
            words = f"{off:.1f} deg off the course"
            if np.isfinite(on_ground) and _called(series):
                words += f", {on_ground:+.1f} deg on the ground: magnetic?"
                findings.append(Finding(series.name, "heading_true", -3.0, words, "deg"))
                findings.append(Finding(series.name, "heading_magnetic", 1.0, words, "deg"))
            elif _called(series):
                findings.append(Finding(series.name, "heading_true", 0.0, words, "deg"))
            findings.append(Finding(series.name, "track_true", -6.0, words, "deg"))


def _called(series: Series) -> bool:
    """Whether its name calls it a heading or track."""
    return any(name_says(series.name).points.get(key, 0.0) >= 5.0 for key in ("heading_true", "track_true"))


def find_roll(grid: Grid, direction: Floats | None, speed_ms: Floats | None, findings: list[Finding]) -> None:
    """Add the column that turns the flight."""
    if direction is None or speed_ms is None:
        return
    turning = np.degrees(np.arctan(np.radians(rate(direction, 3.0)) * meaned(speed_ms, 3.0) / _G))
    turning[~((np.abs(turning) < 60.0) & (speed_ms > 25.0))] = np.nan
    if np.isfinite(turning).sum() < _LEAST_COURSE or np.nanstd(turning) < _LEAST_TURN_DEG:
        return
    for series in grid.series.values():
        fit = line(turning, meaned(series.even, 3.0)) if series.column.kind == "number" else None
        if fit is None or abs(fit.r) < 0.8:
            continue
        for unit, size in (("deg", 1.0), ("rad", np.pi / 180.0)):
            if 0.6 < abs(fit.slope) / size < 1.5 and abs(fit.level) < 5.0 * size:
                words = f"it is what turns the flight (correlation {abs(fit.r):.2f})"
                findings.append(Finding(series.name, "roll", 7.0, words, unit, fit.slope < 0))

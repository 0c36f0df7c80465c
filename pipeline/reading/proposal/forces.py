"""The grid and the vertical motion in; which columns are accelerations and pitch out.

Normal acceleration is 1 g in steady flight and bends the path; longitudinal acceleration changes the speed; pitch rises
with the path in the flare and falls when the nose is lowered.
"""

import numpy as np

from pipeline.reading.proposal.finding import Finding
from pipeline.reading.proposal.grid import Grid, line, meaned, rate
from pipeline.recording import Floats

_G = 9.80665
_UNITS = (("g", 1.0), ("m/s2", _G))
_BEND_S = 3.0
_LEAST_BEND_G = 0.008
_FLARE_DEG, _MOST_FLARE_DEG, _LOWERED_DEG = 1.0, 8.0, 1.0
_GREATEST_DEG = 35.0
_JERK_DEG, _FOLLOWS, _CLOSELY = 0.25, 0.4, 0.6


def find_normal(grid: Grid, climb_ms: Floats | None, contacts: tuple[float, ...], findings: list[Finding]) -> None:
    """Add normal acceleration: by its value at rest, and by the bends of the path it makes."""
    bend = None if climb_ms is None else rate(climb_ms, _BEND_S) / _G
    air = _in_air(grid.t, contacts)
    for series in grid.series.values():
        if series.column.kind != "number" or np.isfinite(series.even[air]).sum() < 40:
            continue
        rest = float(np.nanmedian(series.even[air]))
        spread = float(np.nanstd(series.even[air]))
        fit = (
            None
            if bend is None or np.nanstd(bend[air]) < _LEAST_BEND_G
            else line(bend[air], meaned(series.even[air], _BEND_S))
        )
        for unit, size in _UNITS:
            upright = abs(abs(rest) / size - 1.0) < 0.06
            if not (0.003 < spread / size < 0.3) or not (upright or abs(rest) < 0.05 * size):
                continue
            bends = fit is not None and abs(fit.r) > (0.5 if upright else 0.85) and 0.35 < abs(fit.slope) / size < 1.6
            if not bends and not upright:
                continue
            turned = bool(fit.slope < 0) if bends and fit is not None else rest < 0.0
            if upright and turned != (rest < 0.0):
                continue
            says = [f"{rest:.3g} in steady flight"] if upright else ["no 1 g in it"]
            if bends and fit is not None:
                says.append(f"bends the path (correlation {abs(fit.r):.2f})")
            points = 9.0 if upright and bends else 4.0 if upright else 6.0
            findings.append(Finding(series.name, "normal_accel", points, ", ".join(says), unit, turned))


def find_longitudinal(
    grid: Grid, speed_ms: Floats | None, contacts: tuple[float, ...], findings: list[Finding]
) -> None:
    """Add longitudinal acceleration: on the ground it is the change of speed."""
    if speed_ms is None or not contacts:
        return
    rolling = np.any([(grid.t > c + 2.0) & (grid.t < c + 30.0) for c in contacts], axis=0) & (speed_ms > 5.0)
    change = rate(speed_ms, 3.0) / _G
    if rolling.sum() < 20 or np.nanstd(change[rolling]) < 0.02:
        return
    for series in grid.series.values():
        if series.column.kind != "number" or series.interval_s > 1.5:
            continue
        fit = line(change[rolling], meaned(series.even, 3.0)[rolling])
        if fit is None or abs(fit.r) < 0.85:
            continue
        for unit, size in _UNITS:
            if 0.7 < abs(fit.slope) / size < 1.35 and abs(fit.level) < 0.08 * size:
                words = f"on the ground it is the change of speed (correlation {abs(fit.r):.2f})"
                findings.append(Finding(series.name, "longitudinal_accel", 7.0, words, unit, fit.slope < 0))


def find_pitch(
    grid: Grid, climb_ms: Floats | None, speed_ms: Floats | None, contacts: tuple[float, ...], findings: list[Finding]
) -> None:
    """Add pitch: the nose rises in the flare, is lowered after contact, and stands above the path in flight."""
    if not contacts:
        return
    path = None if climb_ms is None or speed_ms is None else np.degrees(np.arctan2(climb_ms, speed_ms))
    for series in grid.series.values():
        if series.column.kind != "number" or series.interval_s > 1.5:
            continue
        size = np.nanquantile(np.abs(series.even), 0.99)
        unit, to_deg = ("rad", 180.0 / np.pi) if size < _GREATEST_DEG * np.pi / 180.0 else ("deg", 1.0)
        if size > _GREATEST_DEG:
            continue
        attitude = series.even * to_deg
        nose = [_nose(grid.t - c, attitude) for c in contacts]
        sign = float(np.sign(np.nansum([rise for rise, _ in nose])))
        rise, fall = (_middle(np.array([sign * part[k] for part in nose])) for k in (0, 1))
        if not (_FLARE_DEG < rise < _MOST_FLARE_DEG and fall > _LOWERED_DEG and _steady(grid, attitude, contacts)):
            continue
        words = f"rises {rise:.1f} deg in the flare, falls {fall:.1f} deg after it"
        points = 2.0
        if path is not None:
            air = _approach(grid.t, contacts)
            above = _middle((attitude * sign - path)[air])
            fit = line(rate(path, 4.0)[air], rate(attitude * sign, 4.0)[air])
            follows = fit is not None and fit.r > _FOLLOWS and 0.4 < fit.slope < 2.5
            closely = fit is not None and follows and fit.r > _CLOSELY
            points = (6.2 if closely else 5.0 if follows else 2.5) if -1.0 < above < 12.0 else -3.0
            words += f", stands {above:.1f} deg above the path"
            words += f" and moves with it (correlation {fit.r:.2f})" if fit is not None and follows else ""
        findings.append(Finding(series.name, "pitch", points, words, unit, sign < 0))


def _nose(tau: Floats, attitude: Floats) -> tuple[float, float]:
    """How far the nose rises before a contact, and falls after it, deg."""
    top = _between(tau, attitude, -2.0, 0.6)
    return top - _between(tau, attitude, -15.0, -8.0), top - _between(tau, attitude, 6.0, 12.0)


def _steady(grid: Grid, attitude: Floats, contacts: tuple[float, ...]) -> bool:
    """Whether it moves as slowly as an aircraft's attitude does."""
    jerks = np.abs(np.diff(attitude, 2))[_approach(grid.t, contacts)[1:-1]]
    return bool(np.isfinite(jerks).any() and np.nanmedian(jerks) < _JERK_DEG)


def _in_air(t: Floats, contacts: tuple[float, ...]) -> np.ndarray:
    if not contacts:
        return np.ones(len(t), dtype=bool)
    return np.any([(t > c - 120.0) & (t < c - 1.0) for c in contacts], axis=0)


def _approach(t: Floats, contacts: tuple[float, ...]) -> np.ndarray:
    return np.any([(t > c - 60.0) & (t < c - 10.0) for c in contacts], axis=0)


def _between(tau: Floats, x: Floats, low: float, high: float) -> float:
    return _middle(x[(tau >= low) & (tau <= high)])


def _middle(x: Floats) -> float:
    """Median of the values there are; NaN without any."""
    held = x[np.isfinite(x)]
    return float(np.median(held)) if len(held) else np.nan

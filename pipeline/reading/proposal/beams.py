"""The grid and the motion in; which columns are the deviations from glideslope and localiser, with their sign, out.

Seen from where the beam begins, the angle to the aircraft moves as the deviation does.
"""

import numpy as np

from pipeline.reading.proposal.finding import Finding
from pipeline.reading.proposal.grid import STEP_S, Grid, Line, Series, line
from pipeline.reading.proposal.names import name_says
from pipeline.recording import Floats

_STEEPEST = 6.0
"""Dots a degree are 2.9; more than twice that is something else."""
_FROM_FT_M, _TO_M = 100.0 * 0.3048, 450.0
_ORIGINS_M = tuple(float(x) for x in range(-300, 700, 100))
"""Where the beam may begin, before the contact."""


def find_glideslope(
    grid: Grid, above_m: Floats | None, speed_ms: Floats | None, contacts: tuple[float, ...], findings: list[Finding]
) -> None:
    """Add the sign of columns that are named as a glideslope, by the angle the aircraft is seen under."""
    if above_m is None or speed_ms is None or not contacts:
        return
    named = [
        s
        for s in grid.series.values()
        if s.column.kind == "number" and name_says(s.name).points.get("glideslope", 0.0) > 2.0
    ]
    for series in named:
        fit = _best(grid, series, above_m, speed_ms, contacts)
        if fit is None or abs(fit.r) < 0.92:
            continue
        if abs(fit.slope) < _STEEPEST:
            words = f"moves as the angle above the path does (correlation {abs(fit.r):.2f})"
            findings.append(Finding(series.name, "glideslope", 2.0, words, None, fit.slope < 0))


def _best(grid: Grid, series: Series, above_m: Floats, speed_ms: Floats, contacts: tuple[float, ...]) -> Line | None:
    best: Line | None = None
    flown = np.nancumsum(np.nan_to_num(speed_ms)) * STEP_S
    for origin in _ORIGINS_M:
        x, y = [], []
        for c in contacts:
            at = int(np.searchsorted(grid.t, c))
            part = (grid.t > c - 150.0) & (grid.t < c) & (above_m > _FROM_FT_M) & (above_m < _TO_M)
            away = flown[min(at, len(flown) - 1)] - flown[part] - origin
            x.append(np.degrees(np.arctan2(above_m[part], np.maximum(away, 1.0))))
            y.append(series.even[part])
        fit = line(np.concatenate(x), np.concatenate(y))
        if fit is not None and (best is None or abs(fit.r) > abs(best.r)):
            best = fit
    return best

"""The grid and the contacts in; what columns of two states, and levers, do about a contact, out."""

import numpy as np

from pipeline.reading.proposal.finding import Finding
from pipeline.reading.proposal.grid import Grid, Series
from pipeline.recording import Floats

_BEFORE_S, _AFTER_S = 2.0, 2.0
_LATER_S = 0.4
_MOSTLY = 0.7


def two_states(series: Series) -> tuple[float, float] | None:
    """The two values of a column that holds only two; None for any other."""
    values = np.unique(series.value)
    return (float(values[0]), float(values[1])) if len(values) == 2 else None


def state_at(series: Series, t: float) -> float:
    """The value held at a time."""
    return float(series.value[max(int(np.searchsorted(series.t, t, "right")) - 1, 0)])


def find_ground_switches(grid: Grid, contacts: tuple[float, ...], findings: list[Finding]) -> None:
    """Add switches that change as the wheels come down, and were in the other state on the whole approach.

    The first to change is the main wheels'; one that changes later may be the nose wheel's, or anything that is set
    off by the first.
    """
    flips: list[tuple[float, Series]] = []
    for series in grid.series.values():
        seen = [d for c in contacts if (d := _flip(series, c)) is not None] if two_states(series) else []
        if seen and len(seen) >= _MOSTLY * len(contacts):
            flips.append((float(np.median(seen)), series))
    flips.sort(key=lambda flip: flip[0])
    for delay, series in flips:
        if not -_BEFORE_S < flips[0][0] < _AFTER_S + min(flips[0][1].interval_s, 2.0):
            break
        first = delay - flips[0][0] < _LATER_S
        words = (
            f"changes as height reaches zero ({delay:+.1f} s)"
            if first
            else f"changes {delay:.1f} s after height reaches zero"
        )
        findings.append(Finding(series.name, "main_on_ground", 5.0 if first else -4.0, words))
        findings.append(Finding(series.name, "nose_on_ground", -4.0 if first else 1.0, words))
        findings += [Finding(series.name, key, -4.0, words) for key in ("gear_down", "autopilot_on")]
    flipping = {series.name for _, series in flips}
    for series in grid.series.values():
        if contacts and series.name not in flipping and two_states(series):
            findings.append(Finding(series.name, "main_on_ground", -4.0, "does not change at a contact"))


def _flip(series: Series, contact_s: float) -> float | None:
    """How long after a contact the state first changes, s; None where it does not from 15 s before it on."""
    before, after = state_at(series, contact_s - 15.0), state_at(series, contact_s + 8.0)
    if before == after:
        return None
    there = (series.t > contact_s - 15.0) & (series.t < contact_s + 8.0)
    changes = np.flatnonzero(np.diff(series.value[there]) != 0)
    if not len(changes):
        return None
    return float(series.t[there][changes[0] + 1]) - contact_s


def find_levers(grid: Grid, contacts: tuple[float, ...], findings: list[Finding]) -> None:
    """Add columns that close to their least, or pass it into reverse, about a contact: a lever, or what follows it."""
    for series in grid.series.values():
        if series.column.kind != "number" or not contacts or two_states(series):
            continue
        closed = [c for c in contacts if _closes(grid.t - c, series.even)]
        if closed and len(closed) >= _MOSTLY * len(contacts):
            words = "closes about the contact"
            findings.append(Finding(series.name, "thrust_lever", 2.0, words))
            findings.append(Finding(series.name, "engine_speed", 1.0, words))


def _closes(tau: Floats, x: Floats) -> bool:
    held, after = x[(tau > -60.0) & (tau < -15.0)], x[(tau > 1.0) & (tau < 5.0)]
    if not np.isfinite(held).sum() > 10 or not np.isfinite(after).any():
        return False
    span = float(np.nanmax(x) - np.nanmin(x))
    return bool(span > 0 and np.nanmedian(held) - np.nanmedian(after) > 0.3 * span)

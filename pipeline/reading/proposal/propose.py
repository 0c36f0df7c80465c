"""A raw table no map knows in; the channel map one would write for it, each line with its evidence, out."""

import warnings
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from pipeline.channels import BY_KEY
from pipeline.errors import LogError
from pipeline.reading.channel_map import ChannelMap
from pipeline.reading.proposal.clock import Clock, find_clock
from pipeline.reading.proposal.draft import Line
from pipeline.reading.proposal.evidence import find_evidence
from pipeline.reading.proposal.grid import Grid, to_grid
from pipeline.reading.proposal.line import line_of
from pipeline.reading.proposal.sampled import read_columns
from pipeline.reading.proposal.weigh import Weighed, weigh

ACCEPTED = 0.8
"""A line at least this sure is written as it is; one less sure is written behind a #, for a person to settle."""
_MENTIONED = 0.12
_CLOSE = 4.0
"""Two columns whose odds for a channel are closer than this factor both claim it."""
_ALIKE = 0.9
_SAME_UNIT = {"roll": "pitch", "longitudinal_accel": "normal_accel", "lateral_accel": "normal_accel"}
"""Channels that one sensor gives with another."""


@dataclass(frozen=True)
class Proposal:
    """What a log's columns are taken for.

    `clock`: the time column, None where none can be it; `lines`: one or more a channel, the surest first, in the order
    of the channels; `open`: columns nothing is proposed for, each with why in words (or "").
    """

    clock: Clock | None
    lines: tuple[Line, ...]
    open: tuple[tuple[str, str], ...]

    @property
    def accepted(self) -> tuple[Line, ...]:
        """Lines sure enough to be written as they are."""
        return tuple(line for line in self.lines if line.confidence >= ACCEPTED)


def propose(table: Path, *, log_file: str, known: ChannelMap | None = None) -> Proposal:
    """Propose a channel map for a raw table.

    Parameters
    ----------
    known : a map that reads some of the columns already: nothing is proposed for those, nor for the channels it gives.

    Names speak for a channel by their words, in several languages, and state units; values by how they move together:
    a height and its rate, a position and a speed, a switch that changes as height reaches zero. Only the last 200,000
    rows are looked at. Where two readings of the values are possible, neither is taken silently.
    """
    columns = read_columns(table)
    used, have = ((), ()) if known is None else (known.columns, tuple(known.rules))
    clock = (
        find_clock(columns) if known is None else Clock(known.time.column, known.time.unit, 1.0, ("the map says so",))
    )
    if clock is None:
        return Proposal(None, (), tuple((column.name, "") for column in columns if column.name not in used))
    try:
        grid = to_grid(columns, clock, log_file=log_file)
    except LogError as error:
        return Proposal(replace(clock, confidence=0.0, evidence=(str(error),)), (), ())
    with np.errstate(all="ignore"), warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)  # the mean of a stretch without values is NaN, as is wanted
        lines = _all_lines(grid, used, have)
    mentioned = {column for line in lines for column in line.columns}
    left = [c for c in columns if c.name not in (*used, *mentioned, clock.column)]
    return Proposal(clock, tuple(lines), tuple((c.name, _why(c.kind, grid, c.name)) for c in left))


def _all_lines(grid: Grid, used: tuple[str, ...], have: tuple[str, ...]) -> list[Line]:
    findings, contacts = find_evidence(grid)
    weighed = [weigh(series, findings) for name, series in grid.series.items() if name not in used]
    lines: list[Line] = []
    for key in BY_KEY:
        if key not in have:
            lines += _lines(key, weighed, contacts, akin=_akin(key, lines))
    return lines


def _akin(key: str, lines: list[Line]) -> str | None:
    """Unit of the sure line of a channel that is written in the same unit as a rule; None without one."""
    return next((line.unit for line in lines if line.key == _SAME_UNIT.get(key) and line.confidence >= ACCEPTED), None)


def _lines(key: str, weighed: list[Weighed], contacts: tuple[float, ...], *, akin: str | None) -> list[Line]:
    """Lines of one channel: its likeliest columns together where they are of a kind, then the others, doubted."""
    claims = sorted((w for w in weighed if w.chances[key] >= _MENTIONED), key=lambda w: -w.chances[key])
    groups: list[list[Weighed]] = []
    for claim in claims:
        group = next((g for g in groups if _of_a_kind(g[0], claim)), None)
        if group is None:
            groups.append([claim])
        else:
            group.append(claim)
    lines = [line_of(key, sorted(group, key=lambda w: w.series.name), contacts, akin=akin) for group in groups]
    if len(groups) > 1:
        odds = [group[0].chances[key] / max(1.0 - group[0].chances[key], 1e-12) for group in groups]
        names = [", ".join(line.columns) for line in lines]
        rival = odds[0] < _CLOSE * odds[1]
        lines = [
            _doubted(line, 0.5, f"{names[1 if n == 0 else 0]} claims it as well") if rival or n else line
            for n, line in enumerate(lines)
        ]
    return lines


def _doubted(line: Line, confidence: float, why: str) -> Line:
    return replace(line, confidence=line.confidence * confidence, doubt=(*line.doubt, why))


def _of_a_kind(one: Weighed, other: Weighed) -> bool:
    """Whether two columns are the same thing on two sides: one name but for the side, values that go together."""
    if one.name.stem != other.name.stem or one.unit != other.unit:
        return False
    a, b = one.series.even, other.series.even
    both = np.isfinite(a) & np.isfinite(b)
    if both.sum() < 8:
        return False
    if a[both].std() < 1e-9 or b[both].std() < 1e-9:
        return bool(np.allclose(np.median(a[both]), np.median(b[both])))
    return bool(np.corrcoef(a[both], b[both])[0, 1] > _ALIKE)


def _why(kind: str, grid: Grid, name: str) -> str:
    if kind == "blank":
        return "holds no value"
    if kind == "text":
        return "holds text"
    series = grid.series.get(name)
    return "never changes" if series is not None and np.ptp(series.value) == 0 else ""

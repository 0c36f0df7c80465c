"""A manifest in, one typed row a log or landing out: who flew, in what, how, and what else the log cannot tell.

Blank cells are null here: a landing's own row stands over its log's field by field before a blank takes its usual
meaning, the first of the words listed for a column.
"""

import json
import posixpath
from collections.abc import Iterable
from pathlib import Path

import polars as pl

from pipeline.reading.cell_readers import choice, count, instant, number, text
from pipeline.reading.typed_table import Field, Table, note_misspelt, read_table, repeated

CHOICES: dict[str, tuple[str, ...]] = {
    "role": ("line", "training", "instructing", "check"),
    "takeover": ("none", "approach", "flare", "unknown"),
    "device": ("aircraft", "qualified_simulator", "desktop_simulator"),
    "exercise": (
        "normal",
        "reduced_flap",
        "flapless",
        "engine_out",
        "overweight",
        "short_field",
        "demonstration",
    ),
    "why_logged": ("routine", "after_event", "chosen", "training"),
    "conditions": ("visual", "instrument"),
    "intent": ("normal", "land_long"),
}
"""Columns that hold one of a few words; a blank means the first."""

_RANGES = {
    "vref_kt": (20.0, 400.0),
    "target_speed_kt": (20.0, 400.0),
    "weight_kg": (100.0, 700_000.0),
    "wind_from_true_deg": (0.0, 360.0),
    "wind_speed_kt": (0.0, 200.0),
    "gust_kt": (0.0, 250.0),
}
_ORDER = (
    *("log_file", "landing_index", "map", "flown_at", "pilot", "pilot_monitoring", "seat", "role", "takeover"),
    *("device", "exercise", "why_logged", "aircraft", "aircraft_type", "recorder", "runway", "vref_kt"),
    *("target_speed_kt", "landing_flap", "weight_kg", "conditions", "wind_from_true_deg", "wind_speed_kt", "gust_kt"),
    *("weather_report", "runway_condition", "intent", "note"),
)


def _field(name: str) -> Field:
    if name in CHOICES:
        return Field(pl.String, choice(*CHOICES[name]))
    if name in _RANGES:
        return Field(pl.Float64, number(*_RANGES[name]))
    if name == "landing_index":
        return Field(pl.Int64, count)
    if name == "flown_at":
        return Field(pl.Datetime("us", "UTC"), instant)
    return Field(pl.String, text, needed=name == "log_file")


FIELDS: dict[str, Field] = {name: _field(name) for name in _ORDER}
"""The manifest's columns in order; any other column is a tag."""


def read_manifest(path: Path, log_files: Iterable[str]) -> pl.DataFrame:
    """Read a manifest that speaks of some of `log_files`, names with forward slashes relative to the manifest.

    Returns one row a line: `line`, the columns of `FIELDS` (null where blank or absent), and `tags`, the other columns
    as a JSON object, null where a row has none. `log_file` is settled to the name in `log_files` that it means: the
    same path, or the one log whose path ends in it, or, for a path that leads away from the manifest's folder, the one
    log whose path it ends in.

    Raises
    ------
    ManifestError
        The first five problems with their lines: a log that is not there or not the only one of its name, a second row
        for a log or landing, a word, number or time that cannot be used.
    """
    table = read_table(path, FIELDS)
    names = _Names(log_files)
    written = table.frame.select("log_file", "line").iter_rows()
    settled = [names.settle(name, line, table) for name, line in written]
    tags = [json.dumps(others, ensure_ascii=False) if others else None for others in table.others]
    frame = table.frame.with_columns(
        pl.Series("log_file", settled, dtype=pl.String), pl.Series("tags", tags, dtype=pl.String)
    )
    for line, first in repeated(frame.drop_nulls("log_file"), ["log_file", "landing_index"]):
        table.problems.append((line, f"says again what line {first} says of the same log or landing; keep one"))
    note_misspelt(table, FIELDS)
    table.refuse()
    return frame


class _Names:
    """The logs there are, by path and by file name."""

    def __init__(self, log_files: Iterable[str]) -> None:
        self._paths = dict.fromkeys(log_files)
        self._by_last: dict[str, list[str]] = {}
        for name in self._paths:
            self._by_last.setdefault(posixpath.basename(name), []).append(name)

    def settle(self, written: str | None, line: int, table: Table) -> str | None:
        """Return the log that a manifest's cell means, or note the problem."""
        if written is None:
            return None
        path = posixpath.normpath(written.replace("\\", "/")) if written not in self._paths else written
        if path in self._paths:
            return path
        near = self._by_last.get(posixpath.basename(path), [])
        leads_away = path.startswith(("../", "/")) or ":" in path.partition("/")[0]
        fitting = [n for n in near if f"/{n}".endswith(f"/{path}") or (leads_away and path.endswith(f"/{n}"))]
        if len(fitting) == 1:
            return fitting[0]
        if fitting:
            table.problems.append((line, f"log_file = {written!r} may be {' or '.join(fitting)}; write its path"))
        else:
            beside = f"; meant may be {near[0]}" if near else "; bring the log or take the row out"
            table.problems.append((line, f"log_file = {written!r} names no log{beside}"))
        return None

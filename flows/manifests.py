"""Manifests and log names in; out: the rows of each log with pseudonyms, kept beside the logs for the next run.

A row is a statement once, when it is first read in its file: the newest statement stands, and an older row that is
still in some file says nothing new.
"""

import hashlib
import json
import os
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import polars as pl

from flows.discovery import LogFile, as_text
from flows.files import write_table_atomically
from flows.privacy import Pseudonyms
from pipeline.reading.manifest import FIELDS, read_manifest

KEPT: dict[str, pl.DataType | type[pl.DataType]] = {
    "log_sha256": pl.String,
    **{name: field.dtype for name, field in FIELDS.items() if name != "log_file"},
    "tags": pl.String,
}
"""Columns of the rows kept: all a manifest says, under the log's hash."""
SAID: dict[str, pl.DataType | type[pl.DataType]] = {
    "source": pl.String,
    "log_sha256": pl.String,
    "landing_index": pl.Int64,
    "row_sha256": pl.String,
    "said_at": pl.Datetime("us", "UTC"),
}
"""What each manifest said last of each log or landing, as a hash, and when it was first read there."""

Rows = dict[int | None, dict[str, Any]]
"""Rows of one log by their landing's index; None: the row of the whole log."""


def names_from(manifest: Path, logs: Iterable[LogFile]) -> dict[str, LogFile]:
    """Return the logs by the name a row of `manifest` gives them: the path from its folder, `../` where it must be."""
    folder = manifest.absolute().parent
    return {as_text(Path(os.path.relpath(log.place, folder)).as_posix()): log for log in logs}


def stated(manifest: Path, names: Iterable[str], pseudonyms: Pseudonyms) -> pl.DataFrame:
    """Read `manifest`: one row a row of it, `log_file` one of `names`, pilots by their pseudonyms.

    Raises
    ------
    ManifestError
        A row that cannot be used, or that names no log of `names`.
    """
    rows = read_manifest(manifest, list(names))
    hidden = [
        pl.Series(column, [pseudonyms.of(name) for name in rows[column]], dtype=pl.String)
        for column in ("pilot", "pilot_monitoring")
    ]
    return rows.with_columns(hidden)


@dataclass(frozen=True)
class News:
    """Hashes of the logs of which a manifest says something new, and of those whose rows in it were overruled since."""

    changed: frozenset[str]
    overruled: frozenset[str]


class Statements:
    """What manifests have said of logs, by the logs' hashes; kept in `file`, and what each one said last in `said`.

    A new row of a log stands in the place of all older rows of the log and its landings; a new row of a landing in that
    of the landing's older one. A row that its manifest no longer has, though it still speaks of the log, is withdrawn.
    """

    def __init__(self, file: Path, said: Path) -> None:
        self._file, self._said_file = file, said
        self._kept: defaultdict[str, Rows] = defaultdict(dict)
        for row in _read(file, KEPT).iter_rows(named=True):
            self._kept[row["log_sha256"]].setdefault(row["landing_index"], row)
        self._said: defaultdict[tuple[str, str], dict[int | None, tuple[str, datetime]]] = defaultdict(dict)
        for source, sha256, index, row_sha256, at in _read(said, SAID).iter_rows():
            self._said[source, sha256][index] = (row_sha256, at)

    def add(self, rows: pl.DataFrame, sha256_of: Mapping[str, str], *, source: str, at: datetime) -> News:
        """Take the rows of the logs in `sha256_of`, read at the instant `at` in the manifest named `source`."""
        changed, overruled = set(), set()
        for sha256, stated_now in _by_log(rows, sha256_of).items():
            standing = self._kept[sha256]
            self._kept[sha256] = self._standing(source, sha256, stated_now, at)
            if self._kept[sha256] != standing:
                changed.add(sha256)
            if any(self._kept[sha256].get(index) != row for index, row in stated_now.items()):
                overruled.add(sha256)
        return News(frozenset(changed), frozenset(overruled))

    def _standing(self, source: str, sha256: str, stated_now: Rows, at: datetime) -> Rows:
        """Rows of one log that stand after its rows in a manifest were read."""
        before = self._said[source, sha256]
        now = {index: _row_sha256(row) for index, row in stated_now.items()}
        new = [index for index, said in now.items() if index not in before or before[index][0] != said]
        withdrawn = {index: said for index, (said, _) in before.items() if index not in now}
        standing = {
            index: row
            for index, row in self._kept[sha256].items()
            if withdrawn.get(index) != _row_sha256(row) and (None not in new or index in stated_now)
        }
        self._said[source, sha256] = {
            index: (said, at if index in new else before[index][1]) for index, said in now.items()
        }
        return standing | {index: stated_now[index] for index in new}

    def of(self, sha256s: Iterable[str]) -> pl.DataFrame:
        """Return the rows of these logs, as measuring takes them."""
        rows = [row for sha256 in dict.fromkeys(sha256s) for row in self._kept.get(sha256, {}).values()]
        return pl.DataFrame(rows, schema=KEPT)

    def save(self, known: Iterable[str]) -> None:
        """Keep the rows of the logs that are `known`, held or refused."""
        kept = set(known)
        rows = self.of(kept).sort("log_sha256", "landing_index", nulls_last=False)
        said = [
            (source, sha256, index, *entry)
            for (source, sha256), entries in self._said.items()
            if sha256 in kept
            for index, entry in entries.items()
        ]
        write_table_atomically(rows, self._file)
        write_table_atomically(pl.DataFrame(said, schema=SAID, orient="row"), self._said_file)


def source_of(manifest: Path, root: Path) -> str:
    """Return what a manifest is known by: its path, below the workspace's `root` where it lies there, as a hash."""
    path = manifest.absolute()
    place = path.relative_to(root) if path.is_relative_to(root) else path
    return hashlib.sha256(place.as_posix().encode("utf-8", "surrogateescape")).hexdigest()[:16]


def _read(file: Path, schema: Mapping[str, pl.DataType | type[pl.DataType]]) -> pl.DataFrame:
    return pl.read_parquet(file, glob=False) if file.is_file() else pl.DataFrame(schema=schema)


def _by_log(rows: pl.DataFrame, sha256_of: Mapping[str, str]) -> dict[str, Rows]:
    """Rows by log and landing; where two names of one log are spoken of, the first row counts."""
    known = rows.filter(pl.col("log_file").is_in(list(sha256_of)))
    hashes = pl.Series("log_sha256", [sha256_of[name] for name in known["log_file"]], dtype=pl.String)
    said = known.with_columns(hashes).select(pl.col(name).cast(kind) for name, kind in KEPT.items())
    by_log: defaultdict[str, Rows] = defaultdict(dict)
    for row in said.iter_rows(named=True):
        by_log[row["log_sha256"]].setdefault(row["landing_index"], row)
    return dict(by_log)


def _row_sha256(row: Mapping[str, Any]) -> str:
    """Hash of what a row says; blank cells say nothing, so that a column the program learns later changes none."""
    said = {name: value for name, value in row.items() if value is not None}
    return hashlib.sha256(json.dumps(said, sort_keys=True, default=str).encode()).hexdigest()

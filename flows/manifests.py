"""Manifests and log names in; out: the rows of each log with pseudonyms, kept beside the logs for the next run."""

import os
from collections.abc import Iterable, Mapping
from pathlib import Path

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


def names_from(manifest: Path, logs: Iterable[LogFile]) -> dict[str, LogFile]:
    """Return the logs by the name a row of `manifest` gives them: the path from its folder, `../` where it must be."""
    folder = manifest.absolute().parent
    return {as_text(Path(os.path.relpath(log.path, folder)).as_posix()): log for log in logs}


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


class Statements:
    """What manifests have said of accepted logs, by the logs' hashes; kept in one Parquet file.

    A log that a manifest names again is described by that manifest alone.
    """

    def __init__(self, file: Path) -> None:
        self._file = file
        self._kept = pl.read_parquet(file, glob=False) if file.is_file() else pl.DataFrame(schema=KEPT)

    def add(self, rows: pl.DataFrame, sha256_of: Mapping[str, str]) -> set[str]:
        """Take the rows of the logs in `sha256_of`; return the hashes of those of which they say something new."""
        known = rows.filter(pl.col("log_file").is_in(list(sha256_of)))
        hashes = pl.Series("log_sha256", [sha256_of[name] for name in known["log_file"]], dtype=pl.String)
        said = known.with_columns(hashes).select(pl.col(name).cast(kind) for name, kind in KEPT.items())
        named = pl.col("log_sha256").is_in(said["log_sha256"].unique().implode())
        before = self._kept.filter(named)
        self._kept = pl.concat([self._kept.filter(~named), said])
        differing = [
            one.join(other, on=list(KEPT), how="anti", nulls_equal=True)["log_sha256"]
            for one, other in ((said, before), (before, said))
        ]
        return set(pl.concat(differing))

    def of(self, sha256s: Iterable[str]) -> pl.DataFrame:
        """Return the rows of these logs, as measuring takes them."""
        return self._kept.filter(pl.col("log_sha256").is_in(list(sha256s)))

    def save(self, held: Iterable[str]) -> None:
        """Keep the rows of the logs that are `held`."""
        rows = self.of(held).sort("log_sha256", "landing_index", nulls_last=False)
        write_table_atomically(rows, self._file)

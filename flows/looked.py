"""Which logs were looked through by which definition and runways, so that what was not found is looked for once.

Goes in and comes out: hashes of logs, and the frame of runways. A landing without a runway, and a log without an
approach, have no row of the warehouse that could tell what they were looked for with.
"""

from collections.abc import Iterable
from pathlib import Path

import polars as pl

from flows.files import write_table_atomically
from pipeline.measures.table import DEFINITION
from warehouse.keys import frame_sha256

LOOKED: dict[str, type[pl.DataType]] = {"log_sha256": pl.String, "definition": pl.String, "runways_sha256": pl.String}


class Looked:
    """What is noted in `file`, one row a log."""

    def __init__(self, file: Path) -> None:
        self._file = file
        self._rows = pl.read_parquet(file, glob=False) if file.is_file() else pl.DataFrame(schema=LOOKED)

    def note(self, log_sha256s: Iterable[str], runways: pl.DataFrame) -> None:
        """Note that these logs were looked through by the present definition and `runways`."""
        hashes = pl.Series("log_sha256", list(dict.fromkeys(log_sha256s)), dtype=pl.String)
        new = pl.DataFrame(hashes).with_columns(
            pl.lit(DEFINITION).alias("definition"), pl.lit(frame_sha256([runways])).alias("runways_sha256")
        )
        self._rows = pl.concat([self._rows.join(new, on="log_sha256", how="anti", maintain_order="left"), new])

    def save(self) -> None:
        """Write the notes at once."""
        write_table_atomically(self._rows, self._file)

    def outdated(self, runways: pl.DataFrame) -> pl.DataFrame:
        """Return what the logs noted were looked through by that is no longer present.

        One row a log: `log_sha256`, `older_definition`, `older_runways` (another table of runways than `runways`).
        """
        return self._rows.select(
            "log_sha256",
            (pl.col("definition") != DEFINITION).alias("older_definition"),
            (pl.col("runways_sha256") != frame_sha256([runways])).alias("older_runways"),
        )

"""The warehouse in; out: which logs it holds and under which names, so that they can be named and read again."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import polars as pl

from flows.discovery import LogFile, stamp
from flows.files import write_table_atomically
from flows.intake import Refused, Tabled
from flows.maps import Maps
from flows.workspace import Workspace
from pipeline.reading.channel_map import ChannelMap, canonical_map
from pipeline.reading.tabulate import RawTable
from warehouse.database import reader, writer
from warehouse.marts import read

NAMES: dict[str, type[pl.DataType]] = {"log_file": pl.String, "log_sha256": pl.String}


@dataclass(frozen=True)
class Held:
    """Accepted logs (rows of the mart of logs), names they came under again, and refused logs (of that mart)."""

    logs: pl.DataFrame
    further: pl.DataFrame
    refused: pl.DataFrame

    @classmethod
    def by(cls, workspace: Workspace) -> "Held":
        """Return what the workspace's warehouse holds; an empty warehouse is made where there is none."""
        with writer(workspace.database) as con:
            return cls(read(con, "logs"), _further(workspace), read(con, "refusals"))

    @classmethod
    def seen(cls, workspace: Workspace) -> "Held":
        """Return the same of a warehouse that is only read.

        Raises
        ------
        SettingsError
            There is none.
        """
        with reader(workspace.database) as con:
            return cls(read(con, "logs"), _further(workspace), read(con, "refusals"))

    @property
    def names(self) -> tuple[str, ...]:
        """Names that a manifest may give a log that is not in this run."""
        return tuple(dict.fromkeys(self._spoken_of()["log_file"]))

    @property
    def sha256s(self) -> tuple[str, ...]:
        """Hashes of the logs that are held or refused."""
        return tuple(dict.fromkeys(self._spoken_of()["log_sha256"]))

    def sha256_of(self) -> dict[str, str]:
        """Return the hash of each held or refused log by its name; names that several have tell none of them."""
        once = self._spoken_of().filter(~pl.col("log_file").is_duplicated())
        return dict(zip(once["log_file"], once["log_sha256"], strict=True))

    def remember(self, names: Iterable[tuple[str, str]], workspace: Workspace) -> None:
        """Keep names (name, hash) under which held logs came, beside those they first came with."""
        new = pl.DataFrame(list(names), schema=NAMES, orient="row").join(self._named(), on=list(NAMES), how="anti")
        if new.height:
            write_table_atomically(
                pl.concat([self.further, new]).unique(maintain_order=True), workspace.further_names_file
            )

    def _named(self) -> pl.DataFrame:
        return pl.concat([self.logs.select(list(NAMES)), self.further]).unique(maintain_order=True)

    def _spoken_of(self) -> pl.DataFrame:
        """Names of held logs, and of refused ones; a held log's name is its own though a refused one came by it."""
        named = self._named()
        return pl.concat([named, self.refused.select(list(NAMES)).join(named, on="log_file", how="anti")])

    def names_of(self, log_sha256: str) -> tuple[str, str] | None:
        """Return the name and the file name a held log first came with; None for one that is not held."""
        rows = self.logs.filter(pl.col("log_sha256") == log_sha256)
        return (rows["log_file"][0], rows["original_name"][0]) if rows.height else None

    def again(
        self, log_sha256: str, folder: Path, maps: Maps, *, channel_map: ChannelMap | None = None
    ) -> Tabled | None:
        """Return a held log ready to be measured again by `channel_map`, or else by the map it was read with.

        None where the log is not held, or its table or that map is gone.
        """
        rows = self.logs.filter(pl.col("log_sha256") == log_sha256).rows(named=True)
        path = folder / f"{log_sha256}.parquet"
        if not rows or not path.is_file():
            return None
        (row,) = rows
        columns = tuple(pl.read_parquet_schema(path))
        channel_map = channel_map or maps.used_before(row["map_sha256"]) or canonical_map(columns)
        if channel_map is None:
            return None
        log = LogFile(path, row["log_file"], owned=False, stamp=stamp(path))
        table = RawTable(path, columns, row["log_rows"], tuple(row["notes"]))
        return Tabled(log, row["original_name"], log_sha256, table, channel_map)

    def missing(self, log_sha256: str, folder: Path) -> Refused:
        """Return a held log whose table or map is gone, with how to mend it."""
        row = self.logs.row(by_predicate=pl.col("log_sha256") == log_sha256, named=True)
        path = folder / f"{log_sha256}.parquet"
        lost = f"its map {row['map_name']} is gone from {folder / 'maps'}" if path.exists() else f"{path} is gone"
        reason = f"{row['log_file']}: {lost}; bring the log again with roundout ingest, or put the file back"
        return Refused(LogFile(path, row["log_file"], owned=False, stamp=(0, 0)), log_sha256, reason)


def _further(workspace: Workspace) -> pl.DataFrame:
    file = workspace.further_names_file
    return pl.read_parquet(file, glob=False) if file.is_file() else pl.DataFrame(schema=NAMES)

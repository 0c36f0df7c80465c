"""A workspace in; out: which of its landings rest on older rules than the present ones, and on which.

Rules are the policy, the channel maps, the runways, the definition of the measures, and the constants learned of gear
and instruments. A corrected map is a map of the same name: a log read by a map that the inbox no longer has, or by one
that never lay there, keeps it.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import polars as pl

from flows.looked import Looked
from flows.maps import Maps
from flows.runways import kept_runways
from flows.workspace import Workspace
from pipeline.constants import NONE, installation_of
from pipeline.landing_frame import runway_hashes
from pipeline.measures.table import DEFINITION
from pipeline.reading.channel_map import ChannelMap
from pipeline.runway_match import NO_POSITION
from warehouse.constants import current_constants
from warehouse.database import reader
from warehouse.marts import read

CAUSES = ("policy", "map", "runway", "definition", "constants")
STANDING: dict[str, type[pl.DataType]] = {
    "log_sha256": pl.String,
    "log_file": pl.String,
    "landing_id": pl.String,
    **dict.fromkeys(CAUSES, pl.Boolean),
}
"""One row an approach measured now, or a log without one (landing_id null): what it rests on that is older."""


@dataclass(frozen=True)
class Present:
    """The rules of now: settings' policy hash, maps by name, runways with the notes on them."""

    policy_sha256: str
    maps: dict[str, ChannelMap]
    runways: pl.DataFrame
    looked: Looked

    @classmethod
    def of(cls, workspace: Workspace, maps: Maps, runways: pl.DataFrame) -> "Present":
        """Return the rules of a workspace, with the maps and runways of a run."""
        by_name = {one.name: one for one in maps.tried}
        return cls(workspace.settings().rules.sha256, by_name, runways, Looked(workspace.looked_file))


def present_maps(workspace: Workspace) -> Maps:
    """Return the maps of the inbox.

    Raises
    ------
    MapError
        One is no valid map.
    """
    return Maps(sorted(workspace.maps.glob("*.toml")), kept=workspace.kept_maps)


def standing(workspace: Workspace, present: Present | None = None) -> pl.DataFrame:
    """Return what each approach of the warehouse rests on that is older than `present`, columns of STANDING."""
    now = present or Present.of(workspace, present_maps(workspace), kept_runways(workspace))
    with reader(workspace.database) as con:
        approaches, logs, constants = read(con, "approaches"), read(con, "logs"), current_constants(con)
    versions = {
        (row[0], row[1]): row[2] for row in constants.select("recorder", "aircraft_type", "version").iter_rows()
    }
    looked = logs.select("log_sha256").join(now.looked.outdated(now.runways), on="log_sha256", how="left")
    logs = logs.select("log_sha256", "log_file", "map_sha256", _map_now(logs, now.maps)).join(looked, on="log_sha256")
    known = logs.rename({"map_sha256": "log_map"}).with_columns(
        pl.col("older_definition", "older_runways").fill_null(value=True)
    )
    rows = known.join(approaches.drop("log_file"), on="log_sha256", how="left", maintain_order="left")
    found = pl.col("landing_id").is_not_null()
    return rows.select(
        "log_sha256",
        "log_file",
        "landing_id",
        policy=found & (pl.col("policy_sha256") != now.policy_sha256),
        map=pl.coalesce("map_sha256", "log_map") != pl.col("map_now"),
        runway=found & _runway_differs(rows, now.runways),
        definition=pl.when(found).then(pl.col("definition") != DEFINITION).otherwise("older_definition"),
        constants=found & (pl.col("constants") != _constants_now(rows, versions)),
    ).cast(STANDING)  # type: ignore[arg-type]


def older(rows: pl.DataFrame) -> pl.DataFrame:
    """Return the rows of `standing` that rest on anything older."""
    return rows.filter(pl.any_horizontal(CAUSES))


def by_cause(rows: pl.DataFrame) -> dict[str, int]:
    """Return how many rows of `standing` rest on an older rule, by cause; causes without any are left out."""
    counts = rows.select(pl.col(cause).sum() for cause in CAUSES).row(0)
    return {cause: count for cause, count in zip(CAUSES, counts, strict=True) if count}


def _map_now(logs: pl.DataFrame, maps: dict[str, ChannelMap]) -> pl.Series:
    """Hash of the map each log would be read by now: the one that bears the name of the map it was read by."""
    pairs: Iterable[tuple[str, str]] = logs.select("map_name", "map_sha256").iter_rows()
    return pl.Series("map_now", [maps[name].sha256 if name in maps else held for name, held in pairs], dtype=pl.String)


def _runway_differs(rows: pl.DataFrame, runways: pl.DataFrame) -> pl.Series:
    """Whether a landing's runway reads otherwise now, or one was looked for in another table of runways and missed."""
    used = runways.filter(pl.col("runway").is_in(rows["runway"].drop_nulls().unique().implode()))
    hashes = runway_hashes(used)
    now = pl.Series([hashes.get(name) for name in rows["runway"]], dtype=pl.String)
    missed = rows["runway"].is_null() & (rows["runway_found"] != NO_POSITION).fill_null(value=False)
    return now.ne_missing(rows["runways_sha256"]) | (missed & rows["older_runways"])


def _constants_now(rows: pl.DataFrame, versions: dict[tuple[str, str], str]) -> pl.Series:
    """Version of the constants each landing would be measured with now."""
    stated = rows.select("recorder", "map_now", "aircraft_type").iter_rows()
    return pl.Series([versions.get(installation_of(*names), NONE) for names in stated], dtype=pl.String)

"""A workspace in; out: constants learned anew where they are outgrown, and the landings they are for measured again.

They are when an installation holds twice the landings its constants were learned from, or enough for the first time.
"""

import shutil
from collections import Counter
from datetime import datetime

import polars as pl

from flows.constants import Installation, by_installation, learn
from flows.engine import Spread, spread_for
from flows.files import write_table
from flows.held import Held
from flows.intake import Tabled
from flows.manifests import Statements
from flows.progress import Progress, silent
from flows.remeasure import Asked, Remeasured, remeasure
from flows.runways import kept_runways
from flows.standing import present_maps
from flows.workspace import Workspace
from pipeline.constants import LEAST, MOST, installation_of
from warehouse.constants import current_constants
from warehouse.database import reader
from warehouse.marts import read


def renew(
    workspace: Workspace, *, at: datetime, spread: Spread | None = None, tell: Progress | None = None
) -> Remeasured | None:
    """Learn anew where it is due; return what measuring again changed, or None where nothing was due.

    Raises
    ------
    SettingsError, MapError, ManifestError
        The settings, a map or a runway table cannot be used; nothing was changed.
    StoreError
        Another run holds the workspace, or the disk refused; nothing was lost.
    """
    with reader(workspace.database) as con:
        landings = read(con, "landing").filter(pl.col("contact_t_s").is_not_null())
        constants = current_constants(con)
    due = outgrown(landings, constants)
    if not due:
        return None
    with workspace.held():
        logs = _learn(workspace, due, at=at, spread=spread, tell=tell or silent)
    return remeasure(workspace, Asked([log.log_sha256 for log in logs]), at=at, spread=spread, tell=tell)


def outgrown(landings: pl.DataFrame, constants: pl.DataFrame) -> set[Installation]:
    """Installations whose constants are due: columns recorder, map_sha256, aircraft_type of each timed landing held.

    `constants`: those landings are measured with now.
    """
    rows = landings.select("recorder", "map_sha256", "aircraft_type").iter_rows()
    counts = Counter(installation_of(*row) for row in rows)
    from_landings: dict[Installation, int] = {}
    for recorder, kind, count in constants.select("recorder", "aircraft_type", "landings").iter_rows():
        from_landings[recorder, kind] = max(count, from_landings.get((recorder, kind), 0))
    return {key for key, count in counts.items() if _due(count, from_landings.get(key, 0))}


def _due(held: int, learned_from: int) -> bool:
    return held >= LEAST and learned_from < MOST and held >= 2 * learned_from


def _learn(
    workspace: Workspace, due: set[Installation], *, at: datetime, spread: Spread | None, tell: Progress
) -> list[Tabled]:
    """Learn each installation from its held logs; return the logs."""
    held, maps = Held.by(workspace), present_maps(workspace)
    statements = Statements(workspace.statements_file, workspace.said_file)
    context = statements.of(held.logs["log_sha256"])
    kept = (held.again(sha256, workspace.logs, maps) for sha256 in held.logs["log_sha256"])
    parts = by_installation([log for log in kept if log is not None], context)
    wanted = {key: parts[key] for key in due & set(parts)}
    logs = [log for some in wanted.values() for log in some]
    settings = workspace.settings()
    shutil.rmtree(workspace.staging, ignore_errors=True)
    workspace.staging.mkdir(parents=True)
    files = workspace.staging / "context.parquet", workspace.staging / "runways.parquet"
    write_table(context, files[0])
    write_table(kept_runways(workspace), files[1])
    tell("learning", 0, 0)
    how = spread or spread_for(settings.engine, len(logs))
    learn(workspace, wanted, (*files, settings.rules), spread=how, at=at)
    shutil.rmtree(workspace.staging, ignore_errors=True)
    return logs

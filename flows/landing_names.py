"""What a person calls a landing or a log in, the one that is meant out, or a sentence on what else there is.

A landing is called by its id or the beginning of it, or by its log and its place among the log's landings, from 0; a
log by its name, the last part of it, or the beginning of its hash.
"""

from collections.abc import Sequence

import polars as pl

from pipeline.errors import SettingsError

LEAST = 4
"""Signs of an id or a hash that are enough to mean one."""
_LISTED = 5


def logs_named(rows: pl.DataFrame, names: Sequence[str]) -> list[str]:
    """Return the hashes of the logs, or of the logs of the landings, that `names` mean.

    `rows`: log_sha256, log_file, landing_id (null where a log has no landing).

    Raises
    ------
    SettingsError
        A name means nothing that is held, or may mean several logs.
    """
    return list(dict.fromkeys(_log(rows, name) for name in names))


def landing_named(landings: pl.DataFrame, name: str, landing_index: int | None) -> str:
    """Return the id of the landing that is meant.

    Parameters
    ----------
    landings : landing_id, log_sha256, log_file, landing_index (null for an approach without contact), one row each.
    name : its id or the beginning of it; or its log, and then `landing_index` where the log has several.

    Raises
    ------
    SettingsError
        It means no landing that is held, or may mean several.
    """
    if landing_index is None:
        by_id = _beginning(landings, "landing_id", name)
        if by_id.height:
            return str(_only(by_id["landing_id"], name, "landing"))
    of_log = landings.filter(log_sha256=_log(landings, name))
    if landing_index is not None:
        one = of_log.filter(landing_index=landing_index)
        if one.is_empty():
            indices = ", ".join(str(index) for index in of_log["landing_index"].drop_nulls().sort()) or "none"
            message = f"{name}: holds no landing {landing_index}; its landings are: {indices}"
            raise SettingsError(message)
        return str(one["landing_id"][0])
    if of_log.height > 1:
        message = f"{name}: holds {of_log.height} approaches; name a landing's number from 0 after it, or its id"
        raise SettingsError(message)
    return str(of_log["landing_id"][0])


def _log(rows: pl.DataFrame, name: str) -> str:
    file = pl.col("log_file")
    for found in (
        rows.filter(file == name),
        rows.filter(file.str.ends_with(f"/{name}")),
        _beginning(rows, "log_sha256", name),
        _beginning(rows, "landing_id", name),
    ):
        if found.height:
            return str(_only(found["log_sha256"], name, "log"))
    message = f"{name}: no landing or log held is called so; `roundout export landings` lists ids and logs"
    raise SettingsError(message)


def _beginning(rows: pl.DataFrame, column: str, name: str) -> pl.DataFrame:
    return rows.filter(pl.col(column).str.starts_with(name.lower())) if len(name) >= LEAST else rows.clear()


def _only(found: pl.Series, name: str, what: str) -> object:
    several = found.unique().sort()
    if len(several) > 1:
        more = " ..." if len(several) > _LISTED else ""
        listed = ", ".join(one[:16] for one in several[:_LISTED])
        message = f"{name}: may mean {len(several)} {what}s: {listed}{more}; write more of it"
        raise SettingsError(message)
    return several[0]

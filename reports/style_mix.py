"""The styles, and which landing has which, in; a pilot's mix now and before out."""

import polars as pl

from reports.charts import groups, look
from reports.selection import Own
from reports.shares import Share, share

RECENT, FEWEST = 50, 30
"""Latest routine landings that are "now", and the fewest landings before a mix is shown."""
BETWEEN = "between styles, or none of them"


def mix(
    mine: Own, styles: pl.DataFrame, landing_styles: pl.DataFrame, flown: pl.DataFrame
) -> tuple[list[look.Chart], str]:
    """Return a chart of a pilot's mix of styles, if there is one to show, and a paragraph.

    Parameters
    ----------
    flown : dated landing frame of everyone; only styles met on the pilot's own type are told.
    """
    alike = flown.filter(pl.col("aircraft_type").eq_missing(mine.aircraft_type)).select("landing_id")
    met = landing_styles.join(alike, on="landing_id")["style"].unique()
    names = _short(named(styles.filter(pl.col("style").is_in(met.implode()))), mine.aircraft_type)
    if not names:
        return [], "Styles cannot be told yet: too few landings, or none that stands apart."
    if len(names) == 1:
        return [], f"One style describes all landings ({next(iter(names.values()))}); there is no mix to show."
    own = mine.history.join(landing_styles.select("landing_id", "style"), on="landing_id", maintain_order="left")
    if own.height < FEWEST:
        return [], f"Too few of your landings have been compared yet ({own.height} of {FEWEST})."
    now, before = own.tail(RECENT), own.head(max(own.height - RECENT, 0))
    rows = [*_rows(now, names, "now"), *(_rows(before, names, "before") if before.height >= FEWEST else [])]
    words = (
        f"{len(names)} styles are told apart among everyone's landings{f' on {mine.aircraft_type}' if mine.aircraft_type else ''}, from what happens before contact; their names describe "
        f"landings, not pilots, and none is the right one. Your latest {now.height} are the round marks"
        f"{f', the {before.height} before them the diamonds' if before.height >= FEWEST else ''}, with 90 % intervals; where "
        "these overlap widely, this cannot tell a change."
    )
    return [groups.shares(pl.DataFrame(rows), title="Share of your landings in each style", caption="")], words


def named(styles: pl.DataFrame) -> dict[int, str]:
    """Return the styles' names by number, the most frequent first."""
    rows = styles.unique("style", keep="first", maintain_order=True).sort("share", descending=True)
    return dict(rows.select("style", "name").iter_rows())


def _short(names: dict[int, str], aircraft_type: str | None) -> dict[int, str]:
    """Return the names without the type at their end, where that leaves them different."""
    short = {style: name.removesuffix(f" ({aircraft_type})") for style, name in names.items()}
    return short if len(set(short.values())) == len(names) else names


def _rows(landings: pl.DataFrame, names: dict[int, str], part: str) -> list[dict[str, object]]:
    found = [(name, _share(landings, pl.col("style").eq_missing(style))) for style, name in names.items()]
    found.append((BETWEEN, _share(landings, pl.col("style").is_null())))
    return [
        {"group": name, "set": part, "share": held.share, "low": held.low, "high": held.high}
        for name, held in found
        if held is not None
    ]


def _share(landings: pl.DataFrame, condition: pl.Expr) -> Share | None:
    return share(landings.with_columns(has=condition), "has")

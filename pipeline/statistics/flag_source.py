"""Pilot or recorder: a flag and everybody's residuals in, whether others on the same aircraft changed with it out."""

from typing import Any, Literal

import numpy as np
import polars as pl

Source = Literal["pilot", "recorder", "cannot tell"]

LEAST_LANDINGS = 10
SAME_AIRCRAFT = 0.8
"""Share of an aircraft's landings by one pilot from which nobody else tells its recorder from him."""

Z95 = 1.6449
HALF = 0.5
"""Others who changed by more than half as much as he did point at the recorder, by less at him."""


def source(flag: dict[str, Any], residuals: pl.DataFrame) -> Source:
    """Tell whether a change is the pilot's or may be that of the aircraft and its recorder.

    The others' landings on the aircraft he flew since the change, each less that pilot's own mean before it, would show
    a change of the recorder as he does.

    Parameters
    ----------
    flag : pilot, change_at and shift of one flag.
    residuals : pilot, aircraft, contact_at, session, residual of everybody on this measure; larger is toward the flag.
    """
    after = pl.col("contact_at") >= flag["change_at"]
    mine = residuals.filter(pl.col("pilot") == flag["pilot"], after)
    there = residuals.filter(pl.col("aircraft").is_in(mine["aircraft"].drop_nulls().unique().implode()))
    others = there.filter(pl.col("pilot") != flag["pilot"])
    before = others.filter(~after).group_by("pilot").agg(pl.col("residual").mean().alias("usual"), pl.len().alias("n"))
    since = others.filter(after).join(before.filter(pl.col("n") >= LEAST_LANDINGS), on="pilot", how="inner")
    share = mine.height / max(there.filter(after).height, 1)
    if share >= SAME_AIRCRAFT or since.height < LEAST_LANDINGS or not flag["shift"] > 0.0:
        return "cannot tell"
    visits = since.group_by("session", maintain_order=True).agg(
        (pl.col("residual") - pl.col("usual")).mean().alias("d")
    )
    d = visits["d"].to_numpy()
    if d.size < 2:
        return "cannot tell"
    mean, error = float(d.mean()), float(d.std(ddof=1) / np.sqrt(d.size))
    if mean + Z95 * error < HALF * flag["shift"]:
        return "pilot"
    return "recorder" if mean - Z95 * error > HALF * flag["shift"] else "cannot tell"

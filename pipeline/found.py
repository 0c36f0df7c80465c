"""The approaches found in a group of logs, numbered within their logs.

Goes in: recordings. Comes out: each approach with its place, the runway it was flown to, and its window.
"""

from collections import Counter
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline import rows
from pipeline.context import reference
from pipeline.landings import Approach, find_approaches, owned
from pipeline.measures.contact_fit import ContactFit
from pipeline.measures.window import Window
from pipeline.policy import Policy
from pipeline.recording import Recording
from pipeline.runway_match import course_deg, match_runways
from pipeline.stack import Stack, gather

Floats = NDArray[np.float64]

_ELSEWHERE_DEG = 0.12
"""About 7 nautical miles: no runway is so long, no position so late."""
_COURSE_S = np.arange(-20.0, 0.1, 5.0)
"""Where positions tell the direction of flight, s before the anchor."""


@dataclass(frozen=True)
class Found:
    """One approach and its place: which recording of the group, and its numbers within its log."""

    recording: int
    approach: Approach
    approach_index: int
    landing_index: int | None


def numbered(number: int, recording: Recording, counted: Counter[tuple[str, str]]) -> list[Found]:
    """The approaches a recording owns, numbered on from those already counted in its log."""
    found = []
    for approach in owned(find_approaches(recording), recording):
        log = recording.log_sha256
        grounded = approach.grounded
        landing_index = counted[log, "landing"] if grounded else None
        found.append(Found(number, approach, counted[log, "approach"], landing_index))
        counted[log, "approach"] += 1
        counted[log, "landing"] += grounded
    return found


def keys(group: list[Recording], found: list[Found]) -> pl.DataFrame:
    """Log hash and landing index of each approach, as context rows are looked up."""
    return pl.DataFrame(
        {
            "log_sha256": [group[f.recording].log_sha256 for f in found],
            "landing_index": pl.Series([f.landing_index for f in found], dtype=pl.Int64),
        }
    )


def runways_flown(flat: Stack, found: list[Found], known: pl.DataFrame, runways: pl.DataFrame) -> list[pl.Series]:
    """Runway of each landing: the stated one, else the one that fits place and track; and how it was found.

    `contradicted`: the positions lie elsewhere than the stated runway; null, since one of the two is wrong.
    """
    log = np.array([f.recording for f in found], dtype=np.int64)
    times = np.array([f.approach.anchor_s for f in found])[:, None] + np.arange(-3.0, 0.1, 0.5)
    lat, lon = (rows.median(gather(flat, channel, log, times)) for channel in ("latitude_deg", "longitude_deg"))
    track = rows.median(gather(flat, "track_true_deg", log, times))
    heading = rows.median(gather(flat, "heading_true_deg", log, times))
    before = np.array([f.approach.anchor_s for f in found])[:, None] + _COURSE_S
    course = course_deg(*(gather(flat, channel, log, before) for channel in ("latitude_deg", "longitude_deg")))
    goes = np.where(np.isfinite(track), track, np.where(np.isfinite(course), course, heading))
    matched = match_runways(lat, lon, goes, runways=runways)
    elsewhere = _elsewhere(known["runway"], runways, lat, lon)
    stated = [None if far else one for one, far in zip(known["runway"], elsewhere, strict=True)]
    name = [one or (None if far else other) for one, other, far in zip(stated, matched.runway, elsewhere, strict=True)]
    how = [
        "stated" if one else "contradicted" if far else why or "matched"
        for one, why, far in zip(stated, matched.why, elsewhere, strict=True)
    ]
    return [pl.Series("runway", name, dtype=pl.String), pl.Series("runway_found", how, dtype=pl.String)]


def _elsewhere(stated: pl.Series, runways: pl.DataFrame, lat: Floats, lon: Floats) -> list[bool]:
    """Whether the positions lie far from the runway that was stated: one of the two is wrong, and none is believed."""
    known = pl.DataFrame({"runway": stated}).join(
        runways.select("runway", "threshold_lat", "threshold_lon").unique("runway"),
        on="runway",
        how="left",
        maintain_order="left",
    )
    place = known.select(pl.col("threshold_lat", "threshold_lon").cast(pl.Float64)).fill_null(np.nan).to_numpy()
    east = (lon - place[:, 1] + 180.0) % 360.0 - 180.0
    far = np.hypot(lat - place[:, 0], east * np.cos(np.radians(lat))) > _ELSEWHERE_DEG
    return np.asarray(far & np.isfinite(east), dtype=bool).tolist()


def landed_at(group: list[Recording], found: list[Found], known: pl.DataFrame) -> list[datetime | None]:
    """UTC instant of each approach's anchor; None where neither log nor manifest tells the date."""
    return [
        instant(group[f.recording].started_at or stated, f.approach.anchor_s)
        for f, stated in zip(found, known["flown_at"], strict=True)
    ]


def window_of(flat: Stack, found: list[Found], known: pl.DataFrame, runways: pl.DataFrame, policy: Policy) -> Window:
    """The window of the approaches, before any contact is fitted."""
    return Window(
        stack=flat,
        log=np.array([f.recording for f in found], dtype=np.int64),
        anchor_s=np.array([f.approach.anchor_s for f in found]),
        grounded=np.array([f.approach.grounded for f in found]),
        timed=np.array([f.approach.contact_s is not None for f in found]),
        contact_u_s=np.array([f.approach.contact_u_s or np.nan for f in found], dtype=float),
        reference=reference(known, runways, policy),
    )


def fitted(found: list[Found], window: Window, fit: ContactFit) -> tuple[list[Found], Window]:
    """The approaches and their window with every first contact where the fit puts it."""
    told = np.isfinite(fit.offset_s)
    offset, u = np.where(told, fit.offset_s, 0.0), np.where(told, fit.offset_u_s, window.contact_u_s)
    moved = [
        replace(f, approach=f.approach.moved(float(by), float(to))) if there else f
        for f, by, to, there in zip(found, offset, u, told, strict=True)
    ]
    return moved, window.moved(offset, u)


def instant(started_at: datetime | None, t_s: float | None) -> datetime | None:
    """UTC instant of a time in a log; None without either."""
    return None if started_at is None or t_s is None else started_at + timedelta(seconds=t_s)

"""Recordings in, what each landing tells of its gear and instruments out: the first look, from which constants come."""

from collections import Counter
from collections.abc import Iterable

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.constants import SEEN
from pipeline.measures.contact_fit import ContactFit, contact_fit
from pipeline.measures.installation import USUAL, Installation
from pipeline.prepared import Known, Prepared, groups, prepare
from pipeline.recording import Recording


def constants_seen(recordings: Iterable[Recording], known: Known, *, most: int) -> pl.DataFrame:
    """Fit contacts with nothing known of their gear and instruments, until `most` landings told something.

    Recordings are read in groups, and the last group counts as a whole.

    Returns
    -------
    Columns of SEEN, one row a landing and constant that the landing told something of. Landings that bounced tell
    nothing: their gear is not the one of a first touch that settles.
    """
    counted: Counter[tuple[str, str]] = Counter()
    seen, told = pl.DataFrame(schema=SEEN), 0
    for group in groups(recordings):
        seen = seen.vstack(_seen(prepare(group, known, counted)))
        told = seen.filter(pl.col("constant") == "vertical_speed_lag_s").height
        if told >= most:
            break
    return seen


def _seen(ready: Prepared) -> pl.DataFrame:
    if ready.window is None:
        return pl.DataFrame(schema=SEEN)
    fit = contact_fit(ready.window, ready.one_touch, Installation.usual(ready.window.n))
    logs = [ready.group[f.recording].log_sha256 for f in ready.found]
    frames = [
        pl.DataFrame(
            {
                "log_sha256": logs,
                "recorder": [recorder for recorder, _ in ready.installations],
                "aircraft_type": [kind for _, kind in ready.installations],
                "constant": [name] * len(logs),
                "value": np.where(_tells(name, fit) & ready.one_touch, getattr(fit.installed, name)[:, 0], np.nan),
                "sd": getattr(fit.installed, name)[:, 1],
            },
            schema=SEEN,
        )
        for name in USUAL
    ]
    return pl.concat(frames).fill_nan(None).drop_nulls("value")


def _tells(name: str, fit: ContactFit) -> NDArray[np.bool_]:
    """Which landings can tell a constant: all of them the lag of vertical speed, the rest where the gear shows.

    Without the gear the moment of contact is told by radio height itself, whose errors then cannot be seen.
    """
    shown = np.isfinite(fit.installed.log_gear_frequency[:, 0])
    return shown | (name == "vertical_speed_lag_s")

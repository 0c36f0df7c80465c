"""One row a main-wheel contact: when, how firmly, and for a bounce how long and how high the wheels were off before.

Goes in: measured landings, the approaches they are of, and their window. Comes out: the contact frame.
"""

from collections.abc import Sequence

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline import rows
from pipeline.landings import Approach
from pipeline.measures.window import G_FPS2, Window
from pipeline.stack import gather, peak

Floats = NDArray[np.float64]

SCHEMA: dict[str, type[pl.DataType]] = {
    "landing_id": pl.String,
    "contact_index": pl.Int64,
    "t_s": pl.Float64,
    "airtime_before_s": pl.Float64,
    "height_before_ft": pl.Float64,
    "vertical_speed_fpm": pl.Float64,
    "vertical_speed_fpm_u": pl.Float64,
    "peak_g": pl.Float64,
    "peak_g_u": pl.Float64,
}
_BEFORE_S, _AFTER_S = 0.25, 1.0
_COURSE = np.linspace(0.0, 1.0, 33)
"""Places in a bounce, from leaving the ground to touching it again."""
_TIMING_U_S, _ACCEL_U_G = 0.1, 0.02
_SLOWEST_S = 0.26
_LATER_PEAK_SHARE = 0.1
"""What the rate of samples may hide of a later contact's peak, as a share of it (our own choice)."""


def contact_frame(landings: pl.DataFrame, approaches: Sequence[Approach], w: Window) -> pl.DataFrame:
    """Every contact of every landing, (contacts, 9).

    The first has the landing's own measures. A later one has its airtime, and where acceleration is sampled often
    enough the height and vertical speed of the flight between: wheels that leave the ground and meet it again have the
    speeds that the acceleration between demands. Null where that is not known.
    """
    times_s = [a.touches_s or (() if a.contact_s is None else (a.contact_s,)) for a in approaches]
    places = [(i, k, t) for i, found in enumerate(times_s) for k, t in enumerate(found)]
    if not places:
        return pl.DataFrame(schema=SCHEMA)
    which, index, times = (np.array(x) for x in zip(*places, strict=True))
    off = np.array([s for a, found in zip(approaches, times_s, strict=True) if found for s in (np.nan, *a.airborne_s)])
    height, speed, speed_u = _flown(w.only(which), times, off)
    top, held = peak(w.stack, "normal_accel_g", w.log[which], (times - _BEFORE_S, times + _AFTER_S))
    later = {
        "airtime_before_s": off,
        "height_before_ft": height,
        "vertical_speed_fpm": speed * 60.0,
        "vertical_speed_fpm_u": speed_u * 60.0,
        "peak_g": np.where(held > 0, top, np.nan),
        "peak_g_u": _LATER_PEAK_SHARE * np.maximum(top - 1.0, 0.05),
    }
    first = pl.Series(index == 0)
    own = {name: _of_first(landings[source].gather(which), first) for name, source in _OWN.items()}
    return pl.DataFrame(
        {
            "landing_id": landings["landing_id"].gather(which),
            "contact_index": index,
            "t_s": times,
            **{
                name: _merged(name, pl.Series(value).fill_nan(None), own.get(name), first)
                for name, value in later.items()
            },
        },
        schema=SCHEMA,
    )


_OWN = {
    "vertical_speed_fpm": "vertical_speed_at_contact_fpm",
    "vertical_speed_fpm_u": "vertical_speed_at_contact_fpm_u",
    "peak_g": "peak_g",
    "peak_g_u": "peak_g_u",
}


def _of_first(value: pl.Series, first: pl.Series) -> pl.Series:
    return value.zip_with(first, pl.Series([None] * len(value), dtype=pl.Float64))


def _merged(name: str, later: pl.Series, own: pl.Series | None, first: pl.Series) -> pl.Series:
    """The landing's own value for its first contact, the later ones' for the rest."""
    nothing = pl.Series([None] * len(later), dtype=pl.Float64)
    return (nothing if own is None else own).zip_with(first, later).alias(name)


def _flown(w: Window, touched_s: Floats, off_s: Floats) -> tuple[Floats, Floats, Floats]:
    """Greatest height (ft), and vertical speed at the end with its uncertainty (ft/s), of each flight between contacts.

    From height zero to height zero under acceleration a(t): the speed at its start is minus the twice integrated
    acceleration over the time, the speed at its end that plus the once integrated.
    """
    start = touched_s - np.nan_to_num(off_s)
    times = start[:, None] + np.nan_to_num(off_s)[:, None] * _COURSE
    accel = (gather(w.stack, "normal_accel_g", w.log, times) - 1.0) * G_FPS2
    step = np.nan_to_num(off_s)[:, None] / (len(_COURSE) - 1)
    speed = _running(accel) * step
    height = _running(speed) * step
    lasted = np.where(np.isfinite(off_s) & (w.interval_s("normal_accel_g") <= _SLOWEST_S), off_s, np.nan)
    left = -height[:, -1] / lasted
    course = height + left[:, None] * (_COURSE * np.nan_to_num(lasted, nan=1.0)[:, None])
    pull = np.abs(rows.mean(accel))
    u = np.hypot(0.5 * pull * _TIMING_U_S, 0.5 * lasted * _ACCEL_U_G * G_FPS2)
    closing = left + speed[:, -1]
    told = np.isfinite(closing) & (closing < 0.0)
    return (
        np.where(told, np.maximum(rows.largest(course), 0.0), np.nan),
        np.where(told, closing, np.nan),
        np.where(told, u, np.nan),
    )


def _running(x: Floats) -> Floats:
    """Running integral of each row in steps of one, by trapezoids, from 0."""
    return np.concatenate([np.zeros((len(x), 1)), np.cumsum(0.5 * (x[:, 1:] + x[:, :-1]), axis=1)], axis=1)

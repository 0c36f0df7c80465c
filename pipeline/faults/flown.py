"""Measured landings, their contacts and window in; out: the few things faults judge that no measure has.

Bank low above the runway, the lowest speed below 500 ft, how much of the approach's sink is left at contact, the nose
in a bounce. Each has its uncertainty `_u` and reason `_reason` as measures have.
"""

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS
from pipeline.measures.window import COARSE, FINE, Window, between, smooth

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Missing = tuple[tuple[Bools, str], ...]

NAMES = (
    "bank_100_to_20ft_deg",
    "bank_below_20ft_deg",
    "lowest_speed_over_vref_kt",
    "sink_kept_pct",
    "path_under_glidepath_deg",
    "nose_pushed_deg",
)
SCHEMA: dict[str, type[pl.DataType]] = {
    "landing_id": pl.String,
    **{
        name + ending: kind
        for name in NAMES
        for ending, kind in (("", pl.Float64), ("_u", pl.Float64), ("_reason", pl.String))
    },
}

_STEP = COARSE[1] - COARSE[0]
_FLIGHT = between(COARSE, COARSE[0], 0.0)
_TAU = COARSE[_FLIGHT]
_BANK_S, _SPEED_S = 0.5, 2.0
"""A bank or a speed counts that is held for as long."""
_SLOW_S = 1.05
_MISSED_BANK_DPS = 0.6
"""What bank may do unseen between two samples, a second: our own choice."""
_SINK_FROM_FT, _SINK_TO_FT = 300.0, 100.0
_WANDER_FPM = 60.0
"""How far the sink of a steady approach wanders from its mean at the moment a flare begins: our own choice."""
_LEAST_SINK_FPM = 150.0
_GLIDEPATH_U_DEG = 0.1


def flown(landings: pl.DataFrame, contacts: pl.DataFrame, height: Floats, w: Window) -> pl.DataFrame:
    """Look at what only faults ask for; `height` (n, k) of the main wheels on the coarse grid, ft.

    Returns
    -------
    Columns of SCHEMA, one row a landing in the order of `landings`. Bank is without sign. Null `not_reached` where the
    wheels never came so low, or without a later contact; `too_slow`, `no_channel`, `no_reference` as measures are.
    """
    nose, nose_u, bounced = _pushed(landings, contacts, w)
    found = {
        "bank_100_to_20ft_deg": _bank(w, height, 100.0, 20.0),
        "bank_below_20ft_deg": _bank(w, height, 20.0, None),
        "lowest_speed_over_vref_kt": _speed(w, height),
        "sink_kept_pct": _kept(landings, w, height),
        "path_under_glidepath_deg": _under(landings, w),
        "nose_pushed_deg": answer(
            nose,
            nose_u,
            missing=((~bounced, "not_reached"), *w.without("pitch_deg"), (_slow(w, "pitch_deg"), "too_slow")),
        ),
    }
    columns = [series for name in NAMES for series in _columns(name, found[name])]
    return pl.DataFrame([landings["landing_id"], *columns], schema_overrides=SCHEMA)


def _columns(name: str, found: Answer) -> list[pl.Series]:
    return [
        pl.Series(name, found.number, nan_to_null=True),
        pl.Series(f"{name}_u", found.quality, nan_to_null=True),
        pl.Series(f"{name}_reason", found.reason.tolist(), dtype=pl.String),
    ]


def _slow(w: Window, channel: str) -> Bools:
    return w.slower_than(channel, _SLOW_S)


def _stretch(height: Floats, top_ft: float, bottom_ft: float | None) -> tuple[Bools, Bools]:
    """Grid times (n, k) between the last passing of two heights, contact where the lower is None; and whether any."""
    ground = np.zeros(len(height))
    high = rows.last_down_crossing(height, COARSE, top_ft, before=ground)
    low = ground if bottom_ft is None else rows.last_down_crossing(height, COARSE, bottom_ft, before=ground)
    inside = (high[:, None] <= _TAU) & (low[:, None] >= _TAU)
    return inside, np.isfinite(high) & np.isfinite(low)


def _bank(w: Window, height: Floats, top_ft: float, bottom_ft: float | None) -> Answer:
    """Largest bank held for half a second between two heights."""
    inside, reached = _stretch(height, top_ft, bottom_ft)
    bank = np.abs(smooth(w.coarse("roll_deg")[:, _FLIGHT], _BANK_S, _STEP))
    interval = np.minimum(w.interval_s("roll_deg"), 9.0)
    u = np.sqrt(
        BIAS["roll_deg"] ** 2
        + w.resolution("roll_deg") ** 2 / 12.0
        + 0.5 * w.noise("roll_deg") ** 2
        + (_MISSED_BANK_DPS * interval) ** 2
    )
    missing = (*w.without("roll_deg"), *w.no_contact, (_slow(w, "roll_deg"), "too_slow"), (~reached, "not_reached"))
    return answer(rows.largest(np.where(inside, bank, np.nan)), u, missing=missing)


def _speed(w: Window, height: Floats) -> Answer:
    """Lowest airspeed over Vref between 500 and 50 ft, as a mean over 2 s."""
    inside, reached = _stretch(height, 500.0, 50.0)
    speed = smooth(w.coarse("airspeed_kt")[:, _FLIGHT], _SPEED_S, _STEP)
    u = np.hypot(BIAS["airspeed_kt"], w.resolution("airspeed_kt") / np.sqrt(12.0))
    unknown = ~np.isfinite(w.reference.vref_kt)
    missing = (*w.without("airspeed_kt"), (unknown, "no_reference"), (~reached, "not_reached"))
    return answer(rows.smallest(np.where(inside, speed, np.nan)) - w.reference.vref_kt, u, missing=missing)


def _kept(landings: pl.DataFrame, w: Window, height: Floats) -> Answer:
    """Sink at contact as a share of the mean sink between 300 and 100 ft."""
    inside, reached = _stretch(height, _SINK_FROM_FT, _SINK_TO_FT)
    sink = -rows.mean(np.where(inside, w.coarse("vertical_speed_fpm")[:, _FLIGHT], np.nan))
    contact = -_floats(landings["earth_vertical_speed_at_contact_fpm"])
    contact_u = _floats(landings["earth_vertical_speed_at_contact_fpm_u"])
    with np.errstate(invalid="ignore", divide="ignore"):
        share = contact / sink
        u = np.hypot(contact_u, share * _WANDER_FPM) / sink
    missing = (
        *w.without("vertical_speed_fpm"),
        *_listed(landings["earth_vertical_speed_at_contact_fpm_reason"]),
        (~reached, "not_reached"),
        (~(sink >= _LEAST_SINK_FPM), "out_of_range"),
    )
    return answer(100.0 * share, 100.0 * u, missing=missing)


def _under(landings: pl.DataFrame, w: Window) -> Answer:
    """Lowest angle to the aim point below 500 ft minus the runway's glide path; negative below it."""
    value = _floats(landings["lowest_path_deg"]) - w.reference.glidepath_deg
    u = np.hypot(_floats(landings["lowest_path_deg_u"]), _GLIDEPATH_U_DEG)
    unknown = ~np.isfinite(w.reference.glidepath_deg)
    return answer(value, u, missing=(*_listed(landings["lowest_path_deg_reason"]), (unknown, "no_reference")))


def _pushed(landings: pl.DataFrame, contacts: pl.DataFrame, w: Window) -> tuple[Floats, Floats, Bools]:
    """How far the nose went down between first and second contact, deg, its uncertainty, and whether one was later."""
    second = contacts.filter(pl.col("contact_index") == 1).select("landing_id", pl.col("t_s").alias("again_s"))
    each = landings.select("landing_id").join(second, on="landing_id", how="left", maintain_order="left")
    again = _floats(each["again_s"]) - _floats(landings["contact_t_s"])
    pitch = smooth(w.fine("pitch_deg"), 0.25, 1.0 / 16.0)
    fell = rows.at(pitch, FINE, np.zeros(w.n)) - rows.at(pitch, FINE, again)
    interval = np.minimum(w.interval_s("pitch_deg"), 9.0)
    u = np.sqrt(2.0 * w.noise("pitch_deg") ** 2 + w.resolution("pitch_deg") ** 2 / 6.0 + (0.5 * interval) ** 2 + 0.01)
    return fell, u, np.isfinite(again)


def _listed(reasons: pl.Series) -> Missing:
    """Where a measure is null, by its reason."""
    why = np.array(reasons.to_list(), dtype=object)
    return tuple((why == reason, reason) for reason in sorted(reasons.drop_nulls().unique()))


def _floats(series: pl.Series) -> Floats:
    return series.cast(pl.Float64).fill_null(np.nan).to_numpy().copy()

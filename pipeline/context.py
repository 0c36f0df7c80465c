"""What is known of each landing beside its log: the manifest's row, the runway, the type, as arrays.

Goes in: the approaches of a batch, the context rows, runways and policy. Comes out: one context row an approach and the
reference arrays the measures need.
"""

from collections.abc import Sequence

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.measures.window import Reference
from pipeline.policy import AircraftType, Policy

Floats = NDArray[np.float64]

CONTEXT: dict[str, type[pl.DataType] | pl.DataType] = {
    "flown_at": pl.Datetime("us", "UTC"),
    "pilot": pl.String,
    "pilot_monitoring": pl.String,
    "seat": pl.String,
    "role": pl.String,
    "takeover": pl.String,
    "device": pl.String,
    "exercise": pl.String,
    "why_logged": pl.String,
    "aircraft": pl.String,
    "aircraft_type": pl.String,
    "recorder": pl.String,
    "runway": pl.String,
    "vref_kt": pl.Float64,
    "target_speed_kt": pl.Float64,
    "landing_flap": pl.String,
    "weight_kg": pl.Float64,
    "conditions": pl.String,
    "intent": pl.String,
    "runway_condition": pl.String,
    "wind_from_true_deg": pl.Float64,
    "wind_speed_kt": pl.Float64,
    "gust_kt": pl.Float64,
    "weather_report": pl.String,
}
"""Columns a context frame may carry beside `log_sha256` and `landing_index`; absent ones count as unknown."""

_USUAL = {
    "role": "line",
    "takeover": "none",
    "device": "aircraft",
    "exercise": "normal",
    "why_logged": "routine",
    "conditions": "visual",
    "intent": "normal",
}
"""What a blank cell means."""


def context_rows(keys: pl.DataFrame, context: pl.DataFrame) -> pl.DataFrame:
    """One row a landing, in the order of `keys` (log_sha256, landing_index).

    `context` has one row a log (landing_index null) or a landing; a landing's own row wins over its log's, field by
    field; what neither gives is null, or the usual case.
    """
    known = context.select(
        pl.col("log_sha256"),
        pl.col("landing_index").cast(pl.Int64)
        if "landing_index" in context.columns
        else pl.lit(None, pl.Int64).alias("landing_index"),
        *(
            (pl.col(name).cast(kind) if name in context.columns else pl.lit(None, kind).alias(name))
            for name, kind in CONTEXT.items()
        ),
    )
    whole = known.filter(pl.col("landing_index").is_null()).drop("landing_index").unique("log_sha256", keep="first")
    single = known.filter(pl.col("landing_index").is_not_null()).unique(["log_sha256", "landing_index"], keep="first")
    joined = keys.join(single, on=["log_sha256", "landing_index"], how="left", maintain_order="left").join(
        whole, on="log_sha256", how="left", maintain_order="left", suffix="_log"
    )
    return joined.select(
        *keys.columns,
        *(_settled(name) for name in CONTEXT),
    )


def weights(context: pl.DataFrame) -> dict[str, float]:
    """Stated landing weight in kg by log hash; a log of several landings counts with its first."""
    if "weight_kg" not in context.columns:
        return {}
    stated = context.select("log_sha256", pl.col("weight_kg").cast(pl.Float64)).drop_nulls()
    return dict(stated.unique("log_sha256", keep="first").iter_rows())


def _settled(name: str) -> pl.Expr:
    value = pl.coalesce(name, f"{name}_log")
    return (value.fill_null(_USUAL[name]) if name in _USUAL else value).alias(name)


def reference(rows: pl.DataFrame, runways: pl.DataFrame, policy: Policy) -> Reference:
    """Arrays (n,) of runway, speeds, wind and type values for context rows whose runway and wind are settled."""
    places = rows.select("runway").join(runways, on="runway", how="left", maintain_order="left")
    types = [policy.types.get(name or "", AircraftType()) for name in rows["aircraft_type"]]
    vref = _filled(rows["vref_kt"], [t.vref_kt for t in types])
    displaced = np.nan_to_num(_floats(places["displaced_threshold_ft"]))
    return Reference(
        vref_kt=vref,
        target_kt=_floats(rows["target_speed_kt"]),
        wind_from_deg=_floats(rows["wind_from_true_deg"]),
        wind_speed_kt=_floats(rows["wind_speed_kt"]),
        wind_from_u_deg=_column(rows, "wind_from_u_deg"),
        wind_variable=_yes(rows, "wind_variable"),
        gust_spread_kt=_column(rows, "gust_spread_kt"),
        gust_unreported=_yes(rows, "gust_unreported"),
        pressure_hpa=_column(rows, "report_pressure_hpa"),
        threshold_lat=_floats(places["threshold_lat"]),
        threshold_lon=_floats(places["threshold_lon"]),
        runway_heading_deg=_floats(places["true_heading_deg"]),
        length_ft=_floats(places["length_ft"]) - displaced,
        slope_pct=_floats(places["slope_pct"]),
        aim_point_ft=_floats(places["aim_point_ft"]),
        elevation_ft=_column(places, "elevation_ft"),
        airport_elevation_ft=_column(places, "airport_elevation_ft"),
        glidepath_deg=_column(places, "glidepath_deg"),
        design_height_ft=_column(places, "threshold_crossing_height_ft"),
        localiser_ft=_column(places, "localiser_antenna_ft"),
        weight_kg=_floats(rows["weight_kg"]),
        flap_deg=_filled(rows["landing_flap"].cast(pl.Float64, strict=False), [t.landing_flap_deg for t in types]),
        idle_at_gate_pct=_of(types, "idle_at_gate_pct"),
        antenna_ahead_ft=_of(types, "antenna_ahead_ft"),
        lever_follows_thrust=np.array([t.lever_follows_thrust for t in types], dtype=bool),
        wheel_track_ft=_of(types, "wheel_track_ft"),
        tail_pitch_deg=_of(types, "tail_pitch_deg"),
    )


def _floats(series: pl.Series) -> Floats:
    return series.cast(pl.Float64).fill_null(np.nan).to_numpy().copy()


def _column(frame: pl.DataFrame, name: str) -> Floats:
    """Column as floats, NaN where null or where the frame has no such column."""
    return _floats(frame[name]) if name in frame.columns else np.full(frame.height, np.nan)


def _yes(frame: pl.DataFrame, name: str) -> NDArray[np.bool_]:
    """Column of yes and no, no where null or where the frame has no such column."""
    if name not in frame.columns:
        return np.zeros(frame.height, dtype=bool)
    return frame[name].fill_null(value=False).to_numpy().astype(bool)


def _filled(series: pl.Series, otherwise: Sequence[float | None]) -> Floats:
    first = _floats(series)
    second = np.array([np.nan if v is None else v for v in otherwise], dtype=float).reshape(first.shape)
    return np.where(np.isfinite(first), first, second)


def _of(types: Sequence[AircraftType], field: str) -> Floats:
    values = [getattr(t, field) for t in types]
    return np.array([np.nan if v is None else v for v in values], dtype=float)

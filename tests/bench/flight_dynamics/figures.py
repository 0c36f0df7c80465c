"""Measured and true landings in, the figures of the bench out: error and coverage by measure and band of rates."""

import numpy as np
import polars as pl
from flight_dynamics.recorders import BANDS

REACH: dict[str, tuple[tuple[float, float] | None, ...]] = {
    "contact_t_s": ((0.03, 0.09), (0.04, 0.11), (0.15, 0.5)),
    "vertical_speed_at_contact_fpm": ((8.0, 30.0), (12.0, 38.0), (25.0, 80.0)),
    "peak_g": ((0.02, 0.06), (0.05, 0.18), None),
    "flare_height_ft": ((1.3, 4.0), (1.5, 4.5), (3.0, 9.0)),
    "pitch_change_deg": ((0.16, 0.5), (0.18, 0.55), (0.35, 1.1)),
    "thrust_close_lag_s": ((0.13, 0.5), (0.15, 0.55), (0.4, 1.2)),
    "pitch_after_close_deg": ((0.08, 0.25), (0.12, 0.3), (0.25, 0.7)),
    "touchdown_distance_ft": ((10.0, 26.0), (10.0, 28.0), (30.0, 100.0)),
    "distance_from_50ft_ft": ((8.0, 18.0), (9.0, 26.0), (30.0, 100.0)),
    "threshold_height_ft": ((1.3, 2.5), (1.4, 2.7), (3.0, 8.0)),
    "threshold_airspeed_kt": ((0.8, 2.3), (0.8, 2.3), (1.2, 3.5)),
    "nose_lag_s": ((0.07, 0.25), (0.12, 0.3), None),
    "float_time_s": ((0.04, 0.15), (0.06, 0.2), (0.2, 0.6)),
}
"""Median and 95th percentile of the absolute error aimed at, a band each; the last band's are a guess."""
ALSO = (
    "earth_vertical_speed_at_contact_fpm",
    "touching_wheel_vertical_speed_fpm",
    "peak_g_firmest",
    "pitch_at_contact_deg",
    "roll_at_contact_deg",
    "crab_at_contact_deg",
    "contact_airspeed_kt",
    "flare_time_s",
    "pitch_at_flare_deg",
    "thrust_close_height_ft",
    "thrust_close_time_s",
    "idle_before_contact_s",
    "threshold_sink_fpm",
    "threshold_lateral_ft",
    "touchdown_lateral_ft",
    "float_distance_ft",
)
"""Measures shown without an aim."""


def joined(landings: pl.DataFrame, index: pl.DataFrame, truth: pl.DataFrame) -> pl.DataFrame:
    """The rows measured for each true landing: the first contact of its log, or its approach where there is none."""
    first = landings.sort("log_sha256", "landing_index", nulls_last=True).unique("log_sha256", keep="first")
    return (
        index.join(first.drop("recorder"), on="log_sha256", how="left")
        .join(truth, on=["half", "number"], how="inner")
        .with_columns(pl.col("contact_u_s").alias("contact_t_s_u"))
    )


def errors(both: pl.DataFrame) -> pl.DataFrame:
    """One row a measure and band: n, lost (true but not told), invented (told but not true), errors, coverage."""
    names = [*REACH, *(name for name in ALSO if name in both.columns)]
    return pl.DataFrame(
        [
            {"measure": name, "band": band, **_figures(both.filter(pl.col("band") == band), name, number)}
            for name in names
            if name in both.columns
            for number, band in enumerate(BANDS)
        ],
        infer_schema_length=None,
    )


def _figures(some: pl.DataFrame, name: str, band: int) -> dict[str, float | int | str | None]:
    true = some[f"true_{name}"] if f"true_{name}" in some.columns else None
    if true is None:
        return {"n": 0}
    told = some.filter(true.is_not_null() & some[name].is_not_null())
    counts: dict[str, float | int | str | None] = {
        "n": told.height,
        "lost": int((true.is_not_null() & some[name].is_null()).sum()),
        "invented": int((true.is_null() & some[name].is_not_null()).sum()),
    }
    if told.is_empty():
        return counts
    error = (told[name] - told[f"true_{name}"]).to_numpy()
    z = np.abs(error) / told[f"{name}_u"].to_numpy()
    median, p95 = float(np.median(np.abs(error))), float(np.quantile(np.abs(error), 0.95))
    aim = REACH[name][band] if name in REACH else None
    return counts | {
        "bias": _round(float(np.median(error))),
        "median": _round(median),
        "p95": _round(p95),
        "aim": f"{aim[0]:g} / {aim[1]:g}" if aim else "-",
        "reached": _reached(median, p95, aim),
        "within_1u": round(float((z <= 1.0).mean()), 2),
        "within_2u": round(float((z <= 2.0).mean()), 2),
    }


def _reached(median: float, p95: float, aim: tuple[float, float] | None) -> str:
    if aim is None:
        return ""
    return {(True, True): "both", (True, False): "median", (False, True): "p95"}.get(
        (median <= aim[0], p95 <= aim[1]), "no"
    )


def _round(value: float) -> float:
    return float(f"{value:.3g}")

"""Aligned traces about each contact, for pages: 101 rows a landing, four a second.

Goes in: measured landings and their window. Comes out: the trace frame.
"""

import numpy as np
import polars as pl

from pipeline.measures.all_measures import Measures
from pipeline.measures.window import COARSE, Window, between

_TRACE = between(COARSE, -20.0, 5.0)
_TRACED = ("pitch_deg", "thrust_lever_pct", "vertical_speed_fpm", "normal_accel_g", "airspeed_kt")


def trace_schema() -> dict[str, type[pl.DataType]]:
    """Columns and types of the trace frame; single precision, which no recorder reaches."""
    return {"landing_id": pl.String, **dict.fromkeys(("tau_s", "height_ft", *_TRACED), pl.Float32)}


def trace_frame(landings: pl.DataFrame, window: Window, measures: Measures) -> pl.DataFrame:
    """Return the traces of every landing with a timed contact."""
    touched = np.flatnonzero(window.timed)
    grid = COARSE[_TRACE]
    columns = {"height_ft": measures.wheel_height_coarse, **{name: window.coarse(name) for name in _TRACED}}
    return pl.DataFrame(
        {
            "landing_id": landings["landing_id"].gather(touched.repeat(len(grid))),
            "tau_s": np.tile(grid, len(touched)),
            **{name: np.round(matrix[touched][:, _TRACE].ravel(), 3) for name, matrix in columns.items()},
        }
    ).select(
        pl.col(name).fill_nan(None).cast(kind) if kind == pl.Float32 else pl.col(name)
        for name, kind in trace_schema().items()
    )

"""One pilot's chart as rows: his landings and the chart's arrays in, drift points and drift flags out."""

import numpy as np
import polars as pl

from pipeline.recording import Floats
from pipeline.statistics.flag_chance import JUDGED_LANDINGS, evidence
from pipeline.statistics.own_chart import OwnChart, Signal

INSTANT = pl.Datetime("us", "UTC")

POINT_SCHEMA = {
    "pilot": pl.String(),
    "chart": pl.String(),
    "landing_id": pl.String(),
    "sequence": pl.Int64(),
    "contact_at": INSTANT,
    "residual": pl.Float64(),
    "standing": pl.Float64(),
    "line": pl.Float64(),
    "cusum": pl.Float64(),
    "limit": pl.Float64(),
    "state": pl.String(),
}

FLAG_SCHEMA = {
    "pilot": pl.String(),
    "chart": pl.String(),
    "flagged_landing_id": pl.String(),
    "flagged_sequence": pl.Int64(),
    "flagged_at": INSTANT,
    "change_landing_id": pl.String(),
    "change_sequence": pl.Int64(),
    "change_at": INSTANT,
    "shift": pl.Float64(),
    "shift_low": pl.Float64(),
    "shift_high": pl.Float64(),
    "shift_sd": pl.Float64(),
    "landings_since_change": pl.Int64(),
    "open": pl.Boolean(),
    "chance_real": pl.Float64(),
    "source": pl.String(),
}

Z90 = 1.6449
"""Half width of a 90 % interval in standard errors."""


def point_rows(group: pl.DataFrame, chart: str, run: OwnChart, line: Floats) -> pl.DataFrame:
    """Give one row a landing.

    `residual` is about the pilot's own centre: the mean of the newest baseline, or of all while learning. Standing,
    line, cusum and limit are null while learning.
    """
    x = group["residual"].to_numpy()
    centre = float(x[: run.baseline or x.size].mean())
    state = np.where(run.flagged, "flagged", np.where(np.isnan(run.standing), "learning", "watching"))
    columns = {"standing": run.standing, "line": line, "cusum": run.cusum, "limit": run.limit}
    return group.select(
        "pilot",
        pl.lit(chart).alias("chart"),
        "landing_id",
        pl.col("sequence").cast(pl.Int64),
        "contact_at",
        pl.col("residual") - centre,
        *(pl.Series(name, values, dtype=pl.Float64).fill_nan(None) for name, values in columns.items()),
        pl.Series("state", state, dtype=pl.String),
    )


def flag_rows(group: pl.DataFrame, chart: str, run: OwnChart) -> pl.DataFrame:
    """Give one row a flag.

    `shift` is the mean residual from the change to the newest landing (of a closed flag: to the last one above the
    limit) less the mean of the baseline before it, with a 90 % interval that counts sessions. The stretch was chosen
    because it is high, so the shift leans to the large side when it is short. `chance_real` holds the log evidence of
    the landings after the flag until all flags are known, `source` is null until it is held against others.
    """
    rows = [_flag(group, chart, run, signal) for signal in run.signals]
    return pl.DataFrame(rows, schema=FLAG_SCHEMA, orient="row")


def _flag(group: pl.DataFrame, chart: str, run: OwnChart, signal: Signal) -> dict[str, object]:
    x = group["residual"].to_numpy()
    end = group.height if signal.open else signal.last + 1
    before, since = slice(0, signal.baseline), slice(signal.change, end)
    after = slice(signal.at + 1, signal.at + 1 + JUDGED_LANDINGS)
    shift = float(x[since].mean() - x[before].mean())
    sd = max(float(x[before].std(ddof=1)), 1e-9)
    error = Z90 * sd * float(np.sqrt(1.0 / run.worth[since].sum() + 1.0 / run.worth[before].sum()))
    flagged, change = group.row(signal.at, named=True), group.row(signal.change, named=True)
    return {
        "pilot": flagged["pilot"],
        "chart": chart,
        "flagged_landing_id": flagged["landing_id"],
        "flagged_sequence": flagged["sequence"],
        "flagged_at": flagged["contact_at"],
        "change_landing_id": change["landing_id"],
        "change_sequence": change["sequence"],
        "change_at": change["contact_at"],
        "shift": shift,
        "shift_low": shift - error,
        "shift_high": shift + error,
        "shift_sd": shift / sd,
        "landings_since_change": end - signal.change,
        "open": signal.open,
        "chance_real": evidence(
            run.standing[after], run.worth[after], baseline_worth=float(run.worth[: signal.baseline].sum())
        ),
        "source": None,
    }

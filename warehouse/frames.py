"""The frames the warehouse takes: their columns and types, and the refusal of any other."""

import polars as pl

from pipeline import approach_expected, gate_frame
from pipeline.faults import judging
from pipeline.measures import table
from pipeline.statistics import consistency, fault_shares, reviews

Schema = dict[str, type[pl.DataType] | pl.DataType]

INSTANT = pl.Datetime("us", "UTC")
_TEXT, _NUMBER, _COUNT = pl.String, pl.Float64, pl.Int64

LOG: Schema = {
    "log_sha256": _TEXT,
    "log_file": _TEXT,
    "original_name": _TEXT,
    "map_sha256": _TEXT,
    "map_name": _TEXT,
    "rows": _COUNT,
    "duration_s": _NUMBER,
    "started_at": INSTANT,
    "channels": pl.List(_TEXT),
    "notes": pl.List(_TEXT),
}
"""One row a log."""

APPROACH: Schema = {
    "landing_id": _TEXT,
    "log_sha256": _TEXT,
    "approach_index": _COUNT,
    "landing_index": _COUNT,
    "outcome": _TEXT,
    "contact_t_s": _NUMBER,
    "contact_u_s": _NUMBER,
    "contact_evidence": _TEXT,
    "contact_at": INSTANT,
    "flown_at": INSTANT,
    "pilot": _TEXT,
    "pilot_monitoring": _TEXT,
    "seat": _TEXT,
    "role": _TEXT,
    "takeover": _TEXT,
    "device": _TEXT,
    "exercise": _TEXT,
    "why_logged": _TEXT,
    "aircraft": _TEXT,
    "aircraft_type": _TEXT,
    "recorder": _TEXT,
    "recorder_rate_hz": _NUMBER,
    "runway": _TEXT,
    "vref_kt": _NUMBER,
    "target_speed_kt": _NUMBER,
    "landing_flap": _TEXT,
    "weight_kg": _NUMBER,
    "conditions": _TEXT,
    "intent": _TEXT,
    "runway_condition": _TEXT,
    "landing_mode": _TEXT,
    "lowest_height_ft": _NUMBER,
    "runway_found": _TEXT,
    "wind_source": _TEXT,
    "report_found": _TEXT,
    "report_age_min": _COUNT,
    "suspect": _TEXT,
    "artefact": _TEXT,
}
"""Identity and context of an approach."""

INPUTS: Schema = {
    "definition": _TEXT,
    "constants": _TEXT,
    "policy_sha256": _TEXT,
    "map_sha256": _TEXT,
    "runways_sha256": _TEXT,
}
"""What a measurement depends on beside the log and its context."""

MEASURES: Schema = dict(table.schema())

LANDING: Schema = {"log_file": _TEXT, **APPROACH, **INPUTS, **MEASURES}
"""One row an approach: the landing frame."""

CONTACT: Schema = {
    "landing_id": _TEXT,
    "contact_index": _COUNT,
    "t_s": _NUMBER,
    "airtime_before_s": _NUMBER,
    "height_before_ft": _NUMBER,
    "vertical_speed_fpm": _NUMBER,
    "vertical_speed_fpm_u": _NUMBER,
    "peak_g": _NUMBER,
    "peak_g_u": _NUMBER,
}
"""One row a main-wheel contact."""

GATE: Schema = dict(gate_frame.SCHEMA)
"""One row an approach and gate."""

EXPECTED: Schema = dict(approach_expected.SCHEMA)
"""One row an approach: what it differed from the expected by."""

FAULT: Schema = dict(judging.SCHEMA)
"""One row an approach and fault."""

CHANNEL_QUALITY: Schema = {
    "log_sha256": _TEXT,
    "channel": _TEXT,
    "samples": _COUNT,
    "rate_hz": _NUMBER,
    "resolution": _NUMBER,
    "gaps": _COUNT,
    "longest_gap_s": _NUMBER,
    "stuck_s": _NUMBER,
    "repeats": _COUNT,
    "spikes": _COUNT,
    "outside": _COUNT,
    "lag_s": _NUMBER,
    "lag_against": _TEXT,
    "suspect": _TEXT,
}
"""One row a log and channel."""

TRACE_FILE: Schema = {"landing_id": _TEXT, "trace_file": _TEXT}
"""One row a landing whose trace is kept."""

REFUSAL: Schema = {"log_sha256": _TEXT, "log_file": _TEXT, "reason": _TEXT}
"""One row a refused log."""

PILOT_OUTCOME: Schema = {
    "pilot": _TEXT,
    "measure": _TEXT,
    "n": _COUNT,
    "centre": _NUMBER,
    "centre_low": _NUMBER,
    "centre_high": _NUMBER,
    "spread": _NUMBER,
    "spread_low": _NUMBER,
    "spread_high": _NUMBER,
    "cohort_pilots": _COUNT,
    "cohort_n": _COUNT,
    "cohort_centre": _NUMBER,
    "cohort_spread": _NUMBER,
}

FAULT_SHARE: Schema = dict(fault_shares.SCHEMA)

DRIFT_POINT: Schema = {
    "pilot": _TEXT,
    "chart": _TEXT,
    "landing_id": _TEXT,
    "sequence": _COUNT,
    "contact_at": INSTANT,
    "residual": _NUMBER,
    "standing": _NUMBER,
    "line": _NUMBER,
    "cusum": _NUMBER,
    "limit": _NUMBER,
    "state": _TEXT,
}

DRIFT_FLAG: Schema = {
    "pilot": _TEXT,
    "chart": _TEXT,
    "flagged_landing_id": _TEXT,
    "flagged_sequence": _COUNT,
    "flagged_at": INSTANT,
    "change_landing_id": _TEXT,
    "change_sequence": _COUNT,
    "change_at": INSTANT,
    "shift": _NUMBER,
    "shift_low": _NUMBER,
    "shift_high": _NUMBER,
    "shift_sd": _NUMBER,
    "landings_since_change": _COUNT,
    "open": pl.Boolean,
    "chance_real": _NUMBER,
    "source": _TEXT,
}

CONSISTENCY: Schema = dict(consistency.CONSISTENCY)

REVIEW: Schema = dict(reviews.REVIEW)

STYLE: Schema = {
    "style": _COUNT,
    "name": _TEXT,
    "landings": _COUNT,
    "share": _NUMBER,
    "feature": _TEXT,
    "centre": _NUMBER,
    "spread": _NUMBER,
}

LANDING_STYLE: Schema = {"landing_id": _TEXT, "style": _COUNT, "probability": _NUMBER}


def conform(frame: pl.DataFrame, schema: Schema, *, what: str) -> pl.DataFrame:
    """Return `frame` with exactly the columns and types of `schema`, in its order.

    Raises
    ------
    ValueError
        A column is missing, or is not one the warehouse holds; `what` names the frame.
    """
    missing = [name for name in schema if name not in frame.columns]
    unknown = [name for name in frame.columns if name not in schema]
    if missing or unknown:
        message = f"{what}: columns missing: {missing or 'none'}; columns not held here: {unknown or 'none'}"
        raise ValueError(message)
    return frame.select(pl.col(name).cast(dtype) for name, dtype in schema.items())

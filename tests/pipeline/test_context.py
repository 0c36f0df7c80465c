"""Context rows: a landing's own row wins over its log's, field by field."""

import polars as pl

from pipeline.context import context_rows, reference
from pipeline.policy import AircraftType, Policy

KEYS = pl.DataFrame(
    {"log_sha256": ["x", "x", "y"], "landing_index": [0, 1, None]}, schema_overrides={"landing_index": pl.Int64}
)
CONTEXT = pl.DataFrame(
    {"log_sha256": ["x", "x"], "landing_index": [None, 1], "pilot": ["P-1", "P-2"], "vref_kt": [120.0, None]},
    schema_overrides={"landing_index": pl.Int64},
)


def test_the_landings_own_row_wins_and_blanks_fall_back():
    """The second landing has its own pilot and its log's Vref; a log without a row is unknown, not an error."""
    rows = context_rows(KEYS, CONTEXT)

    assert rows["pilot"].to_list() == ["P-1", "P-2", None]
    assert rows["vref_kt"].to_list() == [120.0, 120.0, None]


def test_blank_means_the_usual_case():
    """A blank device is an aircraft, a blank exercise normal, a blank reason of logging routine."""
    rows = context_rows(KEYS, CONTEXT)

    assert rows.select("device", "exercise", "why_logged", "takeover").row(2) == (
        "aircraft",
        "normal",
        "routine",
        "none",
    )


def test_vref_of_the_type_serves_where_the_manifest_has_none():
    """The manifest's Vref goes first."""
    rows = context_rows(KEYS, CONTEXT).with_columns(aircraft_type=pl.lit("tern"))
    runways = pl.DataFrame(
        schema={
            "runway": pl.String,
            **dict.fromkeys(
                (
                    "threshold_lat",
                    "threshold_lon",
                    "true_heading_deg",
                    "length_ft",
                    "displaced_threshold_ft",
                    "slope_pct",
                    "aim_point_ft",
                ),
                pl.Float64,
            ),
        }
    )

    found = reference(rows, runways, Policy(types={"tern": AircraftType(vref_kt=90.0)}))

    assert found.vref_kt.tolist() == [120.0, 120.0, 90.0]

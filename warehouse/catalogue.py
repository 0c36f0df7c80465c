"""The marts and what they are for: one table from which views, reading and exporting derive."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Mart:
    """One mart.

    `keys` order its rows. `export` is the name under which it can be exported, or None. `dated` marts hold one set of
    rows for each as_of date; an export has the last one.
    """

    keys: tuple[str, ...]
    export: str | None = None
    dated: bool = False


MARTS: dict[str, Mart] = {
    "disputed": Mart(("landing_id",)),
    "notes": Mart(("noted_at", "note_id"), "notes"),
    "approaches": Mart(("log_file", "log_sha256", "approach_index"), "approaches"),
    "landing": Mart(("log_file", "log_sha256", "landing_index"), "landings"),
    "contacts": Mart(("log_file", "landing_id", "contact_index"), "contacts"),
    "eligible_landing": Mart(("pilot", "contact_at", "landing_id")),
    "pilot_week": Mart(("pilot", "aircraft_type", "iso_year", "iso_week"), "pilot_weeks"),
    "cohort_week": Mart(("aircraft_type", "iso_year", "iso_week"), "cohort_weeks"),
    "gate_verdicts": Mart(("log_file", "landing_id", "gate"), "gate_verdicts"),
    "gate_summary": Mart(("height_ft", "gate", "aircraft_type"), "gates"),
    "expected_approaches": Mart(("log_file", "landing_id"), "expected_approaches"),
    "faults": Mart(("log_file", "landing_id", "fault"), "faults"),
    "null_reasons": Mart(("measure", "reason"), "null_reasons"),
    "logs": Mart(("log_file", "log_sha256"), "logs"),
    "channel_quality": Mart(("log_file", "log_sha256", "channel"), "channel_quality"),
    "constants": Mart(("recorder", "aircraft_type", "constant"), "constants"),
    "refusals": Mart(("log_file", "log_sha256"), "refusals"),
    "trace_files": Mart(("landing_id",)),
    "pilot_outcomes": Mart(("as_of", "pilot", "measure"), "pilots", dated=True),
    "fault_shares": Mart(("as_of", "pilot", "aircraft_type", "fault"), "fault_shares", dated=True),
    "drift_points": Mart(("as_of", "pilot", "chart", "sequence", "landing_id"), "drift", dated=True),
    "drift_flags": Mart(("as_of", "pilot", "chart", "flagged_sequence", "flagged_landing_id"), "flags", dated=True),
    "consistencies": Mart(("as_of", "pilot", "measure"), "consistency", dated=True),
    "reviews": Mart(("as_of", "pilot", "measure"), "reviews", dated=True),
    "styles": Mart(("as_of", "style", "feature"), "styles", dated=True),
    "landing_styles": Mart(("as_of", "landing_id"), "landing_styles", dated=True),
    "editions": Mart(("as_of",)),
    "status": Mart(("logs",)),
}
"""Every mart by its name, in an order in which each reads only staging views and marts before it."""

EXPORTS: dict[str, str] = {mart.export: name for name, mart in MARTS.items() if mart.export is not None}
"""Name of an export -> name of its mart."""

"""What an edition is made of: frames as the warehouse and the statistics give them, and the words settings add."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

import polars as pl

from pipeline.policy import Policy
from reports.selection import dated, pilots
from reports.words import week_dates


@dataclass(frozen=True)
class EditionData:
    """One week's edition.

    Parameters
    ----------
    week : ISO week, "2026-W47"; weeks are those of UTC.
    as_of : the day the statistics stand at.
    landings : landing frame, current rows, all history.
    contacts : contacts frame, at least of the week's landings.
    gates : gate verdicts of all history, one row an approach and gate.
    expected : what approaches differed from the expected by, at least those of the week.
    faults : fault frame, at least of the week's landings.
    traces : trace frame of the week's landings and of each such pilot's recent ones.
    outcomes : pilot_outcome frame.
    fault_shares : fault_share frame.
    drift_points, drift_flags : frames of the drift watch.
    consistency, reviews : consistency and newest review of each pilot and measure.
    styles, landing_styles : frames of the styles; empty where there are too few landings.
    runways : runway table.
    refusals : logs refused, `log_file` and `reason`.
    zone : time zone of printed dates and times.
    false_alarm_text : the drift watch's simulated false-alarm rate, as a sentence.
    false_alarms_per_1000 : the same as a number over both charts, or None where it is not given.
    flag_seen_next_by : who is shown an open flag after the pilot, "nobody" or "training".
    policy : the rules in force; gates, limits and the hash the office page prints.
    waiting : logs that were not judged yet, `log_file` and `reason`; None where nothing waits.
    suspect_logs : logs with channels not to be believed, `log_file` and `suspect_why`; None where it is not known.
    checks : offending rows by check of the warehouse, of the checks that found any; None where none was run.
    """

    week: str
    as_of: date
    landings: pl.DataFrame
    contacts: pl.DataFrame
    gates: pl.DataFrame
    expected: pl.DataFrame
    faults: pl.DataFrame
    traces: pl.DataFrame
    outcomes: pl.DataFrame
    fault_shares: pl.DataFrame
    drift_points: pl.DataFrame
    drift_flags: pl.DataFrame
    consistency: pl.DataFrame
    reviews: pl.DataFrame
    styles: pl.DataFrame
    landing_styles: pl.DataFrame
    runways: pl.DataFrame
    refusals: pl.DataFrame
    zone: str
    false_alarm_text: str
    false_alarms_per_1000: float | None = None
    flag_seen_next_by: str = "nobody"
    policy: Policy = field(default_factory=Policy)
    waiting: pl.DataFrame | None = None
    suspect_logs: pl.DataFrame | None = None
    checks: Mapping[str, int] | None = None

    def flown(self) -> pl.DataFrame:
        """Return the landing frame up to the week's Sunday, oldest first, with `flown`."""
        return dated(self.landings, up_to=week_dates(self.week)[1])

    def pilots(self) -> list[str]:
        """Return the pseudonyms a page is written for, in order."""
        return pilots(self.flown())

    def runway(self, name: str | None) -> dict[str, Any] | None:
        """Return a runway's row, or None where it is not known."""
        found = self.runways.filter(pl.col("runway") == name) if name is not None else self.runways.clear()
        return found.row(0, named=True) if found.height else None

"""The measures: one table from which frames, schema checks, documentation and page titles derive.

A number `m` stands beside `m_u` (standard uncertainty, same unit); a flag, count or text beside `m_confidence`
(0 to 1); each beside `m_reason`, which is null unless the measure is null.
"""

from dataclasses import dataclass
from typing import Literal

import polars as pl

DEFINITION = "1"
"""Version of the definitions below; it is stored with every measured row."""

REASONS = (
    "no_channel",
    "no_reference",
    "too_slow",
    "gap",
    "not_reached",
    "implausible",
    "out_of_range",
    "automation",
)
"""Why a measure is null."""

Kind = Literal["number", "flag", "count", "text"]


@dataclass(frozen=True)
class Measure:
    """One measure: name (ending in its unit), unit for titles, kind, and its meaning in one sentence."""

    name: str
    unit: str
    kind: Kind
    title: str
    meaning: str

    @property
    def quality(self) -> str:
        """Column that says how sure: `_u` for numbers, `_confidence` for the rest."""
        return f"{self.name}_u" if self.kind == "number" else f"{self.name}_confidence"

    @property
    def reason(self) -> str:
        """Column that says why the measure is null."""
        return f"{self.name}_reason"


def _gate(height: int) -> tuple[Measure, ...]:
    g, at = f"gate_{height}", f"at {height} ft"
    return (
        Measure(
            f"{g}_stable",
            "",
            "flag",
            f"Stable {at}",
            f"Every criterion the log can show is met {at}, on the median of the 2 s before it.",
        ),
        Measure(
            f"{g}_failed",
            "",
            "text",
            f"Not met {at}",
            f"The criteria not met {at}, separated by spaces; empty where all are met.",
        ),
        Measure(
            f"{g}_not_judged",
            "",
            "text",
            f"Not judged {at}",
            f"The criteria without channel or reference {at}, separated by spaces.",
        ),
        Measure(
            f"{g}_speed_over_target_kt",
            "kt",
            "number",
            f"Speed over target {at}",
            "Airspeed minus target speed; the target is the manifest's, else Vref plus the wind additive, else Vref.",
        ),
        Measure(f"{g}_sink_fpm", "ft/min", "number", f"Sink {at}", "Sink, positive down."),
        Measure(
            f"{g}_localiser_dots",
            "dots",
            "number",
            f"Localiser {at}",
            "Deviation from the localiser, positive right of course.",
        ),
        Measure(
            f"{g}_glideslope_dots",
            "dots",
            "number",
            f"Glideslope {at}",
            "Deviation from the glideslope, positive above path.",
        ),
        Measure(
            f"{g}_bank_deg",
            "deg",
            "number",
            f"Bank {at}",
            "Greatest bank angle in the 2 s before the gate, without sign.",
        ),
        Measure(
            f"{g}_thrust_pct",
            "%",
            "number",
            f"Thrust lever {at}",
            "Thrust lever, 0 at the idle stop and 100 full forward.",
        ),
        Measure(f"{g}_flap_deg", "deg", "number", f"Flap {at}", "Flap angle."),
        Measure(f"{g}_gear_down", "", "flag", f"Gear down {at}", "Landing gear down."),
    )


MEASURES: tuple[Measure, ...] = (
    *_gate(1000),
    *_gate(500),
    Measure(
        "approach_path_deg",
        "deg",
        "number",
        "Approach path",
        "Angle of descent between 500 and 100 ft; 3 is a three-degree descent.",
    ),
    Measure("approach_pitch_deg", "deg", "number", "Approach pitch", "Mean pitch between 500 and 100 ft."),
    Measure("approach_thrust_pct", "%", "number", "Approach thrust", "Mean thrust lever between 500 and 100 ft."),
    Measure(
        "turbulence_g",
        "g",
        "number",
        "Turbulence",
        "Spread of normal acceleration between 500 and 50 ft, above the band a pilot's control reaches.",
    ),
    Measure("headwind_kt", "kt", "number", "Headwind", "Wind along the runway, positive from ahead."),
    Measure("crosswind_kt", "kt", "number", "Crosswind", "Wind across the runway, positive from the right."),
    Measure(
        "gust_spread_kt",
        "kt",
        "number",
        "Gust spread",
        "Reported gust minus reported wind; null where no gust was reported.",
    ),
    Measure(
        "threshold_height_ft",
        "ft",
        "number",
        "Height at threshold",
        "Height of the main wheels above the runway at the landing threshold.",
    ),
    Measure("threshold_airspeed_kt", "kt", "number", "Airspeed at threshold", "Airspeed at the landing threshold."),
    Measure(
        "threshold_speed_over_vref_kt",
        "kt",
        "number",
        "Speed over Vref at threshold",
        "Airspeed at the landing threshold minus Vref.",
    ),
    Measure(
        "threshold_sink_fpm", "ft/min", "number", "Sink at threshold", "Sink at the landing threshold, positive down."
    ),
    Measure(
        "threshold_lateral_ft",
        "ft",
        "number",
        "Lateral offset at threshold",
        "Offset from the centreline at the landing threshold, positive right.",
    ),
    Measure(
        "flare_height_ft",
        "ft",
        "number",
        "Flare height",
        "Height of the main wheels when pitch stands 0.3 deg above the line it followed before the nose-up rotation.",
    ),
    Measure("flare_time_s", "s", "number", "Flare time", "From flare start to first contact."),
    Measure("flare_distance_ft", "ft", "number", "Flare distance", "Ground covered from flare start to first contact."),
    Measure(
        "pitch_at_flare_deg",
        "deg",
        "number",
        "Pitch at flare start",
        "Value at flare start of the line pitch followed before it.",
    ),
    Measure(
        "pitch_change_deg",
        "deg",
        "number",
        "Pitch change",
        "From that line to the end of the first sustained nose-up rotation.",
    ),
    Measure("pitch_rate_dps", "deg/s", "number", "Pitch rate", "Mean pitch rate over that rotation, positive nose up."),
    Measure(
        "height_regained_ft",
        "ft",
        "number",
        "Height regained",
        "Largest climb between flare start and contact; 0 where there was none.",
    ),
    Measure(
        "thrust_close_height_ft",
        "ft",
        "number",
        "Height at thrust closing",
        "Height of the main wheels where the final lever movement to idle begins.",
    ),
    Measure(
        "thrust_close_lag_s",
        "s",
        "number",
        "Thrust closing after flare",
        "Start of the final lever movement minus flare start; negative where thrust went first.",
    ),
    Measure(
        "thrust_close_time_s",
        "s",
        "number",
        "Thrust closing time",
        "From the start of the final lever movement to idle.",
    ),
    Measure(
        "idle_before_contact_s",
        "s",
        "number",
        "Idle before contact",
        "From idle to contact; negative where thrust was still on at contact.",
    ),
    Measure("thrust_at_contact_pct", "%", "number", "Thrust at contact", "Thrust lever at first contact."),
    Measure(
        "pitch_after_close_deg",
        "deg",
        "number",
        "Pitch after thrust closed",
        "Pitch at contact minus pitch at the later of rotation end and lever idle; negative where the nose dropped.",
    ),
    Measure(
        "pitch_after_close_range_deg",
        "deg",
        "number",
        "Pitch range after thrust closed",
        "Largest minus smallest pitch over that time.",
    ),
    Measure("float_time_s", "s", "number", "Float", "Time below 10 ft before first contact."),
    Measure("float_distance_ft", "ft", "number", "Float distance", "Ground covered below 10 ft before first contact."),
    Measure(
        "speed_bled_kt", "kt", "number", "Speed lost", "Airspeed at the threshold minus airspeed at first contact."
    ),
    Measure(
        "vertical_speed_at_contact_fpm",
        "ft/min",
        "number",
        "Vertical speed at contact",
        "Vertical speed of the main wheels relative to the runway surface the instant before first contact, positive up.",
    ),
    Measure(
        "peak_g",
        "g",
        "number",
        "Peak normal acceleration",
        "Largest within 1 s of first contact as a 5 Hz low-pass of the true signal would show it.",
    ),
    Measure(
        "peak_g_sampled", "g", "number", "Largest sampled acceleration", "Largest sample within 1 s of first contact."
    ),
    Measure("pitch_at_contact_deg", "deg", "number", "Pitch at contact", "Pitch at first contact, positive nose up."),
    Measure(
        "roll_at_contact_deg", "deg", "number", "Roll at contact", "Roll at first contact, positive right wing down."
    ),
    Measure("contact_airspeed_kt", "kt", "number", "Airspeed at contact", "Airspeed at first contact."),
    Measure(
        "contact_speed_over_vref_kt",
        "kt",
        "number",
        "Speed over Vref at contact",
        "Airspeed at first contact minus Vref.",
    ),
    Measure(
        "touchdown_distance_ft",
        "ft",
        "number",
        "Touchdown distance",
        "First contact of the main wheels from the landing threshold, positive down the runway.",
    ),
    Measure(
        "distance_from_50ft_ft",
        "ft",
        "number",
        "Distance from 50 ft",
        "Ground covered from 50 ft wheel height to first contact.",
    ),
    Measure(
        "distance_from_aim_point_ft",
        "ft",
        "number",
        "Distance from aim point",
        "Touchdown distance minus the runway's aim point; positive beyond it.",
    ),
    Measure(
        "touchdown_lateral_ft",
        "ft",
        "number",
        "Lateral offset at contact",
        "Offset from the centreline at first contact, positive right.",
    ),
    Measure(
        "runway_used_pct",
        "%",
        "number",
        "Runway used at contact",
        "Touchdown distance as a share of the landing distance available.",
    ),
    Measure(
        "runway_remaining_ft",
        "ft",
        "number",
        "Runway remaining at contact",
        "Landing distance available minus touchdown distance.",
    ),
    Measure(
        "in_touchdown_zone",
        "",
        "flag",
        "In the touchdown zone",
        "First contact between the near edge and the end of the touchdown zone.",
    ),
    Measure(
        "bounces",
        "",
        "count",
        "Bounces",
        "Times the main wheels were airborne again for at least 0.2 s without climbing away.",
    ),
)

BY_NAME: dict[str, Measure] = {measure.name: measure for measure in MEASURES}

_DTYPES = {"number": pl.Float64, "flag": pl.Boolean, "count": pl.Int64, "text": pl.String}


def schema() -> dict[str, type[pl.DataType]]:
    """Column names and types of a frame of measures, in the table's order: value, quality, reason for each."""
    columns: dict[str, type[pl.DataType]] = {}
    for measure in MEASURES:
        columns[measure.name] = _DTYPES[measure.kind]
        columns[measure.quality] = pl.Float64
        columns[measure.reason] = pl.String
    return columns

"""The measures of the approach, of the air and of the threshold, in the order in which they happen."""

from pipeline.measures.measure import Measure, flag, number, text


def _gate(height: int) -> tuple[Measure, ...]:
    g, at = f"gate_{height}", f"at {height} ft"
    return (
        flag(
            f"{g}_stable",
            f"Stable {at}",
            f"Every criterion the log can show is met {at}, on the median of the 2 s before it.",
        ),
        text(
            f"{g}_failed", f"Not met {at}", f"The criteria not met {at}, separated by spaces; empty where all are met."
        ),
        text(
            f"{g}_not_judged",
            f"Not judged {at}",
            f"The criteria without channel or reference {at}, separated by spaces.",
        ),
        number(
            f"{g}_speed_over_target_kt",
            "kt",
            f"Speed over target {at}",
            "Airspeed minus target speed; the target is the manifest's, else Vref plus the wind additive, else Vref.",
        ),
        number(f"{g}_sink_fpm", "ft/min", f"Sink {at}", "Sink, positive down."),
        number(
            f"{g}_localiser_dots", "dots", f"Localiser {at}", "Deviation from the localiser, positive right of course."
        ),
        number(
            f"{g}_localiser_deg",
            "deg",
            f"Localiser angle {at}",
            "Deviation from the localiser as an angle, positive right of course; two dots are the angle of 350 ft at the threshold, seen from the localiser's antenna.",
        ),
        number(
            f"{g}_glideslope_dots", "dots", f"Glideslope {at}", "Deviation from the glideslope, positive above path."
        ),
        number(
            f"{g}_glideslope_deg",
            "deg",
            f"Glideslope angle {at}",
            "Deviation from the glideslope as an angle, positive above path; one dot is 0.35 deg.",
        ),
        number(f"{g}_bank_deg", "deg", f"Bank {at}", "Greatest bank angle in the 2 s before the gate, without sign."),
        number(f"{g}_thrust_pct", "%", f"Thrust lever {at}", "Thrust lever, 0 at the idle stop and 100 full forward."),
        number(f"{g}_flap_deg", "deg", f"Flap {at}", "Flap angle."),
        flag(f"{g}_gear_down", f"Gear down {at}", "Landing gear down."),
    )


APPROACH: tuple[Measure, ...] = (
    *_gate(1000),
    *_gate(500),
    text(
        "gate_500_first_break",
        "First broken below 500 ft",
        "The criterion that is first broken for 2 s or more between 500 and 50 ft.",
    ),
    number(
        "gate_500_first_break_height_ft", "ft", "Height of the first break", "Height at which that first break begins."
    ),
    number(
        "gate_500_first_break_duration_s",
        "s",
        "Duration of the first break",
        "How long that first break lasts, at most down to 50 ft.",
    ),
    flag(
        "stable_to_threshold",
        "Stable to the threshold",
        "The gate at 500 ft is met, and no criterion the log can show is broken for 2 s from there down to 50 ft.",
    ),
    flag(
        "continued_unstable",
        "Unstable and continued",
        "The gate at 500 ft is not met, and the wheels touched all the same.",
    ),
    number(
        "approach_path_deg",
        "deg",
        "Approach path",
        "Angle of descent between 500 and 100 ft; 3 is a three-degree descent.",
    ),
    number("approach_pitch_deg", "deg", "Approach pitch", "Mean pitch between 500 and 100 ft."),
    number("approach_thrust_pct", "%", "Approach thrust", "Mean thrust lever between 500 and 100 ft."),
    number("approach_engine_speed_pct", "%", "Approach engine speed", "Mean engine speed between 500 and 100 ft."),
    number(
        "approach_pitch_sd_deg",
        "deg",
        "Spread of pitch",
        "Standard deviation of pitch between 500 and 100 ft, averaged over 1 s, recorder noise taken out.",
    ),
    number(
        "approach_thrust_sd_pct",
        "%",
        "Spread of thrust",
        "Standard deviation of the thrust lever between 500 and 100 ft, averaged over 1 s, recorder noise taken out.",
    ),
    number(
        "approach_airspeed_sd_kt",
        "kt",
        "Spread of airspeed",
        "Standard deviation of airspeed between 500 and 100 ft, averaged over 1 s, recorder noise taken out.",
    ),
    number(
        "approach_vertical_speed_sd_fpm",
        "ft/min",
        "Spread of vertical speed",
        "Standard deviation of vertical speed between 500 and 100 ft, averaged over 1 s, recorder noise taken out.",
    ),
    number(
        "lowest_glideslope_dots",
        "dots",
        "Lowest on the glideslope",
        "Lowest deviation from the glideslope held for 1 s between 500 and 100 ft, positive above path.",
    ),
    number(
        "lowest_path_deg",
        "deg",
        "Lowest on the path",
        "Smallest angle at which the main wheels stood above the runway's aim point between 500 and 100 ft.",
    ),
    number(
        "autopilot_off_ft",
        "ft",
        "Autopilot off",
        "Height at which the autopilot was last disengaged before first contact.",
    ),
    number(
        "autothrottle_off_ft",
        "ft",
        "Autothrust off",
        "Height at which autothrust was last disengaged before first contact.",
    ),
)

CONDITIONS: tuple[Measure, ...] = (
    number(
        "turbulence_g",
        "g",
        "Turbulence",
        "Spread of normal acceleration between 500 and 50 ft, above the band a pilot's control reaches.",
    ),
    number("headwind_kt", "kt", "Headwind", "Wind along the runway, positive from ahead."),
    number("crosswind_kt", "kt", "Crosswind", "Wind across the runway, positive from the right."),
    number(
        "gust_spread_kt", "kt", "Gust spread", "Reported gust minus reported wind; null where no gust was reported."
    ),
    number(
        "density_ratio",
        "",
        "Density ratio",
        "Air density at the runway over that of the standard atmosphere at sea level, at standard temperature for the height.",
    ),
    number("runway_elevation_ft", "ft", "Runway elevation", "Elevation of the landing threshold."),
    number("runway_slope_pct", "%", "Runway slope", "Slope of the runway in the landing direction, positive uphill."),
    number("gross_weight_kg", "kg", "Weight", "Gross weight at landing, recorded, else the manifest's."),
)

THRESHOLD: tuple[Measure, ...] = (
    number(
        "threshold_height_ft",
        "ft",
        "Height at threshold",
        "Height of the main wheels above the runway at the landing threshold.",
    ),
    number(
        "threshold_height_over_design_ft",
        "ft",
        "Height over design at threshold",
        "Height of the main wheels at the landing threshold minus the crossing height of the runway's glide path.",
    ),
    number("threshold_airspeed_kt", "kt", "Airspeed at threshold", "Airspeed at the landing threshold."),
    number(
        "threshold_speed_over_vref_kt",
        "kt",
        "Speed over Vref at threshold",
        "Airspeed at the landing threshold minus Vref.",
    ),
    number("threshold_sink_fpm", "ft/min", "Sink at threshold", "Sink at the landing threshold, positive down."),
    number(
        "threshold_lateral_ft",
        "ft",
        "Lateral offset at threshold",
        "Offset from the centreline at the landing threshold, positive right.",
    ),
    number(
        "threshold_headwind_kt",
        "kt",
        "Headwind at threshold",
        "Wind along the runway in the 5 s about the landing threshold, positive from ahead.",
    ),
    number(
        "threshold_crosswind_kt",
        "kt",
        "Crosswind at threshold",
        "Wind across the runway in the 5 s about the landing threshold, positive from the right.",
    ),
    number(
        "threshold_energy_ft",
        "ft",
        "Energy at threshold",
        "Height at the landing threshold plus the height that speed beyond Vref is worth, (V^2 - Vref^2) / 2g in true airspeed.",
    ),
)

"""The measures of the flare, the contact and the rollout, in the order in which they happen."""

from pipeline.measures.measure import Measure, count, flag, number, text

FLARE: tuple[Measure, ...] = (
    number(
        "flare_height_ft",
        "ft",
        "Flare height",
        "Height of the main wheels when pitch stands 0.3 deg above the line it followed before the nose-up rotation.",
    ),
    number(
        "flare_height_path_ft",
        "ft",
        "Flare height by the path",
        "Height of the main wheels when the path alone left its straight descent, whatever the nose did.",
    ),
    number(
        "flare_disagreement_ft",
        "ft",
        "Pitch against path",
        "Flare height by pitch minus flare height by the path.",
    ),
    number("flare_time_s", "s", "Flare time", "From flare start to first contact."),
    number("flare_distance_ft", "ft", "Flare distance", "Ground covered from flare start to first contact."),
    number(
        "pitch_at_flare_deg",
        "deg",
        "Pitch at flare start",
        "Value at flare start of the line pitch followed before it.",
    ),
    number(
        "pitch_change_deg", "deg", "Pitch change", "From that line to the end of the first sustained nose-up rotation."
    ),
    number("pitch_rate_dps", "deg/s", "Pitch rate", "Mean pitch rate over that rotation, positive nose up."),
    count(
        "pitch_reversals",
        "Pitch reversals",
        "Times the nose turned back between flare start and contact by more than 0.3 deg and more than the noise.",
    ),
    number(
        "height_regained_ft",
        "ft",
        "Height regained",
        "Largest climb between flare start and contact; 0 where there was none.",
    ),
    number(
        "thrust_close_height_ft",
        "ft",
        "Height at thrust closing",
        "Height of the main wheels where the final lever movement to idle begins.",
    ),
    number(
        "thrust_close_lag_s",
        "s",
        "Thrust closing after flare",
        "Start of the final lever movement minus flare start; negative where thrust went first.",
    ),
    number("thrust_close_time_s", "s", "Thrust closing time", "From the start of the final lever movement to idle."),
    number(
        "idle_before_contact_s",
        "s",
        "Idle before contact",
        "From idle to contact; negative where thrust was still on at contact.",
    ),
    number("thrust_at_contact_pct", "%", "Thrust at contact", "Thrust lever at first contact."),
    number(
        "pitch_after_close_deg",
        "deg",
        "Pitch after thrust closed",
        "Pitch at contact minus pitch at the later of rotation end and lever idle; negative where the nose dropped.",
    ),
    number(
        "pitch_after_close_range_deg",
        "deg",
        "Pitch range after thrust closed",
        "Largest minus smallest pitch over that time.",
    ),
    number(
        "decrab_height_ft",
        "ft",
        "Height at de-crab",
        "Height of the main wheels when the nose had come 1 deg from the crab of the approach towards the runway.",
    ),
    number("float_time_s", "s", "Float", "Time below 10 ft before first contact."),
    number("float_distance_ft", "ft", "Float distance", "Ground covered below 10 ft before first contact."),
    number("speed_bled_kt", "kt", "Speed lost", "Airspeed at the threshold minus airspeed at first contact."),
)

CONTACT: tuple[Measure, ...] = (
    number(
        "vertical_speed_at_contact_fpm",
        "ft/min",
        "Vertical speed at contact",
        "Vertical speed of the main wheels relative to the runway surface the instant before first contact, positive up.",
    ),
    number(
        "earth_vertical_speed_at_contact_fpm",
        "ft/min",
        "Earth vertical speed at contact",
        "The same relative to the earth, the runway's slope left out.",
    ),
    number(
        "touching_wheel_vertical_speed_fpm",
        "ft/min",
        "Vertical speed of the touching wheel",
        "The same of the main wheel that touches first, with the part that rolling adds.",
    ),
    number(
        "peak_g",
        "g",
        "Peak normal acceleration",
        "Largest within 1 s of first contact as a 5 Hz low-pass of the true signal would show it.",
    ),
    number("peak_g_sampled", "g", "Largest sampled acceleration", "Largest sample within 1 s of first contact."),
    number(
        "normal_accel_rate_hz",
        "Hz",
        "Rate of normal acceleration",
        "Samples of normal acceleration a second, beside which the largest sample is read.",
    ),
    number(
        "peak_g_firmest",
        "g",
        "Peak of all contacts",
        "Largest peak normal acceleration over all contacts, bounces included.",
    ),
    count("firmest_contact", "Firmest contact", "Which contact had the greatest downward speed, 0 for the first."),
    number("pitch_at_contact_deg", "deg", "Pitch at contact", "Pitch at first contact, positive nose up."),
    number("roll_at_contact_deg", "deg", "Roll at contact", "Roll at first contact, positive right wing down."),
    number(
        "roll_into_wind_at_contact_deg",
        "deg",
        "Roll into wind at contact",
        "Roll at first contact, positive with the upwind wing down.",
    ),
    number(
        "crab_at_contact_deg", "deg", "Crab at contact", "Heading minus track at first contact, positive nose right."
    ),
    number(
        "lateral_drift_kt", "kt", "Drift at contact", "Speed across the runway at first contact, positive to the right."
    ),
    text("first_main", "First main wheel", "Which main wheel touched first by the bank at contact, left or right."),
    text("first_main_wind", "First main wheel and wind", "Whether that was the upwind or the downwind wheel."),
    number(
        "tail_clearance_deg",
        "deg",
        "Tail clearance",
        "Pitch at which the tail would touch the runway minus pitch at first contact.",
    ),
    number("flap_at_contact_deg", "deg", "Flap at contact", "Flap angle at first contact."),
    number("contact_airspeed_kt", "kt", "Airspeed at contact", "Airspeed at first contact."),
    number("contact_speed_over_vref_kt", "kt", "Speed over Vref at contact", "Airspeed at first contact minus Vref."),
    number(
        "touchdown_distance_ft",
        "ft",
        "Touchdown distance",
        "First contact of the main wheels from the landing threshold, positive down the runway.",
    ),
    number(
        "settled_distance_ft",
        "ft",
        "Settled distance",
        "The last contact after bounces from the landing threshold, positive down the runway.",
    ),
    number(
        "distance_from_50ft_ft", "ft", "Distance from 50 ft", "Ground covered from 50 ft wheel height to first contact."
    ),
    number(
        "distance_from_aim_point_ft",
        "ft",
        "Distance from aim point",
        "Touchdown distance minus the runway's aim point; positive beyond it.",
    ),
    number(
        "touchdown_lateral_ft",
        "ft",
        "Lateral offset at contact",
        "Offset from the centreline at first contact, positive right.",
    ),
    number(
        "runway_used_pct",
        "%",
        "Runway used at contact",
        "Touchdown distance as a share of the landing distance available.",
    ),
    number(
        "runway_remaining_ft",
        "ft",
        "Runway remaining at contact",
        "Landing distance available minus touchdown distance.",
    ),
    flag(
        "in_touchdown_zone",
        "In the touchdown zone",
        "First contact between the near edge and the end of the touchdown zone.",
    ),
    count("bounces", "Bounces", "Times the main wheels were airborne again for at least 0.2 s without climbing away."),
)


def _to(speed: int) -> tuple[Measure, ...]:
    return (
        number(
            f"time_to_{speed}kt_s", "s", f"Time to {speed} kt", f"From first contact to a ground speed of {speed} kt."
        ),
        number(
            f"distance_to_{speed}kt_ft",
            "ft",
            f"Distance to {speed} kt",
            f"Ground covered from first contact to a ground speed of {speed} kt.",
        ),
    )


ROLLOUT: tuple[Measure, ...] = (
    number(
        "nose_lag_s",
        "s",
        "Nose wheel after contact",
        "From first contact of the main wheels to contact of the nose wheel; negative where the nose wheel touched first.",
    ),
    number(
        "nose_rate_dps",
        "deg/s",
        "Nose rate",
        "Pitch rate in the half second before the nose wheel touched, positive nose up.",
    ),
    number(
        "spoiler_lag_s",
        "s",
        "Spoilers after contact",
        "From first contact to the spoilers standing 10 % above their place in flight.",
    ),
    number(
        "reverse_lag_s",
        "s",
        "Reverse after contact",
        "From first contact to 10 % reverse thrust, or where only levers are recorded to levers 10 % behind the idle stop.",
    ),
    number("brake_lag_s", "s", "Brakes after contact", "From first contact to 10 % braking."),
    number(
        "mean_deceleration_g",
        "g",
        "Mean deceleration",
        "Ground speed lost a second, in g, from first contact to 60 kt or half the speed at contact, whichever is less, or to the end of the rollout that the log shows.",
    ),
    number(
        "peak_deceleration_g", "g", "Peak deceleration", "Largest loss of ground speed over 2 s of the rollout, in g."
    ),
    *_to(100),
    *_to(80),
    *_to(60),
    number(
        "rollout_lateral_max_ft",
        "ft",
        "Largest offset in the rollout",
        "Offset from the centreline where it was largest between first contact and 60 kt or half the speed at contact, whichever is less, positive right.",
    ),
    number(
        "runway_left_at_60kt_ft",
        "ft",
        "Runway left at 60 kt",
        "Landing distance available minus distance from the landing threshold where ground speed falls to 60 kt.",
    ),
)

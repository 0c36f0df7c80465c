"""Constant errors a channel may carry through a whole landing, as one standard deviation in its unit.

They cannot be seen in one log, so they belong in every uncertainty that does not cancel them. Our own choice: a third
to a half of the accuracies that recorder regulations ask for (14 CFR 121 Appendix M; 14 CFR 135 Appendix F), because
those are limits of the worst installation.
"""

BIAS: dict[str, float] = {
    "airspeed_kt": 1.5,
    "ground_speed_kt": 1.0,
    "vertical_speed_fpm": 20.0,
    "pitch_deg": 0.3,
    "roll_deg": 0.3,
    "normal_accel_g": 0.01,
    "thrust_lever_pct": 1.0,
    "localiser_dots": 0.05,
    "glideslope_dots": 0.05,
    "flap_deg": 0.5,
    "heading_true_deg": 0.7,
    "track_true_deg": 0.7,
    "engine_speed_pct": 0.5,
    "radio_height_ft": 0.5,
    "geometric_altitude_ft": 8.0,
    "pressure_altitude_ft": 12.0,
}

POSITION_DELAY_S = 0.25
"""Unknown part of the delay of recorded positions behind the moment they describe."""
POSITION_FT = 10.0
"""Constant error of a satellite position along and across the runway over one landing."""
WIND_KT = 2.0
"""Error of a recorded or reported wind component at the runway."""
RUNWAY_HEADING_DEG = 0.1
"""Error of a runway's true heading in a table that states it to a tenth: our own choice."""
GROUND_SPEED_DELAY_S, GROUND_SPEED_DELAY_U_S = 0.2, 0.2
"""Delay of recorded ground speed behind the moment it describes, and its unknown part: our own choice."""
HEIGHT_LAG_U_S = 0.1
"""Unknown part of the delay of radio height."""
SWITCH_LAG_S, SWITCH_LAG_U_S = 0.15, 0.12
"""Delay of an air/ground switch behind the wheels' touch (strut compression and filtering): common practice."""

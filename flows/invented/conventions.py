"""The operator's recorders, by what each aircraft carries: five conventions that agree in nothing but the flight."""

from flows.invented.recorders import Recorder, Written, number, plain_switch, switch


def _metric() -> Recorder:
    """16 Hz, metres and seconds, descent positive, levers by angle, words for the squat switches."""
    g = 9.80665
    return Recorder(
        "metric-16", "Elapsed", "s", ".parquet",
        (
            number("radio_height", "HtAboveGround", 16, 0.01, Written("m", scale=0.3048)),
            number("geometric_altitude", "HtSatellite", 4, 0.1, Written("m", scale=0.3048)),
            number("pressure_altitude", "HtPressure", 2, 1.0, Written("m", scale=0.3048)),
            number("vertical_speed", "Descent", 8, 0.05, Written("m/s", scale=-0.00508, positive="down")),
            number("airspeed", "SpeedAir", 8, 0.1, Written("km/h", scale=1.852)),
            number("ground_speed", "SpeedGround", 4, 0.1, Written("km/h", scale=1.852)),
            number("pitch", "Nose", 16, 0.02, Written("deg")),
            number("roll", "Wing", 8, 0.05, Written("deg")),
            number("heading_true", "Heading", 8, 0.1, Written("deg")),
            number("track_true", "Course", 4, 0.1, Written("deg")),
            number("normal_accel", "AccelZ", 16, 0.02, Written("m/s2", scale=g, offset=-g + 9.81, at_rest=9.81)),
            number("longitudinal_accel", "AccelX", 16, 0.02, Written("m/s2", scale=g), rough=2.0),
            number("lateral_accel", "AccelY", 8, 0.02, Written("m/s2", scale=g)),
            number("thrust_lever", "LeverL|LeverR", 8, 0.1,
                Written("deg", scale=0.52, offset=12.0, idle=12.0, full=64.0)),
            number("engine_speed", "FanL|FanR", 4, 0.1, Written("%")),
            number("latitude", "Lat", 4, 1e-7, Written("deg")),
            number("longitude", "Lon", 4, 1e-7, Written("deg")),
            number("localiser", "LocDev", 4, 0.01, Written("dots")),
            number("glideslope", "GlideDev", 4, 0.01, Written("dots")),
            number("flap", "Flap", 1, 0.5, Written("deg")),
            switch("main_on_ground", "SquatL|SquatR", 8, "AIR", "GND"),
            switch("nose_on_ground", "SquatN", 8, "AIR", "GND"),
            switch("gear_down", "Gear", 1, "UP", "DOWN"),
            number("spoiler", "Spoiler", 4, 1.0, Written("%")),
            number("reverse", "Reverse", 4, 1.0, Written("%")),
            number("brake", "Brake", 4, 1.0, Written("%")),
            switch("autopilot_on", "Pilot2", 1, "OFF", "ON"),
            switch("autothrottle_on", "Thrust2", 1, "OFF", "ON"),
            number("wind_speed", "Wind", 1, 1.0, Written("kt")),
            number("wind_from_true", "WindFrom", 1, 1.0, Written("deg")),
        ),
    )  # fmt: skip


def _mixed() -> Recorder:
    """Rates by channel: pitch 4 Hz, radio height 8, acceleration 16, position and discretes 1; stamps in UTC."""
    return Recorder(
        "mixed-16", "utc", "iso8601", ".parquet",
        (
            number("radio_height", "ra", 8, 0.5, Written("ft")),
            number("pressure_altitude", "alt_std", 1, 5.0, Written("ft")),
            number("vertical_speed", "vs", 4, 8.0, Written("ft/min")),
            number("airspeed", "ias", 4, 0.25, Written("kt")),
            number("ground_speed", "gs", 4, 0.25, Written("kt")),
            number("pitch", "att_pitch", 4, 0.05, Written("deg")),
            number("roll", "att_roll", 4, 0.1, Written("deg")),
            number("heading_true", "hdg_true", 4, 0.1, Written("deg")),
            number("normal_accel", "n_z", 16, 0.004, Written("g")),
            number("longitudinal_accel", "n_x", 4, 0.004, Written("g")),
            number("lateral_accel", "n_y", 4, 0.004, Written("g")),
            number("thrust_lever", "lever_1|lever_2", 4, 0.3, Written("%")),
            number("engine_speed", "n1_1|n1_2", 4, 0.2, Written("%")),
            number("latitude", "lat", 1, 1e-6, Written("deg")),
            number("longitude", "lon", 1, 1e-6, Written("deg")),
            number("localiser", "loc", 2, 0.01, Written("dots")),
            number("glideslope", "gp", 2, 0.01, Written("dots")),
            number("flap", "flap", 1, 0.5, Written("deg")),
            plain_switch("main_on_ground", "wow_main", 1),
            plain_switch("nose_on_ground", "wow_nose", 1),
            plain_switch("gear_down", "gear_dn", 1),
            number("spoiler", "spoiler", 1, 1.0, Written("%")),
            number("reverse", "reverse", 1, 1.0, Written("%")),
            number("brake", "brake", 1, 1.0, Written("%")),
            plain_switch("autopilot_on", "ap", 1),
            plain_switch("autothrottle_on", "at", 1),
            number("gross_weight", "gw", 1, 10.0, Written("kg")),
        ),
    )  # fmt: skip


def _clock() -> Recorder:
    """4 Hz with clock time; yards, radians, nose-down and below-path positive."""
    rad = 0.017453292519943295
    return Recorder(
        "clock-4", "Clock", "clock", ".parquet",
        (
            number("radio_height", "HtRadio", 4, 0.1, Written("yd", scale=1.0 / 3.0)),
            number("geometric_altitude", "HtSat", 1, 1.0, Written("yd", scale=1.0 / 3.0)),
            number("vertical_speed", "Vert", 4, 0.1, Written("kt", scale=60.0 * 0.3048 / 1852.0)),
            number("airspeed", "Knots", 4, 0.5, Written("kt")),
            number("ground_speed", "Ground", 2, 0.5, Written("kt")),
            number("pitch", "Bow", 4, 0.001, Written("rad", scale=-rad, positive="down")),
            number("roll", "Bank", 4, 0.002, Written("rad", scale=-rad, positive="left")),
            number("heading_true", "Points", 2, 0.25, Written("deg")),
            number("normal_accel", "AccN", 8, 0.005, Written("g", offset=-1.0, at_rest=0.0)),
            number("longitudinal_accel", "AccL", 4, 0.005, Written("g")),
            number("thrust_lever", "Power", 4, 0.005, Written("fraction", scale=0.01)),
            number("engine_speed", "Turns", 2, 0.5, Written("%")),
            number("latitude", "Northing", 2, 1e-6, Written("deg", lag_s=0.3)),
            number("longitude", "Easting", 2, 1e-6, Written("deg", lag_s=0.3)),
            number("glideslope", "Beam", 2, 0.005, Written("deg", scale=-0.35, positive="below")),
            number("flap", "FlapPart", 1, 0.01, Written("fraction", scale=1.0 / 40.0, full_deg=40.0)),
            switch("main_on_ground", "AirGndL|AirGndR", 4, "AIR", "GND"),
            switch("gear_down", "GearLights", 1, "RED", "GREEN"),
        ),
    )  # fmt: skip


def _canonical() -> Recorder:
    """8 Hz under the canonical names: needs no map."""
    return Recorder(
        "plain-8", "t_s", "s", ".parquet",
        (
            number("radio_height", "radio_height_ft", 8, 0.1, Written("ft")),
            number("geometric_altitude", "geometric_altitude_ft", 4, 0.5, Written("ft")),
            number("vertical_speed", "vertical_speed_fpm", 8, 4.0, Written("ft/min")),
            number("airspeed", "airspeed_kt", 8, 0.2, Written("kt")),
            number("ground_speed", "ground_speed_kt", 4, 0.1, Written("kt")),
            number("pitch", "pitch_deg", 8, 0.05, Written("deg")),
            number("roll", "roll_deg", 8, 0.1, Written("deg")),
            number("heading_true", "heading_true_deg", 4, 0.2, Written("deg")),
            number("normal_accel", "normal_accel_g", 8, 0.004, Written("g")),
            number("longitudinal_accel", "longitudinal_accel_g", 8, 0.004, Written("g")),
            number("lateral_accel", "lateral_accel_g", 8, 0.004, Written("g")),
            number("thrust_lever", "thrust_lever_pct", 8, 0.5, Written("%")),
            number("engine_speed", "engine_speed_pct", 4, 0.5, Written("%")),
            number("latitude", "latitude_deg", 4, 1e-7, Written("deg")),
            number("longitude", "longitude_deg", 4, 1e-7, Written("deg")),
            number("flap", "flap_deg", 1, 1.0, Written("deg")),
            plain_switch("main_on_ground", "main_on_ground", 8),
        ),
        needs_map=False,
    )  # fmt: skip


def _two_hertz() -> Recorder:
    """2 Hz and no radio height: a satellite receiver, an attitude box, milliseconds."""
    return Recorder(
        "tablet-2", "ms", "ms", ".csv.zst",
        (
            number("geometric_altitude", "sat_alt_m", 2, 0.1, Written("m", scale=0.3048)),
            number("vertical_speed", "climb_ms", 2, 0.05, Written("m/s", scale=0.00508), rough=3.0),
            number("ground_speed", "gs_ms", 2, 0.05, Written("m/s", scale=1852.0 / 3600.0)),
            number("airspeed", "ias_kt", 2, 0.5, Written("kt")),
            number("pitch", "pitch", 2, 0.1, Written("deg")),
            number("roll", "roll", 2, 0.1, Written("deg")),
            number("heading_true", "heading", 2, 0.5, Written("deg")),
            number("normal_accel", "g_load", 2, 0.01, Written("g")),
            number("thrust_lever", "throttle", 2, 1.0, Written("%")),
            number("engine_speed", "rpm_pct", 2, 1.0, Written("%")),
            number("latitude", "lat", 2, 1e-6, Written("deg")),
            number("longitude", "lon", 2, 1e-6, Written("deg")),
        ),
    )  # fmt: skip


def _one_hertz() -> Recorder:
    """1 Hz text with stamps: everything once a second, coarse."""
    return Recorder(
        "slow-1", "Stamp", "iso8601", ".csv.gz",
        (
            number("radio_height", "RadHt", 1, 1.0, Written("ft")),
            number("pressure_altitude", "PressAlt", 1, 5.0, Written("ft")),
            number("vertical_speed", "VertSpd", 1, 16.0, Written("ft/min")),
            number("airspeed", "Airspd", 1, 0.5, Written("kt")),
            number("ground_speed", "GndSpd", 1, 0.5, Written("kt")),
            number("pitch", "PitchAtt", 1, 0.2, Written("deg")),
            number("roll", "RollAtt", 1, 0.2, Written("deg")),
            number("heading_true", "TrueHdg", 1, 0.5, Written("deg")),
            number("normal_accel", "VertG", 1, 0.01, Written("g")),
            number("thrust_lever", "PwrLvr", 1, 1.0, Written("%")),
            number("latitude", "LatDeg", 1, 1e-5, Written("deg")),
            number("longitude", "LonDeg", 1, 1e-5, Written("deg")),
            number("flap", "FlapDeg", 1, 1.0, Written("deg")),
            switch("main_on_ground", "AirGnd", 1, "N", "Y"),
        ),
    )  # fmt: skip


RECORDERS: dict[str, Recorder] = {
    recorder.name: recorder for recorder in (_metric(), _mixed(), _clock(), _canonical(), _two_hertz(), _one_hertz())
}

FLEET: dict[str, tuple[tuple[str, str, float], ...]] = {
    "jet": (
        ("SJ-1", "metric-16", 0.32), ("SJ-2", "mixed-16", 0.30), ("SJ-3", "plain-8", 0.20), ("SJ-4", "clock-4", 0.18),
    ),
    "light": (
        ("TL-1", "plain-8", 0.34), ("TL-2", "mixed-16", 0.26), ("TL-3", "clock-4", 0.18), ("TL-4", "tablet-2", 0.12),
        ("TL-5", "slow-1", 0.10),
    ),
}  # fmt: skip
"""Aircraft of each type: registration, recorder, share of the flying."""

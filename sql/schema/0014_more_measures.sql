-- Grain: one row per landing_id and measured_key, that is one row each time a landing was measured differently.
-- landing_id: owned by approach. measured_key: made by the loader from the inputs and the result of measuring.
-- The current row of a landing has a null superseded_at; checks/two_current_measurements.sql finds a second one.
-- The table is made anew because a column with a check cannot be added to one; what it held stays, and says of each
-- measure it did not have that its definition was an earlier one.
alter table measurement rename to measurement_before;

create table measurement (
    landing_id varchar not null,
    measured_key varchar not null,
    definition varchar not null,
    constants varchar not null,
    policy_sha256 varchar not null,
    map_sha256 varchar not null,
    runways_sha256 varchar,
    superseded_at timestamptz,
    gate_1000_stable boolean,
    gate_1000_stable_confidence double check (gate_1000_stable_confidence between 0 and 1),
    gate_1000_stable_reason varchar,
    gate_1000_failed varchar,
    gate_1000_failed_confidence double check (gate_1000_failed_confidence between 0 and 1),
    gate_1000_failed_reason varchar,
    gate_1000_not_judged varchar,
    gate_1000_not_judged_confidence double check (gate_1000_not_judged_confidence between 0 and 1),
    gate_1000_not_judged_reason varchar,
    gate_1000_speed_over_target_kt double check (isfinite(gate_1000_speed_over_target_kt)),
    gate_1000_speed_over_target_kt_u double check (isfinite(gate_1000_speed_over_target_kt_u) and gate_1000_speed_over_target_kt_u >= 0),
    gate_1000_speed_over_target_kt_reason varchar,
    gate_1000_sink_fpm double check (isfinite(gate_1000_sink_fpm)),
    gate_1000_sink_fpm_u double check (isfinite(gate_1000_sink_fpm_u) and gate_1000_sink_fpm_u >= 0),
    gate_1000_sink_fpm_reason varchar,
    gate_1000_localiser_dots double check (isfinite(gate_1000_localiser_dots)),
    gate_1000_localiser_dots_u double check (isfinite(gate_1000_localiser_dots_u) and gate_1000_localiser_dots_u >= 0),
    gate_1000_localiser_dots_reason varchar,
    gate_1000_localiser_deg double check (isfinite(gate_1000_localiser_deg)),
    gate_1000_localiser_deg_u double check (isfinite(gate_1000_localiser_deg_u) and gate_1000_localiser_deg_u >= 0),
    gate_1000_localiser_deg_reason varchar,
    gate_1000_glideslope_dots double check (isfinite(gate_1000_glideslope_dots)),
    gate_1000_glideslope_dots_u double check (isfinite(gate_1000_glideslope_dots_u) and gate_1000_glideslope_dots_u >= 0),
    gate_1000_glideslope_dots_reason varchar,
    gate_1000_glideslope_deg double check (isfinite(gate_1000_glideslope_deg)),
    gate_1000_glideslope_deg_u double check (isfinite(gate_1000_glideslope_deg_u) and gate_1000_glideslope_deg_u >= 0),
    gate_1000_glideslope_deg_reason varchar,
    gate_1000_bank_deg double check (isfinite(gate_1000_bank_deg)),
    gate_1000_bank_deg_u double check (isfinite(gate_1000_bank_deg_u) and gate_1000_bank_deg_u >= 0),
    gate_1000_bank_deg_reason varchar,
    gate_1000_thrust_pct double check (isfinite(gate_1000_thrust_pct)),
    gate_1000_thrust_pct_u double check (isfinite(gate_1000_thrust_pct_u) and gate_1000_thrust_pct_u >= 0),
    gate_1000_thrust_pct_reason varchar,
    gate_1000_flap_deg double check (isfinite(gate_1000_flap_deg)),
    gate_1000_flap_deg_u double check (isfinite(gate_1000_flap_deg_u) and gate_1000_flap_deg_u >= 0),
    gate_1000_flap_deg_reason varchar,
    gate_1000_gear_down boolean,
    gate_1000_gear_down_confidence double check (gate_1000_gear_down_confidence between 0 and 1),
    gate_1000_gear_down_reason varchar,
    gate_500_stable boolean,
    gate_500_stable_confidence double check (gate_500_stable_confidence between 0 and 1),
    gate_500_stable_reason varchar,
    gate_500_failed varchar,
    gate_500_failed_confidence double check (gate_500_failed_confidence between 0 and 1),
    gate_500_failed_reason varchar,
    gate_500_not_judged varchar,
    gate_500_not_judged_confidence double check (gate_500_not_judged_confidence between 0 and 1),
    gate_500_not_judged_reason varchar,
    gate_500_speed_over_target_kt double check (isfinite(gate_500_speed_over_target_kt)),
    gate_500_speed_over_target_kt_u double check (isfinite(gate_500_speed_over_target_kt_u) and gate_500_speed_over_target_kt_u >= 0),
    gate_500_speed_over_target_kt_reason varchar,
    gate_500_sink_fpm double check (isfinite(gate_500_sink_fpm)),
    gate_500_sink_fpm_u double check (isfinite(gate_500_sink_fpm_u) and gate_500_sink_fpm_u >= 0),
    gate_500_sink_fpm_reason varchar,
    gate_500_localiser_dots double check (isfinite(gate_500_localiser_dots)),
    gate_500_localiser_dots_u double check (isfinite(gate_500_localiser_dots_u) and gate_500_localiser_dots_u >= 0),
    gate_500_localiser_dots_reason varchar,
    gate_500_localiser_deg double check (isfinite(gate_500_localiser_deg)),
    gate_500_localiser_deg_u double check (isfinite(gate_500_localiser_deg_u) and gate_500_localiser_deg_u >= 0),
    gate_500_localiser_deg_reason varchar,
    gate_500_glideslope_dots double check (isfinite(gate_500_glideslope_dots)),
    gate_500_glideslope_dots_u double check (isfinite(gate_500_glideslope_dots_u) and gate_500_glideslope_dots_u >= 0),
    gate_500_glideslope_dots_reason varchar,
    gate_500_glideslope_deg double check (isfinite(gate_500_glideslope_deg)),
    gate_500_glideslope_deg_u double check (isfinite(gate_500_glideslope_deg_u) and gate_500_glideslope_deg_u >= 0),
    gate_500_glideslope_deg_reason varchar,
    gate_500_bank_deg double check (isfinite(gate_500_bank_deg)),
    gate_500_bank_deg_u double check (isfinite(gate_500_bank_deg_u) and gate_500_bank_deg_u >= 0),
    gate_500_bank_deg_reason varchar,
    gate_500_thrust_pct double check (isfinite(gate_500_thrust_pct)),
    gate_500_thrust_pct_u double check (isfinite(gate_500_thrust_pct_u) and gate_500_thrust_pct_u >= 0),
    gate_500_thrust_pct_reason varchar,
    gate_500_flap_deg double check (isfinite(gate_500_flap_deg)),
    gate_500_flap_deg_u double check (isfinite(gate_500_flap_deg_u) and gate_500_flap_deg_u >= 0),
    gate_500_flap_deg_reason varchar,
    gate_500_gear_down boolean,
    gate_500_gear_down_confidence double check (gate_500_gear_down_confidence between 0 and 1),
    gate_500_gear_down_reason varchar,
    gate_500_first_break varchar,
    gate_500_first_break_confidence double check (gate_500_first_break_confidence between 0 and 1),
    gate_500_first_break_reason varchar,
    gate_500_first_break_height_ft double check (isfinite(gate_500_first_break_height_ft)),
    gate_500_first_break_height_ft_u double check (isfinite(gate_500_first_break_height_ft_u) and gate_500_first_break_height_ft_u >= 0),
    gate_500_first_break_height_ft_reason varchar,
    gate_500_first_break_duration_s double check (isfinite(gate_500_first_break_duration_s)),
    gate_500_first_break_duration_s_u double check (isfinite(gate_500_first_break_duration_s_u) and gate_500_first_break_duration_s_u >= 0),
    gate_500_first_break_duration_s_reason varchar,
    stable_to_threshold boolean,
    stable_to_threshold_confidence double check (stable_to_threshold_confidence between 0 and 1),
    stable_to_threshold_reason varchar,
    continued_unstable boolean,
    continued_unstable_confidence double check (continued_unstable_confidence between 0 and 1),
    continued_unstable_reason varchar,
    approach_path_deg double check (isfinite(approach_path_deg)),
    approach_path_deg_u double check (isfinite(approach_path_deg_u) and approach_path_deg_u >= 0),
    approach_path_deg_reason varchar,
    approach_pitch_deg double check (isfinite(approach_pitch_deg)),
    approach_pitch_deg_u double check (isfinite(approach_pitch_deg_u) and approach_pitch_deg_u >= 0),
    approach_pitch_deg_reason varchar,
    approach_thrust_pct double check (isfinite(approach_thrust_pct)),
    approach_thrust_pct_u double check (isfinite(approach_thrust_pct_u) and approach_thrust_pct_u >= 0),
    approach_thrust_pct_reason varchar,
    approach_engine_speed_pct double check (isfinite(approach_engine_speed_pct)),
    approach_engine_speed_pct_u double check (isfinite(approach_engine_speed_pct_u) and approach_engine_speed_pct_u >= 0),
    approach_engine_speed_pct_reason varchar,
    approach_pitch_sd_deg double check (isfinite(approach_pitch_sd_deg)),
    approach_pitch_sd_deg_u double check (isfinite(approach_pitch_sd_deg_u) and approach_pitch_sd_deg_u >= 0),
    approach_pitch_sd_deg_reason varchar,
    approach_thrust_sd_pct double check (isfinite(approach_thrust_sd_pct)),
    approach_thrust_sd_pct_u double check (isfinite(approach_thrust_sd_pct_u) and approach_thrust_sd_pct_u >= 0),
    approach_thrust_sd_pct_reason varchar,
    approach_airspeed_sd_kt double check (isfinite(approach_airspeed_sd_kt)),
    approach_airspeed_sd_kt_u double check (isfinite(approach_airspeed_sd_kt_u) and approach_airspeed_sd_kt_u >= 0),
    approach_airspeed_sd_kt_reason varchar,
    approach_vertical_speed_sd_fpm double check (isfinite(approach_vertical_speed_sd_fpm)),
    approach_vertical_speed_sd_fpm_u double check (isfinite(approach_vertical_speed_sd_fpm_u) and approach_vertical_speed_sd_fpm_u >= 0),
    approach_vertical_speed_sd_fpm_reason varchar,
    lowest_glideslope_dots double check (isfinite(lowest_glideslope_dots)),
    lowest_glideslope_dots_u double check (isfinite(lowest_glideslope_dots_u) and lowest_glideslope_dots_u >= 0),
    lowest_glideslope_dots_reason varchar,
    lowest_path_deg double check (isfinite(lowest_path_deg)),
    lowest_path_deg_u double check (isfinite(lowest_path_deg_u) and lowest_path_deg_u >= 0),
    lowest_path_deg_reason varchar,
    autopilot_off_ft double check (isfinite(autopilot_off_ft)),
    autopilot_off_ft_u double check (isfinite(autopilot_off_ft_u) and autopilot_off_ft_u >= 0),
    autopilot_off_ft_reason varchar,
    autothrottle_off_ft double check (isfinite(autothrottle_off_ft)),
    autothrottle_off_ft_u double check (isfinite(autothrottle_off_ft_u) and autothrottle_off_ft_u >= 0),
    autothrottle_off_ft_reason varchar,
    turbulence_g double check (isfinite(turbulence_g)),
    turbulence_g_u double check (isfinite(turbulence_g_u) and turbulence_g_u >= 0),
    turbulence_g_reason varchar,
    headwind_kt double check (isfinite(headwind_kt)),
    headwind_kt_u double check (isfinite(headwind_kt_u) and headwind_kt_u >= 0),
    headwind_kt_reason varchar,
    crosswind_kt double check (isfinite(crosswind_kt)),
    crosswind_kt_u double check (isfinite(crosswind_kt_u) and crosswind_kt_u >= 0),
    crosswind_kt_reason varchar,
    gust_spread_kt double check (isfinite(gust_spread_kt)),
    gust_spread_kt_u double check (isfinite(gust_spread_kt_u) and gust_spread_kt_u >= 0),
    gust_spread_kt_reason varchar,
    density_ratio double check (isfinite(density_ratio)),
    density_ratio_u double check (isfinite(density_ratio_u) and density_ratio_u >= 0),
    density_ratio_reason varchar,
    runway_elevation_ft double check (isfinite(runway_elevation_ft)),
    runway_elevation_ft_u double check (isfinite(runway_elevation_ft_u) and runway_elevation_ft_u >= 0),
    runway_elevation_ft_reason varchar,
    runway_slope_pct double check (isfinite(runway_slope_pct)),
    runway_slope_pct_u double check (isfinite(runway_slope_pct_u) and runway_slope_pct_u >= 0),
    runway_slope_pct_reason varchar,
    gross_weight_kg double check (isfinite(gross_weight_kg)),
    gross_weight_kg_u double check (isfinite(gross_weight_kg_u) and gross_weight_kg_u >= 0),
    gross_weight_kg_reason varchar,
    threshold_height_ft double check (isfinite(threshold_height_ft)),
    threshold_height_ft_u double check (isfinite(threshold_height_ft_u) and threshold_height_ft_u >= 0),
    threshold_height_ft_reason varchar,
    threshold_height_over_design_ft double check (isfinite(threshold_height_over_design_ft)),
    threshold_height_over_design_ft_u double check (isfinite(threshold_height_over_design_ft_u) and threshold_height_over_design_ft_u >= 0),
    threshold_height_over_design_ft_reason varchar,
    threshold_airspeed_kt double check (isfinite(threshold_airspeed_kt)),
    threshold_airspeed_kt_u double check (isfinite(threshold_airspeed_kt_u) and threshold_airspeed_kt_u >= 0),
    threshold_airspeed_kt_reason varchar,
    threshold_speed_over_vref_kt double check (isfinite(threshold_speed_over_vref_kt)),
    threshold_speed_over_vref_kt_u double check (isfinite(threshold_speed_over_vref_kt_u) and threshold_speed_over_vref_kt_u >= 0),
    threshold_speed_over_vref_kt_reason varchar,
    threshold_sink_fpm double check (isfinite(threshold_sink_fpm)),
    threshold_sink_fpm_u double check (isfinite(threshold_sink_fpm_u) and threshold_sink_fpm_u >= 0),
    threshold_sink_fpm_reason varchar,
    threshold_lateral_ft double check (isfinite(threshold_lateral_ft)),
    threshold_lateral_ft_u double check (isfinite(threshold_lateral_ft_u) and threshold_lateral_ft_u >= 0),
    threshold_lateral_ft_reason varchar,
    threshold_headwind_kt double check (isfinite(threshold_headwind_kt)),
    threshold_headwind_kt_u double check (isfinite(threshold_headwind_kt_u) and threshold_headwind_kt_u >= 0),
    threshold_headwind_kt_reason varchar,
    threshold_crosswind_kt double check (isfinite(threshold_crosswind_kt)),
    threshold_crosswind_kt_u double check (isfinite(threshold_crosswind_kt_u) and threshold_crosswind_kt_u >= 0),
    threshold_crosswind_kt_reason varchar,
    threshold_energy_ft double check (isfinite(threshold_energy_ft)),
    threshold_energy_ft_u double check (isfinite(threshold_energy_ft_u) and threshold_energy_ft_u >= 0),
    threshold_energy_ft_reason varchar,
    flare_height_ft double check (isfinite(flare_height_ft)),
    flare_height_ft_u double check (isfinite(flare_height_ft_u) and flare_height_ft_u >= 0),
    flare_height_ft_reason varchar,
    flare_height_path_ft double check (isfinite(flare_height_path_ft)),
    flare_height_path_ft_u double check (isfinite(flare_height_path_ft_u) and flare_height_path_ft_u >= 0),
    flare_height_path_ft_reason varchar,
    flare_disagreement_ft double check (isfinite(flare_disagreement_ft)),
    flare_disagreement_ft_u double check (isfinite(flare_disagreement_ft_u) and flare_disagreement_ft_u >= 0),
    flare_disagreement_ft_reason varchar,
    flare_time_s double check (isfinite(flare_time_s)),
    flare_time_s_u double check (isfinite(flare_time_s_u) and flare_time_s_u >= 0),
    flare_time_s_reason varchar,
    flare_distance_ft double check (isfinite(flare_distance_ft)),
    flare_distance_ft_u double check (isfinite(flare_distance_ft_u) and flare_distance_ft_u >= 0),
    flare_distance_ft_reason varchar,
    pitch_at_flare_deg double check (isfinite(pitch_at_flare_deg)),
    pitch_at_flare_deg_u double check (isfinite(pitch_at_flare_deg_u) and pitch_at_flare_deg_u >= 0),
    pitch_at_flare_deg_reason varchar,
    pitch_change_deg double check (isfinite(pitch_change_deg)),
    pitch_change_deg_u double check (isfinite(pitch_change_deg_u) and pitch_change_deg_u >= 0),
    pitch_change_deg_reason varchar,
    pitch_rate_dps double check (isfinite(pitch_rate_dps)),
    pitch_rate_dps_u double check (isfinite(pitch_rate_dps_u) and pitch_rate_dps_u >= 0),
    pitch_rate_dps_reason varchar,
    pitch_reversals bigint,
    pitch_reversals_confidence double check (pitch_reversals_confidence between 0 and 1),
    pitch_reversals_reason varchar,
    height_regained_ft double check (isfinite(height_regained_ft)),
    height_regained_ft_u double check (isfinite(height_regained_ft_u) and height_regained_ft_u >= 0),
    height_regained_ft_reason varchar,
    thrust_close_height_ft double check (isfinite(thrust_close_height_ft)),
    thrust_close_height_ft_u double check (isfinite(thrust_close_height_ft_u) and thrust_close_height_ft_u >= 0),
    thrust_close_height_ft_reason varchar,
    thrust_close_lag_s double check (isfinite(thrust_close_lag_s)),
    thrust_close_lag_s_u double check (isfinite(thrust_close_lag_s_u) and thrust_close_lag_s_u >= 0),
    thrust_close_lag_s_reason varchar,
    thrust_close_time_s double check (isfinite(thrust_close_time_s)),
    thrust_close_time_s_u double check (isfinite(thrust_close_time_s_u) and thrust_close_time_s_u >= 0),
    thrust_close_time_s_reason varchar,
    idle_before_contact_s double check (isfinite(idle_before_contact_s)),
    idle_before_contact_s_u double check (isfinite(idle_before_contact_s_u) and idle_before_contact_s_u >= 0),
    idle_before_contact_s_reason varchar,
    thrust_at_contact_pct double check (isfinite(thrust_at_contact_pct)),
    thrust_at_contact_pct_u double check (isfinite(thrust_at_contact_pct_u) and thrust_at_contact_pct_u >= 0),
    thrust_at_contact_pct_reason varchar,
    pitch_after_close_deg double check (isfinite(pitch_after_close_deg)),
    pitch_after_close_deg_u double check (isfinite(pitch_after_close_deg_u) and pitch_after_close_deg_u >= 0),
    pitch_after_close_deg_reason varchar,
    pitch_after_close_range_deg double check (isfinite(pitch_after_close_range_deg)),
    pitch_after_close_range_deg_u double check (isfinite(pitch_after_close_range_deg_u) and pitch_after_close_range_deg_u >= 0),
    pitch_after_close_range_deg_reason varchar,
    decrab_height_ft double check (isfinite(decrab_height_ft)),
    decrab_height_ft_u double check (isfinite(decrab_height_ft_u) and decrab_height_ft_u >= 0),
    decrab_height_ft_reason varchar,
    float_time_s double check (isfinite(float_time_s)),
    float_time_s_u double check (isfinite(float_time_s_u) and float_time_s_u >= 0),
    float_time_s_reason varchar,
    float_distance_ft double check (isfinite(float_distance_ft)),
    float_distance_ft_u double check (isfinite(float_distance_ft_u) and float_distance_ft_u >= 0),
    float_distance_ft_reason varchar,
    speed_bled_kt double check (isfinite(speed_bled_kt)),
    speed_bled_kt_u double check (isfinite(speed_bled_kt_u) and speed_bled_kt_u >= 0),
    speed_bled_kt_reason varchar,
    vertical_speed_at_contact_fpm double check (isfinite(vertical_speed_at_contact_fpm)),
    vertical_speed_at_contact_fpm_u double check (isfinite(vertical_speed_at_contact_fpm_u) and vertical_speed_at_contact_fpm_u >= 0),
    vertical_speed_at_contact_fpm_reason varchar,
    earth_vertical_speed_at_contact_fpm double check (isfinite(earth_vertical_speed_at_contact_fpm)),
    earth_vertical_speed_at_contact_fpm_u double check (isfinite(earth_vertical_speed_at_contact_fpm_u) and earth_vertical_speed_at_contact_fpm_u >= 0),
    earth_vertical_speed_at_contact_fpm_reason varchar,
    touching_wheel_vertical_speed_fpm double check (isfinite(touching_wheel_vertical_speed_fpm)),
    touching_wheel_vertical_speed_fpm_u double check (isfinite(touching_wheel_vertical_speed_fpm_u) and touching_wheel_vertical_speed_fpm_u >= 0),
    touching_wheel_vertical_speed_fpm_reason varchar,
    peak_g double check (isfinite(peak_g)),
    peak_g_u double check (isfinite(peak_g_u) and peak_g_u >= 0),
    peak_g_reason varchar,
    peak_g_sampled double check (isfinite(peak_g_sampled)),
    peak_g_sampled_u double check (isfinite(peak_g_sampled_u) and peak_g_sampled_u >= 0),
    peak_g_sampled_reason varchar,
    normal_accel_rate_hz double check (isfinite(normal_accel_rate_hz)),
    normal_accel_rate_hz_u double check (isfinite(normal_accel_rate_hz_u) and normal_accel_rate_hz_u >= 0),
    normal_accel_rate_hz_reason varchar,
    peak_g_firmest double check (isfinite(peak_g_firmest)),
    peak_g_firmest_u double check (isfinite(peak_g_firmest_u) and peak_g_firmest_u >= 0),
    peak_g_firmest_reason varchar,
    firmest_contact bigint,
    firmest_contact_confidence double check (firmest_contact_confidence between 0 and 1),
    firmest_contact_reason varchar,
    pitch_at_contact_deg double check (isfinite(pitch_at_contact_deg)),
    pitch_at_contact_deg_u double check (isfinite(pitch_at_contact_deg_u) and pitch_at_contact_deg_u >= 0),
    pitch_at_contact_deg_reason varchar,
    roll_at_contact_deg double check (isfinite(roll_at_contact_deg)),
    roll_at_contact_deg_u double check (isfinite(roll_at_contact_deg_u) and roll_at_contact_deg_u >= 0),
    roll_at_contact_deg_reason varchar,
    roll_into_wind_at_contact_deg double check (isfinite(roll_into_wind_at_contact_deg)),
    roll_into_wind_at_contact_deg_u double check (isfinite(roll_into_wind_at_contact_deg_u) and roll_into_wind_at_contact_deg_u >= 0),
    roll_into_wind_at_contact_deg_reason varchar,
    crab_at_contact_deg double check (isfinite(crab_at_contact_deg)),
    crab_at_contact_deg_u double check (isfinite(crab_at_contact_deg_u) and crab_at_contact_deg_u >= 0),
    crab_at_contact_deg_reason varchar,
    lateral_drift_kt double check (isfinite(lateral_drift_kt)),
    lateral_drift_kt_u double check (isfinite(lateral_drift_kt_u) and lateral_drift_kt_u >= 0),
    lateral_drift_kt_reason varchar,
    first_main varchar,
    first_main_confidence double check (first_main_confidence between 0 and 1),
    first_main_reason varchar,
    first_main_wind varchar,
    first_main_wind_confidence double check (first_main_wind_confidence between 0 and 1),
    first_main_wind_reason varchar,
    tail_clearance_deg double check (isfinite(tail_clearance_deg)),
    tail_clearance_deg_u double check (isfinite(tail_clearance_deg_u) and tail_clearance_deg_u >= 0),
    tail_clearance_deg_reason varchar,
    flap_at_contact_deg double check (isfinite(flap_at_contact_deg)),
    flap_at_contact_deg_u double check (isfinite(flap_at_contact_deg_u) and flap_at_contact_deg_u >= 0),
    flap_at_contact_deg_reason varchar,
    contact_airspeed_kt double check (isfinite(contact_airspeed_kt)),
    contact_airspeed_kt_u double check (isfinite(contact_airspeed_kt_u) and contact_airspeed_kt_u >= 0),
    contact_airspeed_kt_reason varchar,
    contact_speed_over_vref_kt double check (isfinite(contact_speed_over_vref_kt)),
    contact_speed_over_vref_kt_u double check (isfinite(contact_speed_over_vref_kt_u) and contact_speed_over_vref_kt_u >= 0),
    contact_speed_over_vref_kt_reason varchar,
    touchdown_distance_ft double check (isfinite(touchdown_distance_ft)),
    touchdown_distance_ft_u double check (isfinite(touchdown_distance_ft_u) and touchdown_distance_ft_u >= 0),
    touchdown_distance_ft_reason varchar,
    settled_distance_ft double check (isfinite(settled_distance_ft)),
    settled_distance_ft_u double check (isfinite(settled_distance_ft_u) and settled_distance_ft_u >= 0),
    settled_distance_ft_reason varchar,
    distance_from_50ft_ft double check (isfinite(distance_from_50ft_ft)),
    distance_from_50ft_ft_u double check (isfinite(distance_from_50ft_ft_u) and distance_from_50ft_ft_u >= 0),
    distance_from_50ft_ft_reason varchar,
    distance_from_aim_point_ft double check (isfinite(distance_from_aim_point_ft)),
    distance_from_aim_point_ft_u double check (isfinite(distance_from_aim_point_ft_u) and distance_from_aim_point_ft_u >= 0),
    distance_from_aim_point_ft_reason varchar,
    touchdown_lateral_ft double check (isfinite(touchdown_lateral_ft)),
    touchdown_lateral_ft_u double check (isfinite(touchdown_lateral_ft_u) and touchdown_lateral_ft_u >= 0),
    touchdown_lateral_ft_reason varchar,
    runway_used_pct double check (isfinite(runway_used_pct)),
    runway_used_pct_u double check (isfinite(runway_used_pct_u) and runway_used_pct_u >= 0),
    runway_used_pct_reason varchar,
    runway_remaining_ft double check (isfinite(runway_remaining_ft)),
    runway_remaining_ft_u double check (isfinite(runway_remaining_ft_u) and runway_remaining_ft_u >= 0),
    runway_remaining_ft_reason varchar,
    in_touchdown_zone boolean,
    in_touchdown_zone_confidence double check (in_touchdown_zone_confidence between 0 and 1),
    in_touchdown_zone_reason varchar,
    bounces bigint,
    bounces_confidence double check (bounces_confidence between 0 and 1),
    bounces_reason varchar,
    nose_lag_s double check (isfinite(nose_lag_s)),
    nose_lag_s_u double check (isfinite(nose_lag_s_u) and nose_lag_s_u >= 0),
    nose_lag_s_reason varchar,
    nose_rate_dps double check (isfinite(nose_rate_dps)),
    nose_rate_dps_u double check (isfinite(nose_rate_dps_u) and nose_rate_dps_u >= 0),
    nose_rate_dps_reason varchar,
    spoiler_lag_s double check (isfinite(spoiler_lag_s)),
    spoiler_lag_s_u double check (isfinite(spoiler_lag_s_u) and spoiler_lag_s_u >= 0),
    spoiler_lag_s_reason varchar,
    reverse_lag_s double check (isfinite(reverse_lag_s)),
    reverse_lag_s_u double check (isfinite(reverse_lag_s_u) and reverse_lag_s_u >= 0),
    reverse_lag_s_reason varchar,
    brake_lag_s double check (isfinite(brake_lag_s)),
    brake_lag_s_u double check (isfinite(brake_lag_s_u) and brake_lag_s_u >= 0),
    brake_lag_s_reason varchar,
    mean_deceleration_g double check (isfinite(mean_deceleration_g)),
    mean_deceleration_g_u double check (isfinite(mean_deceleration_g_u) and mean_deceleration_g_u >= 0),
    mean_deceleration_g_reason varchar,
    peak_deceleration_g double check (isfinite(peak_deceleration_g)),
    peak_deceleration_g_u double check (isfinite(peak_deceleration_g_u) and peak_deceleration_g_u >= 0),
    peak_deceleration_g_reason varchar,
    time_to_100kt_s double check (isfinite(time_to_100kt_s)),
    time_to_100kt_s_u double check (isfinite(time_to_100kt_s_u) and time_to_100kt_s_u >= 0),
    time_to_100kt_s_reason varchar,
    distance_to_100kt_ft double check (isfinite(distance_to_100kt_ft)),
    distance_to_100kt_ft_u double check (isfinite(distance_to_100kt_ft_u) and distance_to_100kt_ft_u >= 0),
    distance_to_100kt_ft_reason varchar,
    time_to_80kt_s double check (isfinite(time_to_80kt_s)),
    time_to_80kt_s_u double check (isfinite(time_to_80kt_s_u) and time_to_80kt_s_u >= 0),
    time_to_80kt_s_reason varchar,
    distance_to_80kt_ft double check (isfinite(distance_to_80kt_ft)),
    distance_to_80kt_ft_u double check (isfinite(distance_to_80kt_ft_u) and distance_to_80kt_ft_u >= 0),
    distance_to_80kt_ft_reason varchar,
    time_to_60kt_s double check (isfinite(time_to_60kt_s)),
    time_to_60kt_s_u double check (isfinite(time_to_60kt_s_u) and time_to_60kt_s_u >= 0),
    time_to_60kt_s_reason varchar,
    distance_to_60kt_ft double check (isfinite(distance_to_60kt_ft)),
    distance_to_60kt_ft_u double check (isfinite(distance_to_60kt_ft_u) and distance_to_60kt_ft_u >= 0),
    distance_to_60kt_ft_reason varchar,
    rollout_lateral_max_ft double check (isfinite(rollout_lateral_max_ft)),
    rollout_lateral_max_ft_u double check (isfinite(rollout_lateral_max_ft_u) and rollout_lateral_max_ft_u >= 0),
    rollout_lateral_max_ft_reason varchar,
    runway_left_at_60kt_ft double check (isfinite(runway_left_at_60kt_ft)),
    runway_left_at_60kt_ft_u double check (isfinite(runway_left_at_60kt_ft_u) and runway_left_at_60kt_ft_u >= 0),
    runway_left_at_60kt_ft_reason varchar,
    primary key (landing_id, measured_key)
);

insert into measurement by name
select
    *,
    'earlier_definition' as gate_1000_localiser_deg_reason,
    'earlier_definition' as gate_1000_glideslope_deg_reason,
    'earlier_definition' as gate_500_localiser_deg_reason,
    'earlier_definition' as gate_500_glideslope_deg_reason,
    'earlier_definition' as gate_500_first_break_reason,
    'earlier_definition' as gate_500_first_break_height_ft_reason,
    'earlier_definition' as gate_500_first_break_duration_s_reason,
    'earlier_definition' as stable_to_threshold_reason,
    'earlier_definition' as continued_unstable_reason,
    'earlier_definition' as approach_engine_speed_pct_reason,
    'earlier_definition' as approach_pitch_sd_deg_reason,
    'earlier_definition' as approach_thrust_sd_pct_reason,
    'earlier_definition' as approach_airspeed_sd_kt_reason,
    'earlier_definition' as approach_vertical_speed_sd_fpm_reason,
    'earlier_definition' as lowest_glideslope_dots_reason,
    'earlier_definition' as lowest_path_deg_reason,
    'earlier_definition' as autopilot_off_ft_reason,
    'earlier_definition' as autothrottle_off_ft_reason,
    'earlier_definition' as density_ratio_reason,
    'earlier_definition' as runway_elevation_ft_reason,
    'earlier_definition' as runway_slope_pct_reason,
    'earlier_definition' as gross_weight_kg_reason,
    'earlier_definition' as threshold_height_over_design_ft_reason,
    'earlier_definition' as threshold_headwind_kt_reason,
    'earlier_definition' as threshold_crosswind_kt_reason,
    'earlier_definition' as threshold_energy_ft_reason,
    'earlier_definition' as flare_height_path_ft_reason,
    'earlier_definition' as flare_disagreement_ft_reason,
    'earlier_definition' as pitch_reversals_reason,
    'earlier_definition' as decrab_height_ft_reason,
    'earlier_definition' as earth_vertical_speed_at_contact_fpm_reason,
    'earlier_definition' as touching_wheel_vertical_speed_fpm_reason,
    'earlier_definition' as normal_accel_rate_hz_reason,
    'earlier_definition' as peak_g_firmest_reason,
    'earlier_definition' as firmest_contact_reason,
    'earlier_definition' as roll_into_wind_at_contact_deg_reason,
    'earlier_definition' as crab_at_contact_deg_reason,
    'earlier_definition' as lateral_drift_kt_reason,
    'earlier_definition' as first_main_reason,
    'earlier_definition' as first_main_wind_reason,
    'earlier_definition' as tail_clearance_deg_reason,
    'earlier_definition' as flap_at_contact_deg_reason,
    'earlier_definition' as settled_distance_ft_reason,
    'earlier_definition' as nose_lag_s_reason,
    'earlier_definition' as nose_rate_dps_reason,
    'earlier_definition' as spoiler_lag_s_reason,
    'earlier_definition' as reverse_lag_s_reason,
    'earlier_definition' as brake_lag_s_reason,
    'earlier_definition' as mean_deceleration_g_reason,
    'earlier_definition' as peak_deceleration_g_reason,
    'earlier_definition' as time_to_100kt_s_reason,
    'earlier_definition' as distance_to_100kt_ft_reason,
    'earlier_definition' as time_to_80kt_s_reason,
    'earlier_definition' as distance_to_80kt_ft_reason,
    'earlier_definition' as time_to_60kt_s_reason,
    'earlier_definition' as distance_to_60kt_ft_reason,
    'earlier_definition' as rollout_lateral_max_ft_reason,
    'earlier_definition' as runway_left_at_60kt_ft_reason
from measurement_before;

drop table measurement_before;

comment on column measurement.landing_id is 'Landing measured: first 16 hexadecimal digits of the hash of log and approach index.';
comment on column measurement.measured_key is 'Hash of the inputs and of the result to a thousandth of each unit; a different measurement has a different key.';
comment on column measurement.definition is 'Version of the definitions of the measures.';
comment on column measurement.constants is 'Version of the gear and recorder constants used; none where none were.';
comment on column measurement.policy_sha256 is 'Hash of the policy that verdicts were judged by.';
comment on column measurement.map_sha256 is 'Hash of the channel map the log was read with.';
comment on column measurement.runways_sha256 is 'Hash of the runway table used; null where there was none.';
comment on column measurement.superseded_at is 'UTC instant at which another measurement took this one''s place; null for the current one.';
comment on column measurement.gate_1000_stable is 'Every criterion the log can show is met at 1000 ft, on the median of the 2 s before it.';
comment on column measurement.gate_1000_stable_confidence is 'Confidence in gate_1000_stable, 0 to 1.';
comment on column measurement.gate_1000_stable_reason is 'Why gate_1000_stable is null; null where it has a value.';
comment on column measurement.gate_1000_failed is 'The criteria not met at 1000 ft, separated by spaces; empty where all are met.';
comment on column measurement.gate_1000_failed_confidence is 'Confidence in gate_1000_failed, 0 to 1.';
comment on column measurement.gate_1000_failed_reason is 'Why gate_1000_failed is null; null where it has a value.';
comment on column measurement.gate_1000_not_judged is 'The criteria without channel or reference at 1000 ft, separated by spaces.';
comment on column measurement.gate_1000_not_judged_confidence is 'Confidence in gate_1000_not_judged, 0 to 1.';
comment on column measurement.gate_1000_not_judged_reason is 'Why gate_1000_not_judged is null; null where it has a value.';
comment on column measurement.gate_1000_speed_over_target_kt is 'Airspeed minus target speed; the target is the manifest''s, else Vref plus the wind additive, else Vref. Unit: kt.';
comment on column measurement.gate_1000_speed_over_target_kt_u is 'Standard uncertainty of gate_1000_speed_over_target_kt. Unit: kt.';
comment on column measurement.gate_1000_speed_over_target_kt_reason is 'Why gate_1000_speed_over_target_kt is null; null where it has a value.';
comment on column measurement.gate_1000_sink_fpm is 'Sink, positive down. Unit: ft/min.';
comment on column measurement.gate_1000_sink_fpm_u is 'Standard uncertainty of gate_1000_sink_fpm. Unit: ft/min.';
comment on column measurement.gate_1000_sink_fpm_reason is 'Why gate_1000_sink_fpm is null; null where it has a value.';
comment on column measurement.gate_1000_localiser_dots is 'Deviation from the localiser, positive right of course. Unit: dots.';
comment on column measurement.gate_1000_localiser_dots_u is 'Standard uncertainty of gate_1000_localiser_dots. Unit: dots.';
comment on column measurement.gate_1000_localiser_dots_reason is 'Why gate_1000_localiser_dots is null; null where it has a value.';
comment on column measurement.gate_1000_localiser_deg is 'Deviation from the localiser as an angle, positive right of course; two dots are the angle of 350 ft at the threshold, seen from the localiser''s antenna. Unit: deg.';
comment on column measurement.gate_1000_localiser_deg_u is 'Standard uncertainty of gate_1000_localiser_deg. Unit: deg.';
comment on column measurement.gate_1000_localiser_deg_reason is 'Why gate_1000_localiser_deg is null; null where it has a value.';
comment on column measurement.gate_1000_glideslope_dots is 'Deviation from the glideslope, positive above path. Unit: dots.';
comment on column measurement.gate_1000_glideslope_dots_u is 'Standard uncertainty of gate_1000_glideslope_dots. Unit: dots.';
comment on column measurement.gate_1000_glideslope_dots_reason is 'Why gate_1000_glideslope_dots is null; null where it has a value.';
comment on column measurement.gate_1000_glideslope_deg is 'Deviation from the glideslope as an angle, positive above path; one dot is 0.35 deg. Unit: deg.';
comment on column measurement.gate_1000_glideslope_deg_u is 'Standard uncertainty of gate_1000_glideslope_deg. Unit: deg.';
comment on column measurement.gate_1000_glideslope_deg_reason is 'Why gate_1000_glideslope_deg is null; null where it has a value.';
comment on column measurement.gate_1000_bank_deg is 'Greatest bank angle in the 2 s before the gate, without sign. Unit: deg.';
comment on column measurement.gate_1000_bank_deg_u is 'Standard uncertainty of gate_1000_bank_deg. Unit: deg.';
comment on column measurement.gate_1000_bank_deg_reason is 'Why gate_1000_bank_deg is null; null where it has a value.';
comment on column measurement.gate_1000_thrust_pct is 'Thrust lever, 0 at the idle stop and 100 full forward. Unit: %.';
comment on column measurement.gate_1000_thrust_pct_u is 'Standard uncertainty of gate_1000_thrust_pct. Unit: %.';
comment on column measurement.gate_1000_thrust_pct_reason is 'Why gate_1000_thrust_pct is null; null where it has a value.';
comment on column measurement.gate_1000_flap_deg is 'Flap angle. Unit: deg.';
comment on column measurement.gate_1000_flap_deg_u is 'Standard uncertainty of gate_1000_flap_deg. Unit: deg.';
comment on column measurement.gate_1000_flap_deg_reason is 'Why gate_1000_flap_deg is null; null where it has a value.';
comment on column measurement.gate_1000_gear_down is 'Landing gear down.';
comment on column measurement.gate_1000_gear_down_confidence is 'Confidence in gate_1000_gear_down, 0 to 1.';
comment on column measurement.gate_1000_gear_down_reason is 'Why gate_1000_gear_down is null; null where it has a value.';
comment on column measurement.gate_500_stable is 'Every criterion the log can show is met at 500 ft, on the median of the 2 s before it.';
comment on column measurement.gate_500_stable_confidence is 'Confidence in gate_500_stable, 0 to 1.';
comment on column measurement.gate_500_stable_reason is 'Why gate_500_stable is null; null where it has a value.';
comment on column measurement.gate_500_failed is 'The criteria not met at 500 ft, separated by spaces; empty where all are met.';
comment on column measurement.gate_500_failed_confidence is 'Confidence in gate_500_failed, 0 to 1.';
comment on column measurement.gate_500_failed_reason is 'Why gate_500_failed is null; null where it has a value.';
comment on column measurement.gate_500_not_judged is 'The criteria without channel or reference at 500 ft, separated by spaces.';
comment on column measurement.gate_500_not_judged_confidence is 'Confidence in gate_500_not_judged, 0 to 1.';
comment on column measurement.gate_500_not_judged_reason is 'Why gate_500_not_judged is null; null where it has a value.';
comment on column measurement.gate_500_speed_over_target_kt is 'Airspeed minus target speed; the target is the manifest''s, else Vref plus the wind additive, else Vref. Unit: kt.';
comment on column measurement.gate_500_speed_over_target_kt_u is 'Standard uncertainty of gate_500_speed_over_target_kt. Unit: kt.';
comment on column measurement.gate_500_speed_over_target_kt_reason is 'Why gate_500_speed_over_target_kt is null; null where it has a value.';
comment on column measurement.gate_500_sink_fpm is 'Sink, positive down. Unit: ft/min.';
comment on column measurement.gate_500_sink_fpm_u is 'Standard uncertainty of gate_500_sink_fpm. Unit: ft/min.';
comment on column measurement.gate_500_sink_fpm_reason is 'Why gate_500_sink_fpm is null; null where it has a value.';
comment on column measurement.gate_500_localiser_dots is 'Deviation from the localiser, positive right of course. Unit: dots.';
comment on column measurement.gate_500_localiser_dots_u is 'Standard uncertainty of gate_500_localiser_dots. Unit: dots.';
comment on column measurement.gate_500_localiser_dots_reason is 'Why gate_500_localiser_dots is null; null where it has a value.';
comment on column measurement.gate_500_localiser_deg is 'Deviation from the localiser as an angle, positive right of course; two dots are the angle of 350 ft at the threshold, seen from the localiser''s antenna. Unit: deg.';
comment on column measurement.gate_500_localiser_deg_u is 'Standard uncertainty of gate_500_localiser_deg. Unit: deg.';
comment on column measurement.gate_500_localiser_deg_reason is 'Why gate_500_localiser_deg is null; null where it has a value.';
comment on column measurement.gate_500_glideslope_dots is 'Deviation from the glideslope, positive above path. Unit: dots.';
comment on column measurement.gate_500_glideslope_dots_u is 'Standard uncertainty of gate_500_glideslope_dots. Unit: dots.';
comment on column measurement.gate_500_glideslope_dots_reason is 'Why gate_500_glideslope_dots is null; null where it has a value.';
comment on column measurement.gate_500_glideslope_deg is 'Deviation from the glideslope as an angle, positive above path; one dot is 0.35 deg. Unit: deg.';
comment on column measurement.gate_500_glideslope_deg_u is 'Standard uncertainty of gate_500_glideslope_deg. Unit: deg.';
comment on column measurement.gate_500_glideslope_deg_reason is 'Why gate_500_glideslope_deg is null; null where it has a value.';
comment on column measurement.gate_500_bank_deg is 'Greatest bank angle in the 2 s before the gate, without sign. Unit: deg.';
comment on column measurement.gate_500_bank_deg_u is 'Standard uncertainty of gate_500_bank_deg. Unit: deg.';
comment on column measurement.gate_500_bank_deg_reason is 'Why gate_500_bank_deg is null; null where it has a value.';
comment on column measurement.gate_500_thrust_pct is 'Thrust lever, 0 at the idle stop and 100 full forward. Unit: %.';
comment on column measurement.gate_500_thrust_pct_u is 'Standard uncertainty of gate_500_thrust_pct. Unit: %.';
comment on column measurement.gate_500_thrust_pct_reason is 'Why gate_500_thrust_pct is null; null where it has a value.';
comment on column measurement.gate_500_flap_deg is 'Flap angle. Unit: deg.';
comment on column measurement.gate_500_flap_deg_u is 'Standard uncertainty of gate_500_flap_deg. Unit: deg.';
comment on column measurement.gate_500_flap_deg_reason is 'Why gate_500_flap_deg is null; null where it has a value.';
comment on column measurement.gate_500_gear_down is 'Landing gear down.';
comment on column measurement.gate_500_gear_down_confidence is 'Confidence in gate_500_gear_down, 0 to 1.';
comment on column measurement.gate_500_gear_down_reason is 'Why gate_500_gear_down is null; null where it has a value.';
comment on column measurement.gate_500_first_break is 'The criterion that is first broken for 2 s or more between 500 and 50 ft.';
comment on column measurement.gate_500_first_break_confidence is 'Confidence in gate_500_first_break, 0 to 1.';
comment on column measurement.gate_500_first_break_reason is 'Why gate_500_first_break is null; null where it has a value.';
comment on column measurement.gate_500_first_break_height_ft is 'Height at which that first break begins. Unit: ft.';
comment on column measurement.gate_500_first_break_height_ft_u is 'Standard uncertainty of gate_500_first_break_height_ft. Unit: ft.';
comment on column measurement.gate_500_first_break_height_ft_reason is 'Why gate_500_first_break_height_ft is null; null where it has a value.';
comment on column measurement.gate_500_first_break_duration_s is 'How long that first break lasts, at most down to 50 ft. Unit: s.';
comment on column measurement.gate_500_first_break_duration_s_u is 'Standard uncertainty of gate_500_first_break_duration_s. Unit: s.';
comment on column measurement.gate_500_first_break_duration_s_reason is 'Why gate_500_first_break_duration_s is null; null where it has a value.';
comment on column measurement.stable_to_threshold is 'The gate at 500 ft is met, and no criterion the log can show is broken for 2 s from there down to 50 ft.';
comment on column measurement.stable_to_threshold_confidence is 'Confidence in stable_to_threshold, 0 to 1.';
comment on column measurement.stable_to_threshold_reason is 'Why stable_to_threshold is null; null where it has a value.';
comment on column measurement.continued_unstable is 'The gate at 500 ft is not met, and the wheels touched all the same.';
comment on column measurement.continued_unstable_confidence is 'Confidence in continued_unstable, 0 to 1.';
comment on column measurement.continued_unstable_reason is 'Why continued_unstable is null; null where it has a value.';
comment on column measurement.approach_path_deg is 'Angle of descent between 500 and 100 ft; 3 is a three-degree descent. Unit: deg.';
comment on column measurement.approach_path_deg_u is 'Standard uncertainty of approach_path_deg. Unit: deg.';
comment on column measurement.approach_path_deg_reason is 'Why approach_path_deg is null; null where it has a value.';
comment on column measurement.approach_pitch_deg is 'Mean pitch between 500 and 100 ft. Unit: deg.';
comment on column measurement.approach_pitch_deg_u is 'Standard uncertainty of approach_pitch_deg. Unit: deg.';
comment on column measurement.approach_pitch_deg_reason is 'Why approach_pitch_deg is null; null where it has a value.';
comment on column measurement.approach_thrust_pct is 'Mean thrust lever between 500 and 100 ft. Unit: %.';
comment on column measurement.approach_thrust_pct_u is 'Standard uncertainty of approach_thrust_pct. Unit: %.';
comment on column measurement.approach_thrust_pct_reason is 'Why approach_thrust_pct is null; null where it has a value.';
comment on column measurement.approach_engine_speed_pct is 'Mean engine speed between 500 and 100 ft. Unit: %.';
comment on column measurement.approach_engine_speed_pct_u is 'Standard uncertainty of approach_engine_speed_pct. Unit: %.';
comment on column measurement.approach_engine_speed_pct_reason is 'Why approach_engine_speed_pct is null; null where it has a value.';
comment on column measurement.approach_pitch_sd_deg is 'Standard deviation of pitch between 500 and 100 ft, averaged over 1 s, recorder noise taken out. Unit: deg.';
comment on column measurement.approach_pitch_sd_deg_u is 'Standard uncertainty of approach_pitch_sd_deg. Unit: deg.';
comment on column measurement.approach_pitch_sd_deg_reason is 'Why approach_pitch_sd_deg is null; null where it has a value.';
comment on column measurement.approach_thrust_sd_pct is 'Standard deviation of the thrust lever between 500 and 100 ft, averaged over 1 s, recorder noise taken out. Unit: %.';
comment on column measurement.approach_thrust_sd_pct_u is 'Standard uncertainty of approach_thrust_sd_pct. Unit: %.';
comment on column measurement.approach_thrust_sd_pct_reason is 'Why approach_thrust_sd_pct is null; null where it has a value.';
comment on column measurement.approach_airspeed_sd_kt is 'Standard deviation of airspeed between 500 and 100 ft, averaged over 1 s, recorder noise taken out. Unit: kt.';
comment on column measurement.approach_airspeed_sd_kt_u is 'Standard uncertainty of approach_airspeed_sd_kt. Unit: kt.';
comment on column measurement.approach_airspeed_sd_kt_reason is 'Why approach_airspeed_sd_kt is null; null where it has a value.';
comment on column measurement.approach_vertical_speed_sd_fpm is 'Standard deviation of vertical speed between 500 and 100 ft, averaged over 1 s, recorder noise taken out. Unit: ft/min.';
comment on column measurement.approach_vertical_speed_sd_fpm_u is 'Standard uncertainty of approach_vertical_speed_sd_fpm. Unit: ft/min.';
comment on column measurement.approach_vertical_speed_sd_fpm_reason is 'Why approach_vertical_speed_sd_fpm is null; null where it has a value.';
comment on column measurement.lowest_glideslope_dots is 'Lowest deviation from the glideslope held for 1 s between 500 and 100 ft, positive above path. Unit: dots.';
comment on column measurement.lowest_glideslope_dots_u is 'Standard uncertainty of lowest_glideslope_dots. Unit: dots.';
comment on column measurement.lowest_glideslope_dots_reason is 'Why lowest_glideslope_dots is null; null where it has a value.';
comment on column measurement.lowest_path_deg is 'Smallest angle at which the main wheels stood above the runway''s aim point between 500 and 100 ft. Unit: deg.';
comment on column measurement.lowest_path_deg_u is 'Standard uncertainty of lowest_path_deg. Unit: deg.';
comment on column measurement.lowest_path_deg_reason is 'Why lowest_path_deg is null; null where it has a value.';
comment on column measurement.autopilot_off_ft is 'Height at which the autopilot was last disengaged before first contact. Unit: ft.';
comment on column measurement.autopilot_off_ft_u is 'Standard uncertainty of autopilot_off_ft. Unit: ft.';
comment on column measurement.autopilot_off_ft_reason is 'Why autopilot_off_ft is null; null where it has a value.';
comment on column measurement.autothrottle_off_ft is 'Height at which autothrust was last disengaged before first contact. Unit: ft.';
comment on column measurement.autothrottle_off_ft_u is 'Standard uncertainty of autothrottle_off_ft. Unit: ft.';
comment on column measurement.autothrottle_off_ft_reason is 'Why autothrottle_off_ft is null; null where it has a value.';
comment on column measurement.turbulence_g is 'Spread of normal acceleration between 500 and 50 ft, above the band a pilot''s control reaches. Unit: g.';
comment on column measurement.turbulence_g_u is 'Standard uncertainty of turbulence_g. Unit: g.';
comment on column measurement.turbulence_g_reason is 'Why turbulence_g is null; null where it has a value.';
comment on column measurement.headwind_kt is 'Wind along the runway, positive from ahead. Unit: kt.';
comment on column measurement.headwind_kt_u is 'Standard uncertainty of headwind_kt. Unit: kt.';
comment on column measurement.headwind_kt_reason is 'Why headwind_kt is null; null where it has a value.';
comment on column measurement.crosswind_kt is 'Wind across the runway, positive from the right. Unit: kt.';
comment on column measurement.crosswind_kt_u is 'Standard uncertainty of crosswind_kt. Unit: kt.';
comment on column measurement.crosswind_kt_reason is 'Why crosswind_kt is null; null where it has a value.';
comment on column measurement.gust_spread_kt is 'Reported gust minus reported wind; null where no gust was reported. Unit: kt.';
comment on column measurement.gust_spread_kt_u is 'Standard uncertainty of gust_spread_kt. Unit: kt.';
comment on column measurement.gust_spread_kt_reason is 'Why gust_spread_kt is null; null where it has a value.';
comment on column measurement.density_ratio is 'Air density at the runway over that of the standard atmosphere at sea level, at standard temperature for the height.';
comment on column measurement.density_ratio_u is 'Standard uncertainty of density_ratio.';
comment on column measurement.density_ratio_reason is 'Why density_ratio is null; null where it has a value.';
comment on column measurement.runway_elevation_ft is 'Elevation of the landing threshold. Unit: ft.';
comment on column measurement.runway_elevation_ft_u is 'Standard uncertainty of runway_elevation_ft. Unit: ft.';
comment on column measurement.runway_elevation_ft_reason is 'Why runway_elevation_ft is null; null where it has a value.';
comment on column measurement.runway_slope_pct is 'Slope of the runway in the landing direction, positive uphill. Unit: %.';
comment on column measurement.runway_slope_pct_u is 'Standard uncertainty of runway_slope_pct. Unit: %.';
comment on column measurement.runway_slope_pct_reason is 'Why runway_slope_pct is null; null where it has a value.';
comment on column measurement.gross_weight_kg is 'Gross weight at landing, recorded, else the manifest''s. Unit: kg.';
comment on column measurement.gross_weight_kg_u is 'Standard uncertainty of gross_weight_kg. Unit: kg.';
comment on column measurement.gross_weight_kg_reason is 'Why gross_weight_kg is null; null where it has a value.';
comment on column measurement.threshold_height_ft is 'Height of the main wheels above the runway at the landing threshold. Unit: ft.';
comment on column measurement.threshold_height_ft_u is 'Standard uncertainty of threshold_height_ft. Unit: ft.';
comment on column measurement.threshold_height_ft_reason is 'Why threshold_height_ft is null; null where it has a value.';
comment on column measurement.threshold_height_over_design_ft is 'Height of the main wheels at the landing threshold minus the crossing height of the runway''s glide path. Unit: ft.';
comment on column measurement.threshold_height_over_design_ft_u is 'Standard uncertainty of threshold_height_over_design_ft. Unit: ft.';
comment on column measurement.threshold_height_over_design_ft_reason is 'Why threshold_height_over_design_ft is null; null where it has a value.';
comment on column measurement.threshold_airspeed_kt is 'Airspeed at the landing threshold. Unit: kt.';
comment on column measurement.threshold_airspeed_kt_u is 'Standard uncertainty of threshold_airspeed_kt. Unit: kt.';
comment on column measurement.threshold_airspeed_kt_reason is 'Why threshold_airspeed_kt is null; null where it has a value.';
comment on column measurement.threshold_speed_over_vref_kt is 'Airspeed at the landing threshold minus Vref. Unit: kt.';
comment on column measurement.threshold_speed_over_vref_kt_u is 'Standard uncertainty of threshold_speed_over_vref_kt. Unit: kt.';
comment on column measurement.threshold_speed_over_vref_kt_reason is 'Why threshold_speed_over_vref_kt is null; null where it has a value.';
comment on column measurement.threshold_sink_fpm is 'Sink at the landing threshold, positive down. Unit: ft/min.';
comment on column measurement.threshold_sink_fpm_u is 'Standard uncertainty of threshold_sink_fpm. Unit: ft/min.';
comment on column measurement.threshold_sink_fpm_reason is 'Why threshold_sink_fpm is null; null where it has a value.';
comment on column measurement.threshold_lateral_ft is 'Offset from the centreline at the landing threshold, positive right. Unit: ft.';
comment on column measurement.threshold_lateral_ft_u is 'Standard uncertainty of threshold_lateral_ft. Unit: ft.';
comment on column measurement.threshold_lateral_ft_reason is 'Why threshold_lateral_ft is null; null where it has a value.';
comment on column measurement.threshold_headwind_kt is 'Wind along the runway in the 5 s about the landing threshold, positive from ahead. Unit: kt.';
comment on column measurement.threshold_headwind_kt_u is 'Standard uncertainty of threshold_headwind_kt. Unit: kt.';
comment on column measurement.threshold_headwind_kt_reason is 'Why threshold_headwind_kt is null; null where it has a value.';
comment on column measurement.threshold_crosswind_kt is 'Wind across the runway in the 5 s about the landing threshold, positive from the right. Unit: kt.';
comment on column measurement.threshold_crosswind_kt_u is 'Standard uncertainty of threshold_crosswind_kt. Unit: kt.';
comment on column measurement.threshold_crosswind_kt_reason is 'Why threshold_crosswind_kt is null; null where it has a value.';
comment on column measurement.threshold_energy_ft is 'Height at the landing threshold plus the height that speed beyond Vref is worth, (V^2 - Vref^2) / 2g in true airspeed. Unit: ft.';
comment on column measurement.threshold_energy_ft_u is 'Standard uncertainty of threshold_energy_ft. Unit: ft.';
comment on column measurement.threshold_energy_ft_reason is 'Why threshold_energy_ft is null; null where it has a value.';
comment on column measurement.flare_height_ft is 'Height of the main wheels when pitch stands 0.3 deg above the line it followed before the nose-up rotation. Unit: ft.';
comment on column measurement.flare_height_ft_u is 'Standard uncertainty of flare_height_ft. Unit: ft.';
comment on column measurement.flare_height_ft_reason is 'Why flare_height_ft is null; null where it has a value.';
comment on column measurement.flare_height_path_ft is 'Height of the main wheels when the path alone left its straight descent, whatever the nose did. Unit: ft.';
comment on column measurement.flare_height_path_ft_u is 'Standard uncertainty of flare_height_path_ft. Unit: ft.';
comment on column measurement.flare_height_path_ft_reason is 'Why flare_height_path_ft is null; null where it has a value.';
comment on column measurement.flare_disagreement_ft is 'Flare height by pitch minus flare height by the path. Unit: ft.';
comment on column measurement.flare_disagreement_ft_u is 'Standard uncertainty of flare_disagreement_ft. Unit: ft.';
comment on column measurement.flare_disagreement_ft_reason is 'Why flare_disagreement_ft is null; null where it has a value.';
comment on column measurement.flare_time_s is 'From flare start to first contact. Unit: s.';
comment on column measurement.flare_time_s_u is 'Standard uncertainty of flare_time_s. Unit: s.';
comment on column measurement.flare_time_s_reason is 'Why flare_time_s is null; null where it has a value.';
comment on column measurement.flare_distance_ft is 'Ground covered from flare start to first contact. Unit: ft.';
comment on column measurement.flare_distance_ft_u is 'Standard uncertainty of flare_distance_ft. Unit: ft.';
comment on column measurement.flare_distance_ft_reason is 'Why flare_distance_ft is null; null where it has a value.';
comment on column measurement.pitch_at_flare_deg is 'Value at flare start of the line pitch followed before it. Unit: deg.';
comment on column measurement.pitch_at_flare_deg_u is 'Standard uncertainty of pitch_at_flare_deg. Unit: deg.';
comment on column measurement.pitch_at_flare_deg_reason is 'Why pitch_at_flare_deg is null; null where it has a value.';
comment on column measurement.pitch_change_deg is 'From that line to the end of the first sustained nose-up rotation. Unit: deg.';
comment on column measurement.pitch_change_deg_u is 'Standard uncertainty of pitch_change_deg. Unit: deg.';
comment on column measurement.pitch_change_deg_reason is 'Why pitch_change_deg is null; null where it has a value.';
comment on column measurement.pitch_rate_dps is 'Mean pitch rate over that rotation, positive nose up. Unit: deg/s.';
comment on column measurement.pitch_rate_dps_u is 'Standard uncertainty of pitch_rate_dps. Unit: deg/s.';
comment on column measurement.pitch_rate_dps_reason is 'Why pitch_rate_dps is null; null where it has a value.';
comment on column measurement.pitch_reversals is 'Times the nose turned back between flare start and contact by more than 0.3 deg and more than the noise.';
comment on column measurement.pitch_reversals_confidence is 'Confidence in pitch_reversals, 0 to 1.';
comment on column measurement.pitch_reversals_reason is 'Why pitch_reversals is null; null where it has a value.';
comment on column measurement.height_regained_ft is 'Largest climb between flare start and contact; 0 where there was none. Unit: ft.';
comment on column measurement.height_regained_ft_u is 'Standard uncertainty of height_regained_ft. Unit: ft.';
comment on column measurement.height_regained_ft_reason is 'Why height_regained_ft is null; null where it has a value.';
comment on column measurement.thrust_close_height_ft is 'Height of the main wheels where the final lever movement to idle begins. Unit: ft.';
comment on column measurement.thrust_close_height_ft_u is 'Standard uncertainty of thrust_close_height_ft. Unit: ft.';
comment on column measurement.thrust_close_height_ft_reason is 'Why thrust_close_height_ft is null; null where it has a value.';
comment on column measurement.thrust_close_lag_s is 'Start of the final lever movement minus flare start; negative where thrust went first. Unit: s.';
comment on column measurement.thrust_close_lag_s_u is 'Standard uncertainty of thrust_close_lag_s. Unit: s.';
comment on column measurement.thrust_close_lag_s_reason is 'Why thrust_close_lag_s is null; null where it has a value.';
comment on column measurement.thrust_close_time_s is 'From the start of the final lever movement to idle. Unit: s.';
comment on column measurement.thrust_close_time_s_u is 'Standard uncertainty of thrust_close_time_s. Unit: s.';
comment on column measurement.thrust_close_time_s_reason is 'Why thrust_close_time_s is null; null where it has a value.';
comment on column measurement.idle_before_contact_s is 'From idle to contact; negative where thrust was still on at contact. Unit: s.';
comment on column measurement.idle_before_contact_s_u is 'Standard uncertainty of idle_before_contact_s. Unit: s.';
comment on column measurement.idle_before_contact_s_reason is 'Why idle_before_contact_s is null; null where it has a value.';
comment on column measurement.thrust_at_contact_pct is 'Thrust lever at first contact. Unit: %.';
comment on column measurement.thrust_at_contact_pct_u is 'Standard uncertainty of thrust_at_contact_pct. Unit: %.';
comment on column measurement.thrust_at_contact_pct_reason is 'Why thrust_at_contact_pct is null; null where it has a value.';
comment on column measurement.pitch_after_close_deg is 'Pitch at contact minus pitch at the later of rotation end and lever idle; negative where the nose dropped. Unit: deg.';
comment on column measurement.pitch_after_close_deg_u is 'Standard uncertainty of pitch_after_close_deg. Unit: deg.';
comment on column measurement.pitch_after_close_deg_reason is 'Why pitch_after_close_deg is null; null where it has a value.';
comment on column measurement.pitch_after_close_range_deg is 'Largest minus smallest pitch over that time. Unit: deg.';
comment on column measurement.pitch_after_close_range_deg_u is 'Standard uncertainty of pitch_after_close_range_deg. Unit: deg.';
comment on column measurement.pitch_after_close_range_deg_reason is 'Why pitch_after_close_range_deg is null; null where it has a value.';
comment on column measurement.decrab_height_ft is 'Height of the main wheels when the nose had come 1 deg from the crab of the approach towards the runway. Unit: ft.';
comment on column measurement.decrab_height_ft_u is 'Standard uncertainty of decrab_height_ft. Unit: ft.';
comment on column measurement.decrab_height_ft_reason is 'Why decrab_height_ft is null; null where it has a value.';
comment on column measurement.float_time_s is 'Time below 10 ft before first contact. Unit: s.';
comment on column measurement.float_time_s_u is 'Standard uncertainty of float_time_s. Unit: s.';
comment on column measurement.float_time_s_reason is 'Why float_time_s is null; null where it has a value.';
comment on column measurement.float_distance_ft is 'Ground covered below 10 ft before first contact. Unit: ft.';
comment on column measurement.float_distance_ft_u is 'Standard uncertainty of float_distance_ft. Unit: ft.';
comment on column measurement.float_distance_ft_reason is 'Why float_distance_ft is null; null where it has a value.';
comment on column measurement.speed_bled_kt is 'Airspeed at the threshold minus airspeed at first contact. Unit: kt.';
comment on column measurement.speed_bled_kt_u is 'Standard uncertainty of speed_bled_kt. Unit: kt.';
comment on column measurement.speed_bled_kt_reason is 'Why speed_bled_kt is null; null where it has a value.';
comment on column measurement.vertical_speed_at_contact_fpm is 'Vertical speed of the main wheels relative to the runway surface the instant before first contact, positive up. Unit: ft/min.';
comment on column measurement.vertical_speed_at_contact_fpm_u is 'Standard uncertainty of vertical_speed_at_contact_fpm. Unit: ft/min.';
comment on column measurement.vertical_speed_at_contact_fpm_reason is 'Why vertical_speed_at_contact_fpm is null; null where it has a value.';
comment on column measurement.earth_vertical_speed_at_contact_fpm is 'The same relative to the earth, the runway''s slope left out. Unit: ft/min.';
comment on column measurement.earth_vertical_speed_at_contact_fpm_u is 'Standard uncertainty of earth_vertical_speed_at_contact_fpm. Unit: ft/min.';
comment on column measurement.earth_vertical_speed_at_contact_fpm_reason is 'Why earth_vertical_speed_at_contact_fpm is null; null where it has a value.';
comment on column measurement.touching_wheel_vertical_speed_fpm is 'The same of the main wheel that touches first, with the part that rolling adds. Unit: ft/min.';
comment on column measurement.touching_wheel_vertical_speed_fpm_u is 'Standard uncertainty of touching_wheel_vertical_speed_fpm. Unit: ft/min.';
comment on column measurement.touching_wheel_vertical_speed_fpm_reason is 'Why touching_wheel_vertical_speed_fpm is null; null where it has a value.';
comment on column measurement.peak_g is 'Largest within 1 s of first contact as a 5 Hz low-pass of the true signal would show it. Unit: g.';
comment on column measurement.peak_g_u is 'Standard uncertainty of peak_g. Unit: g.';
comment on column measurement.peak_g_reason is 'Why peak_g is null; null where it has a value.';
comment on column measurement.peak_g_sampled is 'Largest sample within 1 s of first contact. Unit: g.';
comment on column measurement.peak_g_sampled_u is 'Standard uncertainty of peak_g_sampled. Unit: g.';
comment on column measurement.peak_g_sampled_reason is 'Why peak_g_sampled is null; null where it has a value.';
comment on column measurement.normal_accel_rate_hz is 'Samples of normal acceleration a second, beside which the largest sample is read. Unit: Hz.';
comment on column measurement.normal_accel_rate_hz_u is 'Standard uncertainty of normal_accel_rate_hz. Unit: Hz.';
comment on column measurement.normal_accel_rate_hz_reason is 'Why normal_accel_rate_hz is null; null where it has a value.';
comment on column measurement.peak_g_firmest is 'Largest peak normal acceleration over all contacts, bounces included. Unit: g.';
comment on column measurement.peak_g_firmest_u is 'Standard uncertainty of peak_g_firmest. Unit: g.';
comment on column measurement.peak_g_firmest_reason is 'Why peak_g_firmest is null; null where it has a value.';
comment on column measurement.firmest_contact is 'Which contact had the greatest downward speed, 0 for the first.';
comment on column measurement.firmest_contact_confidence is 'Confidence in firmest_contact, 0 to 1.';
comment on column measurement.firmest_contact_reason is 'Why firmest_contact is null; null where it has a value.';
comment on column measurement.pitch_at_contact_deg is 'Pitch at first contact, positive nose up. Unit: deg.';
comment on column measurement.pitch_at_contact_deg_u is 'Standard uncertainty of pitch_at_contact_deg. Unit: deg.';
comment on column measurement.pitch_at_contact_deg_reason is 'Why pitch_at_contact_deg is null; null where it has a value.';
comment on column measurement.roll_at_contact_deg is 'Roll at first contact, positive right wing down. Unit: deg.';
comment on column measurement.roll_at_contact_deg_u is 'Standard uncertainty of roll_at_contact_deg. Unit: deg.';
comment on column measurement.roll_at_contact_deg_reason is 'Why roll_at_contact_deg is null; null where it has a value.';
comment on column measurement.roll_into_wind_at_contact_deg is 'Roll at first contact, positive with the upwind wing down. Unit: deg.';
comment on column measurement.roll_into_wind_at_contact_deg_u is 'Standard uncertainty of roll_into_wind_at_contact_deg. Unit: deg.';
comment on column measurement.roll_into_wind_at_contact_deg_reason is 'Why roll_into_wind_at_contact_deg is null; null where it has a value.';
comment on column measurement.crab_at_contact_deg is 'Heading minus track at first contact, positive nose right. Unit: deg.';
comment on column measurement.crab_at_contact_deg_u is 'Standard uncertainty of crab_at_contact_deg. Unit: deg.';
comment on column measurement.crab_at_contact_deg_reason is 'Why crab_at_contact_deg is null; null where it has a value.';
comment on column measurement.lateral_drift_kt is 'Speed across the runway at first contact, positive to the right. Unit: kt.';
comment on column measurement.lateral_drift_kt_u is 'Standard uncertainty of lateral_drift_kt. Unit: kt.';
comment on column measurement.lateral_drift_kt_reason is 'Why lateral_drift_kt is null; null where it has a value.';
comment on column measurement.first_main is 'Which main wheel touched first by the bank at contact, left or right.';
comment on column measurement.first_main_confidence is 'Confidence in first_main, 0 to 1.';
comment on column measurement.first_main_reason is 'Why first_main is null; null where it has a value.';
comment on column measurement.first_main_wind is 'Whether that was the upwind or the downwind wheel.';
comment on column measurement.first_main_wind_confidence is 'Confidence in first_main_wind, 0 to 1.';
comment on column measurement.first_main_wind_reason is 'Why first_main_wind is null; null where it has a value.';
comment on column measurement.tail_clearance_deg is 'Pitch at which the tail would touch the runway minus pitch at first contact. Unit: deg.';
comment on column measurement.tail_clearance_deg_u is 'Standard uncertainty of tail_clearance_deg. Unit: deg.';
comment on column measurement.tail_clearance_deg_reason is 'Why tail_clearance_deg is null; null where it has a value.';
comment on column measurement.flap_at_contact_deg is 'Flap angle at first contact. Unit: deg.';
comment on column measurement.flap_at_contact_deg_u is 'Standard uncertainty of flap_at_contact_deg. Unit: deg.';
comment on column measurement.flap_at_contact_deg_reason is 'Why flap_at_contact_deg is null; null where it has a value.';
comment on column measurement.contact_airspeed_kt is 'Airspeed at first contact. Unit: kt.';
comment on column measurement.contact_airspeed_kt_u is 'Standard uncertainty of contact_airspeed_kt. Unit: kt.';
comment on column measurement.contact_airspeed_kt_reason is 'Why contact_airspeed_kt is null; null where it has a value.';
comment on column measurement.contact_speed_over_vref_kt is 'Airspeed at first contact minus Vref. Unit: kt.';
comment on column measurement.contact_speed_over_vref_kt_u is 'Standard uncertainty of contact_speed_over_vref_kt. Unit: kt.';
comment on column measurement.contact_speed_over_vref_kt_reason is 'Why contact_speed_over_vref_kt is null; null where it has a value.';
comment on column measurement.touchdown_distance_ft is 'First contact of the main wheels from the landing threshold, positive down the runway. Unit: ft.';
comment on column measurement.touchdown_distance_ft_u is 'Standard uncertainty of touchdown_distance_ft. Unit: ft.';
comment on column measurement.touchdown_distance_ft_reason is 'Why touchdown_distance_ft is null; null where it has a value.';
comment on column measurement.settled_distance_ft is 'The last contact after bounces from the landing threshold, positive down the runway. Unit: ft.';
comment on column measurement.settled_distance_ft_u is 'Standard uncertainty of settled_distance_ft. Unit: ft.';
comment on column measurement.settled_distance_ft_reason is 'Why settled_distance_ft is null; null where it has a value.';
comment on column measurement.distance_from_50ft_ft is 'Ground covered from 50 ft wheel height to first contact. Unit: ft.';
comment on column measurement.distance_from_50ft_ft_u is 'Standard uncertainty of distance_from_50ft_ft. Unit: ft.';
comment on column measurement.distance_from_50ft_ft_reason is 'Why distance_from_50ft_ft is null; null where it has a value.';
comment on column measurement.distance_from_aim_point_ft is 'Touchdown distance minus the runway''s aim point; positive beyond it. Unit: ft.';
comment on column measurement.distance_from_aim_point_ft_u is 'Standard uncertainty of distance_from_aim_point_ft. Unit: ft.';
comment on column measurement.distance_from_aim_point_ft_reason is 'Why distance_from_aim_point_ft is null; null where it has a value.';
comment on column measurement.touchdown_lateral_ft is 'Offset from the centreline at first contact, positive right. Unit: ft.';
comment on column measurement.touchdown_lateral_ft_u is 'Standard uncertainty of touchdown_lateral_ft. Unit: ft.';
comment on column measurement.touchdown_lateral_ft_reason is 'Why touchdown_lateral_ft is null; null where it has a value.';
comment on column measurement.runway_used_pct is 'Touchdown distance as a share of the landing distance available. Unit: %.';
comment on column measurement.runway_used_pct_u is 'Standard uncertainty of runway_used_pct. Unit: %.';
comment on column measurement.runway_used_pct_reason is 'Why runway_used_pct is null; null where it has a value.';
comment on column measurement.runway_remaining_ft is 'Landing distance available minus touchdown distance. Unit: ft.';
comment on column measurement.runway_remaining_ft_u is 'Standard uncertainty of runway_remaining_ft. Unit: ft.';
comment on column measurement.runway_remaining_ft_reason is 'Why runway_remaining_ft is null; null where it has a value.';
comment on column measurement.in_touchdown_zone is 'First contact between the near edge and the end of the touchdown zone.';
comment on column measurement.in_touchdown_zone_confidence is 'Confidence in in_touchdown_zone, 0 to 1.';
comment on column measurement.in_touchdown_zone_reason is 'Why in_touchdown_zone is null; null where it has a value.';
comment on column measurement.bounces is 'Times the main wheels were airborne again for at least 0.2 s without climbing away.';
comment on column measurement.bounces_confidence is 'Confidence in bounces, 0 to 1.';
comment on column measurement.bounces_reason is 'Why bounces is null; null where it has a value.';
comment on column measurement.nose_lag_s is 'From first contact of the main wheels to contact of the nose wheel; negative where the nose wheel touched first. Unit: s.';
comment on column measurement.nose_lag_s_u is 'Standard uncertainty of nose_lag_s. Unit: s.';
comment on column measurement.nose_lag_s_reason is 'Why nose_lag_s is null; null where it has a value.';
comment on column measurement.nose_rate_dps is 'Pitch rate in the half second before the nose wheel touched, positive nose up. Unit: deg/s.';
comment on column measurement.nose_rate_dps_u is 'Standard uncertainty of nose_rate_dps. Unit: deg/s.';
comment on column measurement.nose_rate_dps_reason is 'Why nose_rate_dps is null; null where it has a value.';
comment on column measurement.spoiler_lag_s is 'From first contact to the spoilers standing 10 % above their place in flight. Unit: s.';
comment on column measurement.spoiler_lag_s_u is 'Standard uncertainty of spoiler_lag_s. Unit: s.';
comment on column measurement.spoiler_lag_s_reason is 'Why spoiler_lag_s is null; null where it has a value.';
comment on column measurement.reverse_lag_s is 'From first contact to 10 % reverse thrust, or where only levers are recorded to levers 10 % behind the idle stop. Unit: s.';
comment on column measurement.reverse_lag_s_u is 'Standard uncertainty of reverse_lag_s. Unit: s.';
comment on column measurement.reverse_lag_s_reason is 'Why reverse_lag_s is null; null where it has a value.';
comment on column measurement.brake_lag_s is 'From first contact to 10 % braking. Unit: s.';
comment on column measurement.brake_lag_s_u is 'Standard uncertainty of brake_lag_s. Unit: s.';
comment on column measurement.brake_lag_s_reason is 'Why brake_lag_s is null; null where it has a value.';
comment on column measurement.mean_deceleration_g is 'Ground speed lost a second, in g, from first contact to 60 kt or half the speed at contact, whichever is less, or to the end of the rollout that the log shows. Unit: g.';
comment on column measurement.mean_deceleration_g_u is 'Standard uncertainty of mean_deceleration_g. Unit: g.';
comment on column measurement.mean_deceleration_g_reason is 'Why mean_deceleration_g is null; null where it has a value.';
comment on column measurement.peak_deceleration_g is 'Largest loss of ground speed over 2 s of the rollout, in g. Unit: g.';
comment on column measurement.peak_deceleration_g_u is 'Standard uncertainty of peak_deceleration_g. Unit: g.';
comment on column measurement.peak_deceleration_g_reason is 'Why peak_deceleration_g is null; null where it has a value.';
comment on column measurement.time_to_100kt_s is 'From first contact to a ground speed of 100 kt. Unit: s.';
comment on column measurement.time_to_100kt_s_u is 'Standard uncertainty of time_to_100kt_s. Unit: s.';
comment on column measurement.time_to_100kt_s_reason is 'Why time_to_100kt_s is null; null where it has a value.';
comment on column measurement.distance_to_100kt_ft is 'Ground covered from first contact to a ground speed of 100 kt. Unit: ft.';
comment on column measurement.distance_to_100kt_ft_u is 'Standard uncertainty of distance_to_100kt_ft. Unit: ft.';
comment on column measurement.distance_to_100kt_ft_reason is 'Why distance_to_100kt_ft is null; null where it has a value.';
comment on column measurement.time_to_80kt_s is 'From first contact to a ground speed of 80 kt. Unit: s.';
comment on column measurement.time_to_80kt_s_u is 'Standard uncertainty of time_to_80kt_s. Unit: s.';
comment on column measurement.time_to_80kt_s_reason is 'Why time_to_80kt_s is null; null where it has a value.';
comment on column measurement.distance_to_80kt_ft is 'Ground covered from first contact to a ground speed of 80 kt. Unit: ft.';
comment on column measurement.distance_to_80kt_ft_u is 'Standard uncertainty of distance_to_80kt_ft. Unit: ft.';
comment on column measurement.distance_to_80kt_ft_reason is 'Why distance_to_80kt_ft is null; null where it has a value.';
comment on column measurement.time_to_60kt_s is 'From first contact to a ground speed of 60 kt. Unit: s.';
comment on column measurement.time_to_60kt_s_u is 'Standard uncertainty of time_to_60kt_s. Unit: s.';
comment on column measurement.time_to_60kt_s_reason is 'Why time_to_60kt_s is null; null where it has a value.';
comment on column measurement.distance_to_60kt_ft is 'Ground covered from first contact to a ground speed of 60 kt. Unit: ft.';
comment on column measurement.distance_to_60kt_ft_u is 'Standard uncertainty of distance_to_60kt_ft. Unit: ft.';
comment on column measurement.distance_to_60kt_ft_reason is 'Why distance_to_60kt_ft is null; null where it has a value.';
comment on column measurement.rollout_lateral_max_ft is 'Offset from the centreline where it was largest between first contact and 60 kt or half the speed at contact, whichever is less, positive right. Unit: ft.';
comment on column measurement.rollout_lateral_max_ft_u is 'Standard uncertainty of rollout_lateral_max_ft. Unit: ft.';
comment on column measurement.rollout_lateral_max_ft_reason is 'Why rollout_lateral_max_ft is null; null where it has a value.';
comment on column measurement.runway_left_at_60kt_ft is 'Landing distance available minus distance from the landing threshold where ground speed falls to 60 kt. Unit: ft.';
comment on column measurement.runway_left_at_60kt_ft_u is 'Standard uncertainty of runway_left_at_60kt_ft. Unit: ft.';
comment on column measurement.runway_left_at_60kt_ft_reason is 'Why runway_left_at_60kt_ft is null; null where it has a value.';

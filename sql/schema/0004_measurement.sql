-- Grain: one row per landing_id and measured_key, that is one row each time a landing was measured differently.
-- landing_id: owned by approach. measured_key: made by the loader from the inputs and the result of measuring.
-- The current row of a landing has a null superseded_at; checks/two_current_measurements.sql finds a second one.
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
    gate_1000_glideslope_dots double check (isfinite(gate_1000_glideslope_dots)),
    gate_1000_glideslope_dots_u double check (isfinite(gate_1000_glideslope_dots_u) and gate_1000_glideslope_dots_u >= 0),
    gate_1000_glideslope_dots_reason varchar,
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
    gate_500_glideslope_dots double check (isfinite(gate_500_glideslope_dots)),
    gate_500_glideslope_dots_u double check (isfinite(gate_500_glideslope_dots_u) and gate_500_glideslope_dots_u >= 0),
    gate_500_glideslope_dots_reason varchar,
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
    approach_path_deg double check (isfinite(approach_path_deg)),
    approach_path_deg_u double check (isfinite(approach_path_deg_u) and approach_path_deg_u >= 0),
    approach_path_deg_reason varchar,
    approach_pitch_deg double check (isfinite(approach_pitch_deg)),
    approach_pitch_deg_u double check (isfinite(approach_pitch_deg_u) and approach_pitch_deg_u >= 0),
    approach_pitch_deg_reason varchar,
    approach_thrust_pct double check (isfinite(approach_thrust_pct)),
    approach_thrust_pct_u double check (isfinite(approach_thrust_pct_u) and approach_thrust_pct_u >= 0),
    approach_thrust_pct_reason varchar,
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
    threshold_height_ft double check (isfinite(threshold_height_ft)),
    threshold_height_ft_u double check (isfinite(threshold_height_ft_u) and threshold_height_ft_u >= 0),
    threshold_height_ft_reason varchar,
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
    flare_height_ft double check (isfinite(flare_height_ft)),
    flare_height_ft_u double check (isfinite(flare_height_ft_u) and flare_height_ft_u >= 0),
    flare_height_ft_reason varchar,
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
    peak_g double check (isfinite(peak_g)),
    peak_g_u double check (isfinite(peak_g_u) and peak_g_u >= 0),
    peak_g_reason varchar,
    peak_g_sampled double check (isfinite(peak_g_sampled)),
    peak_g_sampled_u double check (isfinite(peak_g_sampled_u) and peak_g_sampled_u >= 0),
    peak_g_sampled_reason varchar,
    pitch_at_contact_deg double check (isfinite(pitch_at_contact_deg)),
    pitch_at_contact_deg_u double check (isfinite(pitch_at_contact_deg_u) and pitch_at_contact_deg_u >= 0),
    pitch_at_contact_deg_reason varchar,
    roll_at_contact_deg double check (isfinite(roll_at_contact_deg)),
    roll_at_contact_deg_u double check (isfinite(roll_at_contact_deg_u) and roll_at_contact_deg_u >= 0),
    roll_at_contact_deg_reason varchar,
    contact_airspeed_kt double check (isfinite(contact_airspeed_kt)),
    contact_airspeed_kt_u double check (isfinite(contact_airspeed_kt_u) and contact_airspeed_kt_u >= 0),
    contact_airspeed_kt_reason varchar,
    contact_speed_over_vref_kt double check (isfinite(contact_speed_over_vref_kt)),
    contact_speed_over_vref_kt_u double check (isfinite(contact_speed_over_vref_kt_u) and contact_speed_over_vref_kt_u >= 0),
    contact_speed_over_vref_kt_reason varchar,
    touchdown_distance_ft double check (isfinite(touchdown_distance_ft)),
    touchdown_distance_ft_u double check (isfinite(touchdown_distance_ft_u) and touchdown_distance_ft_u >= 0),
    touchdown_distance_ft_reason varchar,
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
    primary key (landing_id, measured_key)
);

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
comment on column measurement.gate_1000_glideslope_dots is 'Deviation from the glideslope, positive above path. Unit: dots.';
comment on column measurement.gate_1000_glideslope_dots_u is 'Standard uncertainty of gate_1000_glideslope_dots. Unit: dots.';
comment on column measurement.gate_1000_glideslope_dots_reason is 'Why gate_1000_glideslope_dots is null; null where it has a value.';
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
comment on column measurement.gate_500_glideslope_dots is 'Deviation from the glideslope, positive above path. Unit: dots.';
comment on column measurement.gate_500_glideslope_dots_u is 'Standard uncertainty of gate_500_glideslope_dots. Unit: dots.';
comment on column measurement.gate_500_glideslope_dots_reason is 'Why gate_500_glideslope_dots is null; null where it has a value.';
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
comment on column measurement.approach_path_deg is 'Angle of descent between 500 and 100 ft; 3 is a three-degree descent. Unit: deg.';
comment on column measurement.approach_path_deg_u is 'Standard uncertainty of approach_path_deg. Unit: deg.';
comment on column measurement.approach_path_deg_reason is 'Why approach_path_deg is null; null where it has a value.';
comment on column measurement.approach_pitch_deg is 'Mean pitch between 500 and 100 ft. Unit: deg.';
comment on column measurement.approach_pitch_deg_u is 'Standard uncertainty of approach_pitch_deg. Unit: deg.';
comment on column measurement.approach_pitch_deg_reason is 'Why approach_pitch_deg is null; null where it has a value.';
comment on column measurement.approach_thrust_pct is 'Mean thrust lever between 500 and 100 ft. Unit: %.';
comment on column measurement.approach_thrust_pct_u is 'Standard uncertainty of approach_thrust_pct. Unit: %.';
comment on column measurement.approach_thrust_pct_reason is 'Why approach_thrust_pct is null; null where it has a value.';
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
comment on column measurement.threshold_height_ft is 'Height of the main wheels above the runway at the landing threshold. Unit: ft.';
comment on column measurement.threshold_height_ft_u is 'Standard uncertainty of threshold_height_ft. Unit: ft.';
comment on column measurement.threshold_height_ft_reason is 'Why threshold_height_ft is null; null where it has a value.';
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
comment on column measurement.flare_height_ft is 'Height of the main wheels when pitch stands 0.3 deg above the line it followed before the nose-up rotation. Unit: ft.';
comment on column measurement.flare_height_ft_u is 'Standard uncertainty of flare_height_ft. Unit: ft.';
comment on column measurement.flare_height_ft_reason is 'Why flare_height_ft is null; null where it has a value.';
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
comment on column measurement.peak_g is 'Largest within 1 s of first contact as a 5 Hz low-pass of the true signal would show it. Unit: g.';
comment on column measurement.peak_g_u is 'Standard uncertainty of peak_g. Unit: g.';
comment on column measurement.peak_g_reason is 'Why peak_g is null; null where it has a value.';
comment on column measurement.peak_g_sampled is 'Largest sample within 1 s of first contact. Unit: g.';
comment on column measurement.peak_g_sampled_u is 'Standard uncertainty of peak_g_sampled. Unit: g.';
comment on column measurement.peak_g_sampled_reason is 'Why peak_g_sampled is null; null where it has a value.';
comment on column measurement.pitch_at_contact_deg is 'Pitch at first contact, positive nose up. Unit: deg.';
comment on column measurement.pitch_at_contact_deg_u is 'Standard uncertainty of pitch_at_contact_deg. Unit: deg.';
comment on column measurement.pitch_at_contact_deg_reason is 'Why pitch_at_contact_deg is null; null where it has a value.';
comment on column measurement.roll_at_contact_deg is 'Roll at first contact, positive right wing down. Unit: deg.';
comment on column measurement.roll_at_contact_deg_u is 'Standard uncertainty of roll_at_contact_deg. Unit: deg.';
comment on column measurement.roll_at_contact_deg_reason is 'Why roll_at_contact_deg is null; null where it has a value.';
comment on column measurement.contact_airspeed_kt is 'Airspeed at first contact. Unit: kt.';
comment on column measurement.contact_airspeed_kt_u is 'Standard uncertainty of contact_airspeed_kt. Unit: kt.';
comment on column measurement.contact_airspeed_kt_reason is 'Why contact_airspeed_kt is null; null where it has a value.';
comment on column measurement.contact_speed_over_vref_kt is 'Airspeed at first contact minus Vref. Unit: kt.';
comment on column measurement.contact_speed_over_vref_kt_u is 'Standard uncertainty of contact_speed_over_vref_kt. Unit: kt.';
comment on column measurement.contact_speed_over_vref_kt_reason is 'Why contact_speed_over_vref_kt is null; null where it has a value.';
comment on column measurement.touchdown_distance_ft is 'First contact of the main wheels from the landing threshold, positive down the runway. Unit: ft.';
comment on column measurement.touchdown_distance_ft_u is 'Standard uncertainty of touchdown_distance_ft. Unit: ft.';
comment on column measurement.touchdown_distance_ft_reason is 'Why touchdown_distance_ft is null; null where it has a value.';
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

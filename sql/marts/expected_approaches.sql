-- Grain: one row per approach, by its current measurement: what it differed from the expected by.
-- landing_id: owned by approach.
with expected as (
    from staged_approach_expected
),

measurement as (
    from staged_measurement
),

approach as (
    from staged_approach
),

log as (
    from staged_log
)

select
    expected.landing_id,
    log.log_file,
    approach.approach_index,
    approach.pilot,
    approach.aircraft_type,
    approach.contact_at,
    approach.landing_flap,
    approach.weight_kg,
    expected.approach_pitch_over_expected_deg,
    expected.approach_pitch_over_expected_deg_u,
    expected.approach_pitch_over_expected_deg_reason,
    expected.approach_thrust_over_expected_pct,
    expected.approach_thrust_over_expected_pct_u,
    expected.approach_thrust_over_expected_pct_reason,
    expected.approach_engine_speed_over_expected_pct,
    expected.approach_engine_speed_over_expected_pct_u,
    expected.approach_engine_speed_over_expected_pct_reason,
    measurement.policy_sha256
from expected
inner join measurement using (landing_id, measured_key)
inner join approach using (landing_id)
inner join log using (log_sha256)

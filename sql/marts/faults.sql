-- Grain: one row per approach and fault that is judged for it, by its current measurement.
-- landing_id: owned by approach.
with fault as (
    from staged_fault
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
    fault.landing_id,
    log.log_file,
    approach.approach_index,
    approach.landing_index,
    approach.pilot,
    approach.aircraft,
    approach.aircraft_type,
    approach.recorder_rate_hz,
    approach.contact_at,
    approach.device,
    approach.exercise,
    approach.why_logged,
    fault.fault,
    fault.verdict,
    fault.probability,
    fault.value,
    fault.value_u,
    fault.limit_value,
    fault.given,
    fault.reason,
    measurement.policy_sha256
from fault
inner join measurement using (landing_id, measured_key)
inner join approach using (landing_id)
inner join log using (log_sha256)

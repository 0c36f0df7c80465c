-- Grain: one row per approach and gate of the policy that applies to it, by its current measurement.
-- landing_id: owned by approach. Whether the approach was gone around or landed from stands beside the verdict.
with gate as (
    from staged_gate
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
    gate.landing_id,
    log.log_file,
    approach.approach_index,
    approach.pilot,
    approach.aircraft_type,
    approach.recorder_rate_hz,
    approach.contact_at,
    approach.device,
    approach.exercise,
    approach.why_logged,
    approach.outcome,
    gate.gate,
    gate.height_ft,
    gate.reference,
    gate.conditions,
    gate.stable,
    gate.confidence,
    gate.reason,
    gate.failed,
    gate.not_judged,
    gate.judged,
    gate.tightest,
    gate.tightest_in_u,
    gate.first_break,
    gate.first_break_height_ft,
    gate.first_break_duration_s,
    gate.held_to_50ft,
    measurement.policy_sha256
from gate
inner join measurement using (landing_id, measured_key)
inner join approach using (landing_id)
inner join log using (log_sha256)

-- Grain: one row per approach measured now, with or without contact.
-- landing_id: owned by approach; identity first, then the measures in their own order, then context.
-- unattributed: why the landing is in nobody's figures; null where it counts for its pilot.
with approach as (
    from staged_approach
),

measurement as (
    from staged_measurement
),

log as (
    from staged_log
)

select
    approach.landing_id,
    log.log_file,
    approach.log_sha256,
    approach.landing_index,
    approach.outcome,
    approach.contact_t_s,
    approach.flown_at,
    approach.pilot,
    approach.aircraft,
    approach.aircraft_type,
    approach.runway,
    approach.device,
    approach.exercise,
    approach.landing_mode,
    measurement.definition,
    measurement.policy_sha256,
    measurement.* exclude (
        landing_id, measured_key, definition, constants, policy_sha256, map_sha256, runways_sha256
    ),
    approach.approach_index,
    approach.contact_u_s,
    approach.contact_evidence,
    approach.contact_at,
    approach.pilot_monitoring,
    approach.seat,
    approach.role,
    approach.takeover,
    approach.why_logged,
    approach.recorder,
    approach.recorder_rate_hz,
    approach.vref_kt,
    approach.target_speed_kt,
    approach.landing_flap,
    approach.weight_kg,
    approach.conditions,
    approach.intent,
    approach.runway_condition,
    approach.lowest_height_ft,
    approach.runway_found,
    approach.wind_source,
    approach.report_found,
    approach.report_age_min,
    approach.suspect,
    approach.artefact,
    disputed.landing_id is not null as disputed,
    case
        when disputed.landing_id is not null then 'disputed'
        when approach.pilot is null then 'pilot not known'
        when approach.takeover in ('approach', 'flare') then 'taken over'
        when approach.takeover = 'unknown' then 'takeover not known'
    end as unattributed,
    measurement.constants,
    measurement.map_sha256,
    measurement.runways_sha256
from approach
inner join measurement using (landing_id)
inner join log using (log_sha256)
left join disputed using (landing_id)

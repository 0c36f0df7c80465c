-- Grain: one row per main-wheel contact of a landing, by its current measurement.
-- landing_id: owned by approach; contact_index from 0. firmest: the greatest downward speed of the landing.
with contact as (
    from staged_contact
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
    contact.landing_id,
    contact.contact_index,
    log.log_file,
    approach.landing_index,
    approach.pilot,
    approach.aircraft,
    approach.aircraft_type,
    contact.contact_t_s as t_s,
    contact.airtime_before_s,
    contact.height_before_ft,
    contact.vertical_speed_fpm,
    contact.vertical_speed_fpm_u,
    contact.peak_g,
    contact.peak_g_u,
    contact.vertical_speed_fpm
    = min(contact.vertical_speed_fpm) over (partition by contact.landing_id) as firmest
from contact
inner join measurement using (landing_id, measured_key)
inner join approach using (landing_id)
inner join log using (log_sha256)

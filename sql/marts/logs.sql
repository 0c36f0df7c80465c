-- Grain: one row per accepted log. log_sha256: owned by log.
-- approaches and landings: those measured now. suspect: channels not to be believed; suspect_why: each with its reason.
with log as (
    from staged_log
),

approach as (
    select
        log_sha256,
        count(*) as approaches,
        count(landing_index) as landings
    from approaches
    group by log_sha256
),

suspect as (
    select
        log_sha256,
        string_agg(channel, ' ' order by channel) as suspect,
        string_agg(channel || ' ' || suspect, '; ' order by channel) as suspect_why
    from staged_log_channel
    where suspect is not null
    group by log_sha256
)

select
    log.log_sha256,
    log.log_file,
    log.original_name,
    log.map_name,
    log.map_sha256,
    log.log_rows,
    log.duration_s,
    log.started_at,
    log.channels,
    log.notes,
    suspect.suspect,
    suspect.suspect_why,
    coalesce(approach.approaches, 0) as approaches,
    coalesce(approach.landings, 0) as landings,
    log.ingested_at
from log
left join approach using (log_sha256)
left join suspect using (log_sha256)

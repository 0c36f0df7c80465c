-- Grain: one row per accepted log. log_sha256: owned by log.
-- approaches and landings: those measured now.
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
    coalesce(approach.approaches, 0) as approaches,
    coalesce(approach.landings, 0) as landings,
    log.ingested_at
from log
left join approach using (log_sha256)

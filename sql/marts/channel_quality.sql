-- Grain: one row per accepted log and channel. log_sha256: owned by log.
with channel as (
    from staged_log_channel
),

log as (
    from staged_log
)

select
    log.log_file,
    channel.*
from channel
inner join log using (log_sha256)

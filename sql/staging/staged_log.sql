-- Grain: one row per accepted log. log_sha256: owned by log.
select
    log_sha256,
    log_file,
    original_name,
    map_sha256,
    map_name,
    rows as log_rows,
    duration_s,
    started_at,
    channels,
    notes,
    landings as log_landings,
    ingested_at
from log

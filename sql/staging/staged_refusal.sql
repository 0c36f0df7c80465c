-- Grain: one row per refused log and name. log_sha256: hash of the bytes as they came.
select
    log_file,
    reason,
    refused_at,
    log_sha256
from refusal

-- Grain: one row per refused log and name. log_sha256: hash of the bytes as they came.
from staged_refusal

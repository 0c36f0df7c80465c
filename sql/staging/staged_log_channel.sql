-- Grain: one row per log and channel. log_sha256: owned by log.
from log_channel

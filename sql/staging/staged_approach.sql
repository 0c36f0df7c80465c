-- Grain: one row per approach ever found. landing_id: owned by approach.
select * exclude (context_key)
from approach

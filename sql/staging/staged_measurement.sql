-- Grain: one row per landing_id that is measured now: the current measurement only.
-- landing_id: owned by approach. measured_key: owned by measurement.
select * exclude (superseded_at)
from measurement
where superseded_at is null

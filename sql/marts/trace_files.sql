-- Grain: one row per landing measured now whose aligned trace is kept. landing_id: owned by approach.
select trace_file.landing_id, trace_file.trace_file
from trace_file
inner join staged_measurement using (landing_id)

-- Offends: a trace of an approach that is not held.
select trace_file.landing_id, trace_file.trace_file
from trace_file
anti join approach using (landing_id)

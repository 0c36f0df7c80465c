-- Offends: a gate of a measurement that is not held.
select gate.landing_id, gate.measured_key, gate.gate
from gate
anti join measurement using (landing_id, measured_key)

-- Offends: a measurement of an approach that is not held.
select measurement.landing_id, measurement.measured_key
from measurement
anti join approach using (landing_id)

-- Offends: a fault of a measurement that is not held.
select fault.landing_id, fault.measured_key, fault.fault
from fault
anti join measurement using (landing_id, measured_key)

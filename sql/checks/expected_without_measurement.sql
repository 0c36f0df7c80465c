-- Offends: what an approach differed from the expected by, of a measurement that is not held.
select expected.landing_id, expected.measured_key
from approach_expected as expected
anti join measurement using (landing_id, measured_key)

-- Offends: an approach that was never measured.
select approach.landing_id, approach.log_sha256
from approach
anti join measurement using (landing_id)

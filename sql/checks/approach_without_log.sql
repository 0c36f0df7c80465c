-- Offends: an approach whose log is not held.
select approach.landing_id, approach.log_sha256
from approach
anti join log using (log_sha256)

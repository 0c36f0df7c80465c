-- Offends: a contact of a measurement that is not held.
select contact.landing_id, contact.measured_key, contact.contact_index
from contact
anti join measurement using (landing_id, measured_key)

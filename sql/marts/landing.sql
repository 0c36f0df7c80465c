-- Grain: one row per landing: an approach measured now that came to main-wheel contact.
-- landing_id: owned by approach. Columns as in approaches. Where nothing times the contact, contact_t_s is null.
from approaches
where landing_index is not null

-- Offends: a go-around with a contact, or a landing of another outcome than unfinished without one.
select landing_id, outcome, contact_t_s, landing_index
from staged_approach
where
    (outcome = 'go_around' and (contact_t_s is not null or landing_index is not null))
    or (outcome in ('full_stop', 'touch_and_go', 'rejected') and landing_index is null)

-- Offends: a landing whose UTC instant of contact is not the log's first instant plus the time into the log.
select
    landing_id,
    flown_at,
    contact_t_s,
    contact_at
from landing
where abs(epoch_us(contact_at) - epoch_us(flown_at) - contact_t_s * 1e6) > 1e3

-- Offends: a landing whose contacts are not numbered 0, 1, 2 and so on.
select
    landing_id,
    count(*) as contacts,
    max(contact_index) as last_number
from contacts
group by landing_id
having max(contact_index) <> count(*) - 1

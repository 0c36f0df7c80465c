-- Offends: an approach that has contacts but no instant of contact, or a first contact at another instant.
select
    approaches.landing_id,
    approaches.contact_t_s,
    contacts.t_s as first_contact_t_s
from approaches
inner join contacts using (landing_id)
where
    contacts.contact_index = 0
    and (approaches.contact_t_s is null or abs(approaches.contact_t_s - contacts.t_s) > 1e-3)

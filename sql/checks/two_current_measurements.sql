-- Offends: a landing with more than one measurement that nothing superseded.
select landing_id, count(*) as current_measurements
from measurement
where superseded_at is null
group by landing_id
having count(*) > 1

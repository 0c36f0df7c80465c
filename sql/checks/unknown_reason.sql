-- Offends: a reason that is not one of those a page can put into words.
with reason_of as (
    select landing_id, columns('.*_reason$') from staged_measurement
),

given as (
    unpivot reason_of on columns('.*_reason$') into name reason_column value reason
)

select landing_id, reason_column, reason
from given
where reason not in (
    'no_channel', 'no_reference', 'not_reported', 'untimed', 'too_slow', 'gap', 'not_reached', 'implausible',
    'out_of_range', 'automation', 'earlier_definition'
)

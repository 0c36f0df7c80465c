-- Grain: one row per measure and reason that leaves it null; landings with contact only.
-- measure: name in the table of measures. share: of all such landings.
with reason_of as (
    select landing_id, columns('.*_reason$') from landing
),

null_measure as (
    unpivot reason_of
    on columns('.*_reason$')
    into name reason_column value reason
),

total as (
    select count(*) as landings from landing
)

select
    regexp_replace(null_measure.reason_column, '_reason$', '') as measure,
    null_measure.reason,
    count(*) as null_landings,
    any_value(total.landings) as landings,
    count(*) / any_value(total.landings) as share
from null_measure
cross join total
group by all

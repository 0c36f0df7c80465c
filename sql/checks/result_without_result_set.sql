-- Offends: rows of statistics for a date that has no result set.
with dated as (
    select 'pilot_outcome' as held_in, as_of from pilot_outcome
    union
    select 'drift_point' as held_in, as_of from drift_point
    union
    select 'drift_flag' as held_in, as_of from drift_flag
    union
    select 'style' as held_in, as_of from style
    union
    select 'landing_style' as held_in, as_of from landing_style
)

select dated.*
from dated
anti join result_set using (as_of)

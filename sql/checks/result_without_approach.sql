-- Offends: a statistic about a landing that is not held.
with named as (
    select 'drift_point' as held_in, as_of, landing_id from drift_point
    union all
    select 'drift_flag' as held_in, as_of, flagged_landing_id as landing_id from drift_flag
    union all
    select 'landing_style' as held_in, as_of, landing_id from landing_style
)

select named.*
from named
anti join approach using (landing_id)

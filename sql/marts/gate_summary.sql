-- Grain: one row per gate height and aircraft type.
-- Routine approaches in an aircraft without an exercise. A rejected landing counts as landed: the gate was behind it.
-- Shares are null where nothing was judged; going around from an approach that missed its gate is the good outcome.
with approach as (
    from approaches
    where device = 'aircraft' and exercise = 'normal' and why_logged = 'routine'
),

judged as (
    select aircraft_type, outcome, 1000 as gate_ft, gate_1000_stable as stable from approach
    union all
    select aircraft_type, outcome, 500 as gate_ft, gate_500_stable as stable from approach
),

counted as (
    select
        gate_ft,
        aircraft_type,
        count(*) as approaches,
        count(stable) as judged,
        count(*) filter (where stable) as met,
        count(*) filter (where not stable) as not_met,
        count(*) filter (where not stable and outcome = 'go_around') as not_met_gone_around,
        count(*) filter (where stable and outcome = 'go_around') as met_gone_around
    from judged
    group by all
)

select
    *,
    case when judged > 0 then met / judged end as met_share,
    case when not_met > 0 then not_met_gone_around / not_met end as not_met_gone_around_share
from counted

-- Grain: one row per gate and aircraft type.
-- Routine approaches in an aircraft without an exercise. A rejected landing counts as landed: the gate was behind it.
-- Shares are null where nothing was judged; an approach whose log ends before it did is in no share of what became of
-- it; going around from an approach that missed its gate is the good outcome.
with judged as (
    from gate_verdicts
    where device = 'aircraft' and exercise = 'normal' and why_logged = 'routine'
),

counted as (
    select
        gate,
        height_ft,
        aircraft_type,
        count(*) as approaches,
        count(stable) as judged,
        count(*) filter (where stable) as met,
        count(*) filter (where not stable) as not_met,
        count(*) filter (where held_to_50ft) as held_to_50ft,
        count(*) filter (where not stable and outcome = 'go_around') as not_met_gone_around,
        count(*) filter (where not stable and outcome = 'unfinished') as not_met_unfinished,
        count(*) filter (where stable and outcome = 'go_around') as met_gone_around
    from judged
    group by all
)

select
    *,
    case when judged > 0 then met / judged end as met_share,
    case
        when not_met > not_met_unfinished then not_met_gone_around / (not_met - not_met_unfinished)
    end as not_met_gone_around_share
from counted

-- Grain: one row per installation and constant: the version learned last, with which its landings are measured.
from constant
qualify version = last_value(version) over (
    partition by recorder, aircraft_type
    order by learned_at, version
    rows between unbounded preceding and unbounded following
)

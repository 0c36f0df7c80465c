-- Grain: one row per landing that may enter a pilot's baseline.
-- landing_id: owned by approach. Manual, attributed to its pilot, in an aircraft, without an exercise, logged as a
-- matter of routine. Simulator, exercise and automatic landings are never pooled with these.
from landing
where
    device = 'aircraft'
    and exercise = 'normal'
    and landing_mode <> 'automatic'
    and why_logged = 'routine'
    and unattributed is null

-- Grain: one row per landing that may enter a pilot's baseline.
-- landing_id: owned by approach. Manual, of a known pilot without takeover, in an aircraft, without an exercise,
-- logged as a matter of routine. Simulator, exercise and automatic landings are never pooled with these.
from landing
where
    device = 'aircraft'
    and exercise = 'normal'
    and landing_mode <> 'automatic'
    and why_logged = 'routine'
    and pilot is not null
    and takeover = 'none'

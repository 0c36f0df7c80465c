-- Grain: one row per note, with the landing it is on.
with note as (
    from staged_note
),

approach as (
    from staged_approach
),

log as (
    from staged_log
)

select
    note.landing_id,
    log.log_file,
    approach.approach_index,
    approach.pilot,
    note.noted_at,
    note.kind,
    note.note,
    note.note_id
from note
inner join approach using (landing_id)
inner join log using (log_sha256)

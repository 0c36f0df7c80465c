-- Grain: one row per approach whose flying pilot is disputed now: the last dispute was not settled since.
select
    landing_id,
    max(noted_at) as disputed_at
from staged_note
where kind in ('dispute', 'settled')
group by landing_id
having max(noted_at) filter (where kind = 'dispute')
    > coalesce(max(noted_at) filter (where kind = 'settled'), '-infinity'::timestamptz)

-- Grain: one row, always: what the warehouse holds.
with approach as (
    select
        count(*) as approaches,
        count(landing_index) as landings,
        count(*) filter (where outcome = 'go_around') as go_arounds,
        count(distinct pilot) as pilots,
        count(*) filter (where landing_index is not null and pilot is null) as landings_without_pilot,
        count(*) filter (where landing_index is not null and contact_at is null) as landings_without_instant,
        min(contact_at) as first_contact_at,
        max(contact_at) as last_contact_at,
        count(distinct policy_sha256) as policies,
        count(distinct definition) as definitions
    from approaches
)

select
    (select count(*) from log) as logs,
    (select count(*) from log where landings = 0) as logs_without_landing,
    (select count(distinct log_sha256) from staged_log_channel where suspect is not null) as logs_suspect,
    (select count(*) from refusal) as refused,
    approach.*,
    (select count(*) from measurement where superseded_at is not null) as superseded,
    (select max(as_of) from result_set) as statistics_as_of,
    (select max_by(week, as_of) from edition) as last_edition,
    (select max(version) from schema_version) as schema_version
from approach
